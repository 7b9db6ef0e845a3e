import type { OverlayRun } from '../../shared/protocol.ts';
import { type CurveStyle, curveLine, heightAxis, speedAxis } from '../close-up/close-up-plots.ts';
import type { PlotMark, PlotSpec } from '../charts/plot-spec.ts';
import type { SeriesColour } from '../theme.ts';

export type Align = 'roll-start' | 'liftoff';

const colours: readonly SeriesColour[] = ['blue', 'orange', 'green', 'purple', 'red', 'yellow'];
const dashes: readonly (readonly number[])[] = [[], [8, 4], [2, 3], [10, 3, 2, 3]];
const shapes: readonly NonNullable<PlotMark['shape']>[] = ['circle', 'square', 'triangle', 'diamond'];

/**
 * Look of a run. Runs of one configuration share a dash and a marker and differ in colour; without configurations each
 * run differs in both, so that none is told by colour alone.
 */
export function runStyle(
  run: OverlayRun,
  index: number,
  configurations: readonly string[],
): CurveStyle & { readonly shape: NonNullable<PlotMark['shape']> } {
  const group = run.configuration === undefined ? index : configurations.indexOf(run.configuration);
  return {
    id: `${run.file}#${run.number}`,
    label: run.configuration === undefined ? run.label : `${run.configuration}: ${run.label}`,
    colour: colours[index % colours.length],
    dash: dashes[group % dashes.length],
    shape: shapes[group % shapes.length],
    width: 1.75,
  };
}

function offsetOf(run: OverlayRun, align: Align): number {
  return align === 'liftoff' ? (run.curve.points.find(({ kind }) => kind === 'liftoff')?.distanceM ?? 0) : 0;
}

/** Height and speed of several take-offs against distance, laid over each other. */
export function overlayPlots(
  runs: readonly OverlayRun[],
  shown: (run: OverlayRun) => boolean,
  align: Align,
): PlotSpec[] {
  const configurations = [...new Set(runs.flatMap((run) => run.configuration ?? []))];
  const x = {
    title: align === 'liftoff' ? 'Distance from lift-off' : 'Distance from the start of the roll',
    kind: { quantity: 'length' as const },
  };
  const made = runs.flatMap((run, index) => {
    if (!shown(run)) return [];
    const style = runStyle(run, index, configurations);
    const shift = offsetOf(run, align);
    const xs = shift === 0 ? run.curve.distanceM : run.curve.distanceM.map((d) => d - shift);
    const mark = (point: OverlayRun['curve']['points'][number], y: number): PlotMark => ({
      id: `${style.id}-${point.label}`,
      label: `${style.label}: ${point.label}`,
      tag: '',
      x: point.distanceM - shift,
      y,
      ...(point.distance === undefined ? {} : { xLow: point.distance.low - shift, xHigh: point.distance.high - shift }),
      byPilot: point.origin === 'pilot',
      shape: style.shape,
      colour: style.colour,
    });
    const points = run.curve.points.filter(({ kind }) => kind !== 'roll-start');
    return [
      {
        height: { ...curveLine(run.curve, 'height', style, xs), low: undefined, high: undefined },
        speed: curveLine(run.curve, 'speed', style, xs),
        heightMarks: points
          .filter(({ heightM }) => Number.isFinite(heightM))
          .map((point) => mark(point, point.heightM)),
        speedMarks: points
          .filter(({ kind, groundSpeedMps }) => kind === 'liftoff' && Number.isFinite(groundSpeedMps))
          .map((point) => mark(point, point.groundSpeedMps)),
      },
    ];
  });
  return [
    {
      id: 'overlay-height',
      title: 'Height above the point of lift-off',
      x,
      y: heightAxis,
      lines: made.map(({ height }) => height),
      marks: made.flatMap(({ heightMarks }) => heightMarks),
    },
    {
      id: 'overlay-speed',
      title: 'Ground speed',
      x,
      y: speedAxis,
      lines: made.map(({ speed }) => speed),
      marks: made.flatMap(({ speedMarks }) => speedMarks),
    },
  ];
}

/** From a little before the first start of roll to a little beyond the last point. */
export function overlayRange(runs: readonly OverlayRun[], align: Align): readonly [number, number] {
  let low = 0;
  let high = 50;
  for (const run of runs) {
    const shift = offsetOf(run, align);
    low = Math.min(low, -shift);
    for (const point of run.curve.points) {
      const end = point.distance?.high ?? point.distanceM;
      if (Number.isFinite(end)) high = Math.max(high, end - shift);
    }
  }
  const margin = (high - low) * 0.04;
  return [low - margin, high + margin];
}
