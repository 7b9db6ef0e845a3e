export { beginMarker, CannotInsert, endMarker, insertBetweenMarkers } from './insert.ts';
export { type Report, type ReportFigure, type ReportRequest, figureFolderOf, writeReport } from './report.ts';
export { figureMark } from './svg/frame.ts';
