import type { RunCurve, RunPoint } from '../../shared/run-curve.ts';
import type { PlotAxis, PlotLine, PlotMark, PlotSpec } from '../charts/plot-spec.ts';
import type { SeriesColour } from '../theme.ts';

const z95 = 1.96;

const shapes: Readonly<Record<RunPoint['kind'], PlotMark['shape']>> = {
  'roll-start': 'square',
  liftoff: 'triangle',
  screen: 'diamond',
  touchdown: 'triangle',
  stop: 'square',
};

function pointMark(point: RunPoint, y: number): PlotMark {
  return {
    id: `${point.kind}-${point.label}`,
    label: `${point.label}${point.origin === 'pilot' ? ' (pilot)' : ''}`,
    x: point.distanceM,
    y,
    ...(point.distance === undefined ? {} : { xLow: point.distance.low, xHigh: point.distance.high }),
    byPilot: point.origin === 'pilot',
    shape: shapes[point.kind],
  };
}

export interface CurveStyle {
  readonly id: string;
  readonly label: string;
  readonly colour: SeriesColour;
  readonly dash: readonly number[];
  readonly width: number;
}

const distanceAxis = (title: string): PlotAxis => ({ title, kind: { quantity: 'length' } });
export const heightAxis: PlotAxis = { title: 'Height above lift-off', kind: { quantity: 'altitude' }, leastSpan: 20 };
export const speedAxis: PlotAxis = { title: 'Ground speed', kind: { quantity: 'speed' }, include: 0, leastSpan: 10 };

/** A curve as a line over its distance (or any other column); heights with their band. */
export function curveLine(
  curve: RunCurve,
  values: 'height' | 'speed',
  style: CurveStyle,
  xs: ArrayLike<number> = curve.distanceM,
): PlotLine {
  const { gapsBefore, heightSigmaM } = curve;
  const ys = values === 'height' ? curve.heightM : curve.groundSpeedMps;
  const half = values === 'height' && heightSigmaM !== undefined ? z95 * heightSigmaM : undefined;
  return {
    ...style,
    xs,
    ys,
    gapsBefore,
    ...(half === undefined ? {} : { low: ys.map((y) => y - half), high: ys.map((y) => y + half) }),
  };
}

/** Height and speed of one take-off or landing against the distance from the start of its roll. */
export function closeUpPlots(curve: RunCurve): { readonly height: PlotSpec; readonly speed: PlotSpec } {
  const takeoff = curve.kind === 'take-off';
  const x = distanceAxis(takeoff ? 'Distance from the start of the roll' : 'Distance from touchdown');
  const style = (id: string, label: string, colour: SeriesColour): CurveStyle => ({
    id,
    label,
    colour,
    dash: [],
    width: 1.75,
  });
  return {
    height: {
      id: 'run-height',
      title: takeoff ? 'Height above the point of lift-off' : 'Height above touchdown',
      x,
      y: takeoff ? heightAxis : { ...heightAxis, title: 'Height above touchdown' },
      lines: [curveLine(curve, 'height', style('height', 'Height', 'blue'))],
      marks: curve.points
        .filter((point) => Number.isFinite(point.heightM))
        .map((point) => pointMark(point, point.heightM)),
    },
    speed: {
      id: 'run-speed',
      title: 'Ground speed',
      x,
      y: speedAxis,
      lines: [curveLine(curve, 'speed', style('speed', 'Ground speed', 'green'))],
      marks: curve.points
        .filter((point) => point.kind !== 'screen' && Number.isFinite(point.groundSpeedMps))
        .map((point) => pointMark(point, point.groundSpeedMps)),
    },
  };
}

/** The part of a curve worth showing: a little before the roll to a little beyond the last point. */
export function closeUpRange(curve: RunCurve): readonly [number, number] {
  const last = Math.max(
    ...curve.points.map((point) => point.distance?.high ?? point.distanceM).filter(Number.isFinite),
    30,
  );
  const first = curve.kind === 'take-off' ? 0 : curve.distanceM[0];
  const end = curve.distanceM[curve.distanceM.length - 1];
  const width = (curve.kind === 'take-off' ? Math.min(last * 1.2, Math.max(end, last)) : last * 1.1) - first;
  return [first - width * 0.03, first + width];
}
