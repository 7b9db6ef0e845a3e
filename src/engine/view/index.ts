export { columnsOf } from './columns.ts';
export { eventMarks, flightView } from './flight-view.ts';
export { metricRows } from './metric-rows.ts';
