export { addFurther, type FurtherKey, type RecordingToName } from './add-further.ts';
export { furtherKeyNames, parseFurther } from './further.ts';
export { removeEvent, setEvent } from './edit.ts';
export { eventFileEnding, eventFileName } from './name.ts';
export { type EventFile, parseEventFile, parseUtcTime, type RecordedSpan } from './parse.ts';
