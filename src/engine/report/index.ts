export { beginMarker, CannotInsert, endMarker, insertBetweenMarkers } from './insert.ts';
export { footingTitles, metricWords } from './metric-words.ts';
export { answering } from './sections/answer.ts';
export { groupLeftOut } from './left-out.ts';
export { cautionsOf, changeText, isStricter, judgement, naiveText } from './told-change.ts';
export { isUntouchedReport, sealReport } from './seal.ts';
export { type Report, type ReportFigure, type ReportRequest, figureFolderOf, writeReport } from './report.ts';
export { figureMark } from './svg/frame.ts';
export {
  type AroundContext,
  loadingSection,
  planSection,
  rangeSection,
} from './sections/around.ts';
export { candidatesSection } from './sections/candidates.ts';
export { missionsSection } from './sections/missions.ts';
export { type MadeFrom, madeFrom, outOfDate } from './made-from.ts';
export { mayReplaceFigure, reportAsFile, type ReportFiles, reportInNotes } from './report-files.ts';
export { answerTable, flightFindings, flightLine, headline, leftOutOf } from './short.ts';
export { settingText } from './setting-text.ts';
export { type Exchange, type Trade, tradeOf, tradeSentences } from './trade.ts';
export { type DecisionSectionName, decisionSectionNames, entryLine, sectionLine } from './section-lines.ts';
export { lastPart, mapTexts } from './hidden-words.ts';
export { shownNames, withHiddenPlaces } from './names.ts';
