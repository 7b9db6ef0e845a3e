/**
 * Everything that is not needed to start: the engine and what is written on it. Reached by `await import('./later.ts')`
 * alone; the Node host takes it from the bundle of the web host, so that starting neither reads nor compiles it.
 */
export { CannotEdit } from '../engine/yaml-text/index.ts';
export { addFurther, parseEventFile, parseFurther, removeEvent, setEvent } from '../engine/event-file/index.ts';
export { furtherFiles, furtherIdentity } from '../engine/recordings/index.ts';
export { conditionsView } from '../engine/view/conditions.ts';
export { flightView } from '../engine/view/index.ts';
export { registerAddToComparison } from './commands/add-to-comparison.ts';
export { registerAddRecording } from './commands/add-recording.ts';
export { registerComparisons } from './comparison/register.ts';
export { flightsHere } from './reading/here.ts';
export { tracksOfSpec } from './overlay/tracks-of-spec.ts';
