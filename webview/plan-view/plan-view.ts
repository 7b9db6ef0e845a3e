import { formatDirection } from '../../shared/format.ts';
import { lastRowAtOrBefore, nearestRow } from '../../shared/track-columns.ts';
import { element, fill, svgElement } from '../element.ts';
import { phaseStyles } from '../phase-style.ts';
import { oncePerFrame } from '../store.ts';
import type { Theme } from '../theme.ts';
import type { FlightModel } from '../viewer/flight-model.ts';
import type { TimeView } from '../viewer/time-view.ts';
import { type Frame, frameOf, scaleBar, thinPath } from './frame.ts';

/** The drawing's own units; it scales with the page. */
const size = { width: 480, height: 400 };

export interface TypedDirections {
  readonly windFromRad?: number;
  readonly windText?: string;
  readonly runwayHeadingRad?: number;
}

/** Half length of the line that stands for the runway, metres: enough to see its direction, no claim about its length. */
const runwayHalfM = 400;

export interface PlanView {
  readonly root: HTMLElement;
  setTheme(theme: Theme): void;
  /** Wind and runway as typed, to be drawn; what is undefined is cleared. */
  setConditions(typed: TypedDirections): void;
}

/** The ground track from above, north up, with scale; the span in view is drawn by phase, the rest faintly. */
export function planView(model: FlightModel, view: TimeView, themeNow: Theme, signal: AbortSignal): PlanView {
  let theme = themeNow;
  let typed: TypedDirections = {};
  const drawing = svgElement('svg', {
    attributes: {
      viewBox: `0 0 ${size.width} ${size.height}`,
      role: 'img',
      'aria-label': 'Ground track from above, north up',
      preserveAspectRatio: 'xMidYMid meet',
    },
  });
  const track = svgElement('g', { attributes: { fill: 'none' } });
  const furniture = svgElement('g');
  const cursor = svgElement('g');
  drawing.append(track, furniture, cursor);
  const legend = element('ul', { class: 'plan-legend', attributes: { 'aria-label': 'Phases in view' } });
  const { columns, flight } = model;
  let frame: Frame = frameOf(columns, 0, columns.timeS.length - 1, size);

  const line = (from: number, to: number): string => thinPath(columns, from, to, frame);
  const drawTrack = (): void => {
    const [fromS, toS] = view.range.value;
    const from = Math.max(0, nearestRow(columns.timeS, fromS));
    const to = Math.max(from, nearestRow(columns.timeS, toS));
    frame = frameOf(columns, from, to, size);
    const faint = {
      d: line(0, columns.timeS.length - 1),
      stroke: theme.faint,
      'stroke-opacity': '0.45',
      'stroke-width': '1',
    };
    const parts: SVGElement[] = [svgElement('path', { attributes: faint })];
    const kinds = new Set<(typeof flight.phases)[number]['kind']>();
    const phases = flight.phases.filter(
      (phase) => phase.endS - columns.startS > fromS && phase.startS - columns.startS < toS,
    );
    for (const phase of phases) {
      kinds.add(phase.kind);
      const style = phaseStyles[phase.kind];
      const first = Math.max(from, nearestRow(columns.timeS, phase.startS - columns.startS));
      const last = Math.min(to, nearestRow(columns.timeS, phase.endS - columns.startS));
      parts.push(
        svgElement('path', {
          attributes: {
            d: line(first, last),
            stroke: theme.series[style.colour],
            'stroke-width': String(style.width),
            'stroke-dasharray': style.dash.length > 0 ? style.dash.join(' ') : undefined,
            'stroke-linejoin': 'round',
          },
        }),
      );
    }
    if (phases.length === 0) {
      parts.push(
        svgElement('path', { attributes: { d: line(from, to), stroke: theme.series.blue, 'stroke-width': '1.5' } }),
      );
    }
    const named: { readonly x: number; readonly y: number }[] = [];
    for (const event of flight.events) {
      if (event.kind !== 'liftoff' && event.kind !== 'touchdown') continue;
      const row = nearestRow(columns.timeS, event.timeS - columns.startS);
      if (row < from || row > to || !Number.isFinite(columns.eastM[row])) continue;
      const [x, y] = [frame.x(columns.eastM[row]), frame.y(columns.northM[row])];
      const crowded = named.some((one) => Math.abs(one.y - y) < 12 && Math.abs(one.x - x) < 70);
      if (!crowded) named.push({ x, y });
      parts.push(eventMark(x, y, event.kind === 'liftoff', crowded ? '' : event.label));
    }
    fill(track, ...parts);
    fill(
      legend,
      ...[...kinds].map((kind) => {
        const style = phaseStyles[kind];
        const sample = svgElement('path', {
          attributes: {
            d: 'M0 4H26',
            stroke: theme.series[style.colour],
            'stroke-width': String(style.width),
            'stroke-dasharray': style.dash.length > 0 ? style.dash.join(' ') : undefined,
          },
        });
        const picture = svgElement(
          'svg',
          { class: 'swatch', attributes: { viewBox: '0 0 26 8', 'aria-hidden': 'true' } },
          sample,
        );
        return element('li', {}, picture, style.name);
      }),
    );
    drawFurniture();
    drawCursor();
  };

  const eventMark = (x: number, y: number, up: boolean, label: string): SVGElement =>
    svgElement(
      'g',
      { attributes: { transform: `translate(${x.toFixed(1)} ${y.toFixed(1)})` } },
      svgElement('path', {
        attributes: {
          d: up ? 'M0-6L5 4H-5Z' : 'M0 6L5-4H-5Z',
          fill: theme.background,
          stroke: theme.foreground,
          'stroke-width': '1.5',
        },
      }),
      svgElement('text', { text: label, attributes: { x: '9', y: '4', fill: theme.foreground, 'font-size': '11' } }),
    );

  const drawFurniture = (): void => {
    const bar = scaleBar(frame.pixelsPerM, model.units, size.width * 0.3);
    const right = size.width - 20;
    const foot = size.height - 14;
    const ink = { stroke: theme.foreground, 'stroke-width': '1.5', fill: 'none' };
    const name = { fill: theme.foreground, 'font-size': '11', 'text-anchor': 'middle' };
    const north = svgElement(
      'g',
      { attributes: { transform: `translate(${right - 4} 34)` } },
      svgElement('path', { attributes: { d: 'M0 14V-12M-4-5L0-12L4-5', ...ink } }),
      svgElement('text', { text: 'N', attributes: { x: '0', y: '-17', ...name } }),
    );
    const scale = svgElement(
      'g',
      {},
      svgElement('path', { attributes: { d: `M${right - bar.pixels} ${foot - 5}v5h${bar.pixels}v-5`, ...ink } }),
      svgElement('text', {
        text: bar.text,
        attributes: { x: String(right - bar.pixels / 2), y: String(foot - 8), ...name },
      }),
    );
    const { windFromRad, windText = '' } = typed;
    const arrow =
      windFromRad === undefined
        ? undefined
        : svgElement(
            'g',
            { attributes: { transform: 'translate(34 40)' } },
            svgElement('path', {
              attributes: {
                d: 'M0-20V18M-5 9L0 18L5 9',
                ...ink,
                'stroke-dasharray': '5 3',
                transform: `rotate(${((windFromRad * 180) / Math.PI).toFixed(1)})`,
              },
            }),
            svgElement('text', { text: `wind ${windText}`, attributes: { x: '0', y: '36', ...name } }),
          );
    fill(furniture, north, scale, arrow, ...runways());
  };

  /** A line through each start of roll in the direction that was typed. */
  const runways = (): SVGElement[] => {
    const heading = typed.runwayHeadingRad;
    if (heading === undefined) return [];
    return flight.events.flatMap((event) => {
      const row = event.kind === 'liftoff' ? nearestRow(columns.timeS, event.timeS - columns.startS) : -1;
      if (row < 0 || !Number.isFinite(columns.eastM[row])) return [];
      const [east, north] = [Math.sin(heading) * runwayHalfM, Math.cos(heading) * runwayHalfM];
      const at = (sign: number): string =>
        `${frame.x(columns.eastM[row] + sign * east).toFixed(1)} ${frame.y(columns.northM[row] + sign * north).toFixed(1)}`;
      return [
        svgElement('path', {
          attributes: {
            d: `M${at(-1)}L${at(1)}`,
            stroke: theme.foreground,
            'stroke-width': '6',
            'stroke-opacity': '0.25',
          },
        }),
      ];
    });
  };

  const drawCursor = (): void => {
    const t = view.cursor.value;
    const row = t === undefined ? -1 : nearestRow(columns.timeS, t);
    if (row < 0 || !Number.isFinite(columns.eastM[row])) {
      fill(cursor);
      return;
    }
    const heading = columns.trackRad[row];
    const at = `translate(${frame.x(columns.eastM[row]).toFixed(1)} ${frame.y(columns.northM[row]).toFixed(1)})`;
    const turn = Number.isFinite(heading) ? ` rotate(${((heading * 180) / Math.PI).toFixed(1)})` : '';
    fill(
      cursor,
      svgElement('path', {
        attributes: {
          d: turn === '' ? 'M-5 0A5 5 0 1 0 5 0A5 5 0 1 0-5 0' : 'M0-9L6 7L0 3L-6 7Z',
          transform: at + turn,
          fill: theme.accent,
          stroke: theme.background,
          'stroke-width': '1.5',
        },
      }),
    );
  };

  const pointer = (event: PointerEvent): void => {
    const box = drawing.getBoundingClientRect();
    const scale = Math.min(box.width / size.width, box.height / size.height);
    const x = (event.clientX - box.left - (box.width - size.width * scale) / 2) / scale;
    const y = (event.clientY - box.top - (box.height - size.height * scale) / 2) / scale;
    const row = nearestPlace(x, y);
    if (row >= 0) view.cursor.set(columns.timeS[row]);
  };
  const nearestPlace = (x: number, y: number): number => {
    const [fromS, toS] = view.range.value;
    const from = Math.max(0, lastRowAtOrBefore(columns.timeS, fromS));
    const to = lastRowAtOrBefore(columns.timeS, toS);
    const stride = Math.max(1, Math.floor((to - from) / 6000));
    let best = -1;
    let bestSquare = 30 ** 2;
    for (let row = from; row <= to; row += stride) {
      const square = (frame.x(columns.eastM[row]) - x) ** 2 + (frame.y(columns.northM[row]) - y) ** 2;
      if (square < bestSquare) [best, bestSquare] = [row, square];
    }
    return best;
  };
  drawing.addEventListener('pointermove', pointer, { signal });

  const redrawTrack = oncePerFrame(drawTrack, signal);
  const redrawCursor = oncePerFrame(drawCursor, signal);
  view.range.onChange(redrawTrack, signal);
  view.cursor.onChange(redrawCursor, signal);
  drawTrack();
  const root = element(
    'section',
    { class: 'plan-view', attributes: { 'aria-labelledby': 'plan-title' } },
    element('header', {}, element('h2', { text: 'Ground track', attributes: { id: 'plan-title' } })),
    drawing,
    legend,
  );
  return {
    root,
    setTheme(next) {
      theme = next;
      drawTrack();
    },
    setConditions(next) {
      typed = next;
      const { windFromRad, windText = '', runwayHeadingRad } = next;
      drawing.setAttribute(
        'aria-label',
        [
          'Ground track from above, north up',
          ...(windFromRad === undefined ? [] : [`wind from ${formatDirection(windFromRad)}, ${windText}`]),
          ...(runwayHeadingRad === undefined ? [] : [`runway towards ${formatDirection(runwayHeadingRad)}`]),
        ].join('; '),
      );
      drawFurniture();
    },
  };
}
