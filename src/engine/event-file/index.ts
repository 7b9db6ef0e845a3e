export { applyEdits, CannotEdit, removeEvent, setEvent, type TextEdit } from './edit.ts';
export { type EventFile, eventFileEnding, eventFileName, parseEventFile, parseUtcTime } from './parse.ts';
