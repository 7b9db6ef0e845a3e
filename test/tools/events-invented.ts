/**
 * What is invented in journeys that never leave the ground: cars, trains, boats, aeroplanes that only taxi, and recorders
 * carried home in a car after a flight.
 *
 *   npx tsx test/tools/events-invented.ts [--each N] [--seed TEXT]
 */
import { findEvents } from '../../src/engine/events/find-events.ts';
import { deriveMotion } from '../../src/engine/track/derive-motion.ts';
import { airfields } from '../synth/airfield.ts';
import { carriedOn, journey, type JourneyName, journeys } from '../synth/journeys.ts';
import { Random } from '../synth/random.ts';
import { receive } from '../synth/receive.ts';
import { receiverKinds, type ReceiverName, simulatedFlight } from '../synth/index.ts';
import { trackInMemory } from '../synth/track-in-memory.ts';

const argument = (name: string, otherwise: string): string => {
  const at = process.argv.indexOf(name);
  return at < 0 ? otherwise : process.argv[at + 1];
};
const each = Number(argument('--each', '6'));
const seed = argument('--seed', 'invented');
const receivers = Object.keys(receiverKinds) as ReceiverName[];
let all = 0;

for (const name of [...(Object.keys(journeys) as JourneyName[]), 'carried-on' as const]) {
  const counts = { flown: 0, 'touch-and-go': 0, rejected: 0, landings: 0, extraOrMissing: 0 };
  const seen: string[] = [];
  for (let index = 0; index < each; index += 1) {
    const receiver = receivers[(index * 5 + name.length) % receivers.length];
    const random = new Random(`${seed}/${name}/${index}`);
    const kind = { ...receiverKinds[receiver], gap: 0, outlier: 0 };
    if (name === 'carried-on') {
      const flight = simulatedFlight(`${seed}/${name}/${index}`, { receiver, length: 'circuits', rejectFirst: false });
      const table = carriedOn(flight.table, flight.field, random);
      const events = findEvents(deriveMotion(trackInMemory(receive(table, flight.field, kind, random))).motion);
      const landS = flight.truth.phases.at(-1)?.endS ?? 0;
      for (const takeoff of events.takeoffs) {
        if (takeoff.rollStart.timeS > landS || takeoff.outcome === 'rejected') {
          counts[takeoff.outcome] += 1;
          seen.push(
            `${receiver}/${index} ${takeoff.outcome} ${(takeoff.rollStart.timeS - landS).toFixed(0)} s after the flight`,
          );
        }
      }
      counts.landings += events.landings.filter((landing) => landing.touchdown.timeS > landS).length;
      const flown = events.takeoffs.filter((one) => one.outcome !== 'rejected' && one.rollStart.timeS < landS).length;
      counts.extraOrMissing += Math.abs(
        flown - flight.truth.takeoffs.filter((one) => one.outcome !== 'rejected').length,
      );
      continue;
    }
    const field = airfields.gullRock;
    const table = journey(name, field, random);
    const events = findEvents(deriveMotion(trackInMemory(receive(table, field, kind, random))).motion);
    for (const takeoff of events.takeoffs) {
      counts[takeoff.outcome] += 1;
      seen.push(
        `${receiver}/${index} ${takeoff.outcome} at ${(takeoff.rollStart.timeS - table.timeS[0]).toFixed(0)} s`,
      );
    }
    counts.landings += events.landings.length;
    seen.push(
      ...events.landings.map(
        (one) => `${receiver}/${index} landing at ${(one.touchdown.timeS - table.timeS[0]).toFixed(0)} s`,
      ),
    );
  }
  all += counts.flown + counts.rejected + counts['touch-and-go'] + counts.landings;
  console.log(
    `${name.padEnd(16)} ${each} journeys: flown ${counts.flown}, touch-and-go ${counts['touch-and-go']}, rejected ${counts.rejected}, landings ${counts.landings}${name === 'carried-on' ? `; take-offs of the flight itself too few or too many ${counts.extraOrMissing}` : ''}`,
  );
  if (process.argv.includes('--details')) console.log(seen.map((one) => `    ${one}`).join('\n'));
}
console.log(`invented in all: ${all}`);
