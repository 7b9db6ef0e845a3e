import { type CollectionRequest, leftOutList } from './flight-runs.ts';
import { type Collected, type CollectedRun, normal95 } from './run.ts';

/** Fuel filled up after a flight over its time from first lift-off to last touchdown: one value a flight, not corrected. */
export function fuelBurnRuns({ question, flights }: CollectionRequest): Collected {
  const leftOut = leftOutList(question.metric);
  const runs: CollectedRun[] = [];
  for (const flight of flights) {
    const used = flight.entry.conditions.fuelUsedM3;
    if (used === undefined) {
      leftOut.add(flight.file, undefined, 'The fuel used was not noted.');
      continue;
    }
    const { takeoffs, landings } = flight.analysis;
    const startS = takeoffs.find(({ liftoff }) => liftoff !== undefined)?.liftoff?.timeS;
    const endS = landings[landings.length - 1]?.touchdown.timeS;
    if (startS === undefined || endS === undefined || !(endS - startS > 600)) {
      leftOut.add(flight.file, undefined, 'The recording does not hold a whole flight of ten minutes or more.');
      continue;
    }
    const value = used.value / (endS - startS);
    const sigma = used.sigma / (endS - startS);
    const raw = { value, low: value - normal95 * sigma, high: value + normal95 * sigma };
    runs.push({
      file: flight.file,
      number: 1,
      day: flight.day,
      configuration: flight.entry.configuration,
      timeS: startS,
      raw,
      kinds: { strict: {}, soft: {} },
      conditions: {},
      reduce: () => (value > 0 ? { value, ownSigma: sigma, shared: {}, corrections: [] } : 'No fuel was used.'),
    });
  }
  return { runs, leftOut: leftOut.entries };
}
