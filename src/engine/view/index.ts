export { columnsOf } from './columns.ts';
export { eventsByPilot } from './events-by-pilot.ts';
export { type FilmEvent, filmEvents } from './film-events.ts';
export { analysisPending, eventMarks, flightView, readSummary, type ReadSummary } from './flight-view.ts';
export { metricRows } from './metric-rows.ts';
