export { type BlockList, openList } from './list.ts';
export { applyEdits, CannotEdit, lineBreak, lineEnd, lineStart, type TextEdit } from './text-edit.ts';
