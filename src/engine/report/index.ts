export { beginMarker, CannotInsert, endMarker, insertBetweenMarkers } from './insert.ts';
export { footingTitles, metricWords } from './metric-words.ts';
export { answering } from './sections/answer.ts';
export { judgement } from './sentences.ts';
export { isUntouchedReport, sealReport } from './seal.ts';
export { type Report, type ReportFigure, type ReportRequest, figureFolderOf, writeReport } from './report.ts';
export { figureMark } from './svg/frame.ts';
