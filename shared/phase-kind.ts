/** The closed list of phases of flight, in the order of an ordinary flight; `unknown` stands over gaps. */
export const phaseKinds = [
  'standing',
  'taxi',
  'takeoff-roll',
  'initial-climb',
  'climb',
  'cruise',
  'descent',
  'approach',
  'landing-roll',
  'unknown',
] as const;

export type PhaseKind = (typeof phaseKinds)[number];
