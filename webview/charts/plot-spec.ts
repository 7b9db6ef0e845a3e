import type { SeriesColour } from '../theme.ts';
import type { AxisKind } from './ticks.ts';

/** A picture of lines over one axis, in SI; drawn on the screen by `plot.ts` and on paper by `plot-svg.ts`. */
export interface PlotSpec {
  readonly id: string;
  readonly title: string;
  readonly x: PlotAxis;
  readonly y: PlotAxis;
  readonly lines: readonly PlotLine[];
  readonly marks: readonly PlotMark[];
}

export interface PlotAxis {
  readonly title: string;
  readonly kind: AxisKind;
  /** Always shown, e.g. 0 for speeds. */
  readonly include?: number;
  /** Smallest span, so that noise at rest is not blown up to the height of the picture. */
  readonly leastSpan?: number;
}

export interface PlotLine {
  readonly id: string;
  readonly label: string;
  /** Ascending. */
  readonly xs: ArrayLike<number>;
  readonly ys: ArrayLike<number>;
  readonly gapsBefore: readonly number[];
  readonly colour: SeriesColour;
  readonly dash: readonly number[];
  readonly width: number;
  /** Limits of the 95 % interval of each sample, where known. */
  readonly low?: ArrayLike<number>;
  readonly high?: ArrayLike<number>;
}

export interface PlotMark {
  readonly id: string;
  readonly label: string;
  readonly x: number;
  /** With a `y` a point, without one a line from top to bottom. */
  readonly y?: number;
  readonly xLow?: number;
  readonly xHigh?: number;
  /** Of the pilot: drawn hollow and named so. */
  readonly byPilot?: boolean;
  readonly shape?: 'circle' | 'square' | 'triangle' | 'diamond';
  readonly colour?: SeriesColour;
  /** Short text beside a point instead of the label; empty for none. */
  readonly tag?: string;
}
