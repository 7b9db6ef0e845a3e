/**
 * The parts of the engine that the editor uses, to be loaded with `await import('./engine.ts')`: nothing of it is needed,
 * or run, before a recording is opened, so that the extension starts at once.
 */
export { parseEventFile, removeEvent, setEvent } from '../../engine/event-file/index.ts';
export { conditionsView } from '../../engine/view/conditions.ts';
export { flightView } from '../../engine/view/index.ts';
export { analyseForView, readRecordingForView } from './flight-reader.ts';
export { CannotEdit } from '../../engine/yaml-text/index.ts';
