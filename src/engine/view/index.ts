export { columnsOf } from './columns.ts';
export { analysisPending, eventMarks, flightView } from './flight-view.ts';
export { metricRows } from './metric-rows.ts';
