import type { DisplayUnits } from '../../../shared/display-units.ts';
import type { MetricResult } from '../compare/result.ts';
import type { Evaluation } from '../evaluate/index.ts';
import type { Spec } from '../spec/index.ts';
import type { ShownNames } from './names.ts';

/** What every section of the report needs. */
export interface ReportContext {
  readonly evaluation: Evaluation;
  readonly spec: Spec;
  readonly metrics: readonly MetricResult[];
  readonly units: DisplayUnits;
  readonly names: ShownNames;
  /** "#" marks of a section's heading. */
  readonly heading: (level: number) => string;
  /** Colour, symbol and dash of a configuration: its place in the spec. */
  readonly seriesOf: (id: string) => number;
  /** Keeps a figure and gives the Markdown that shows it; empty when no figures are wanted. */
  readonly show: (name: string, title: string, svg: () => string) => string;
}
