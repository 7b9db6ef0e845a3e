export {
  explainAt,
  locate,
  positionAt,
  suggestAt,
  yamlText,
  type Explanation,
  type Position,
  type Suggestion,
} from './assist.ts';
export { addFlight, type FlightToAdd } from './add-flight.ts';
export { trackKey } from './check.ts';
export type { WrittenCorrection, WrittenTime } from './grammar/sections/flights.ts';
export { parseFurtherKeys } from './further-recordings.ts';
export { specJsonSchema, specJsonSchemaText } from './json-schema.ts';
export { type KeyDoc, specKeys } from './key-docs.ts';
export { dateOfDay, mergeConditions, withDate } from './merge.ts';
export { nearest } from './nearest.ts';
export { newSpec, type NewSpecOptions, type RecordedFlight } from './new-spec.ts';
export { parseSpec, usualQuestions } from './parse.ts';
export { specProblemCodes } from './problem-code.ts';
export type * from './types.ts';
