import type { PhaseKind } from '../shared/phase-kind.ts';
import type { SeriesColour } from './theme.ts';

/** How a phase is told from the others: by word, by dash and width, and only last by colour. */
export interface PhaseStyle {
  readonly name: string;
  readonly short: string;
  readonly colour: SeriesColour;
  /** Dash of its line in plan view, pixels. */
  readonly dash: readonly number[];
  readonly width: number;
}

export const phaseStyles: Readonly<Record<PhaseKind, PhaseStyle>> = {
  standing: { name: 'Standing', short: 'Stand', colour: 'grey', dash: [1, 4], width: 2 },
  taxi: { name: 'Taxi', short: 'Taxi', colour: 'yellow', dash: [4, 3], width: 1.5 },
  'takeoff-roll': { name: 'Take-off roll', short: 'Roll', colour: 'red', dash: [], width: 4 },
  'initial-climb': { name: 'Initial climb', short: 'Initial', colour: 'orange', dash: [], width: 3 },
  climb: { name: 'Climb', short: 'Climb', colour: 'orange', dash: [10, 3], width: 2 },
  cruise: { name: 'Cruise', short: 'Cruise', colour: 'blue', dash: [], width: 1.5 },
  descent: { name: 'Descent', short: 'Descent', colour: 'purple', dash: [6, 3, 1.5, 3], width: 2 },
  approach: { name: 'Approach', short: 'Appr', colour: 'green', dash: [2, 3], width: 2.5 },
  'landing-roll': { name: 'Landing roll', short: 'Roll', colour: 'green', dash: [], width: 4 },
  unknown: { name: 'Not recorded', short: '?', colour: 'grey', dash: [1, 8], width: 1 },
};
