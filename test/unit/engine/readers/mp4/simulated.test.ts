import assert from 'node:assert/strict';
import { readRecording } from '../../../../../src/engine/readers/index.ts';
import { bytesInMemory } from '../../../../../src/engine/world.ts';
import { simulatedFlight } from '../../../../synth/simulated-flights.ts';
import type { FileFormat } from '../../../../synth/write/index.ts';
import { writeRecording } from '../../../../synth/write/index.ts';
import { near } from '../../../../tools/near.ts';

/** What the recorder of a simulated flight measured is what the reader gives, each sample at its own true time. */
describe('binary recordings of simulated flights', () => {
  const cases: [FileFormat, 'camera18' | 'camera10' | 'film-vertical' | 'handheld', number][] = [
    ['gpmf-gps5', 'camera18', 0.002],
    ['gpmf-gps9', 'camera10', 0.001],
    ['camm', 'film-vertical', 1e-6],
    ['fit', 'handheld', 1e-6],
  ];
  for (const [format, receiver, toleranceS] of cases) {
    it(format, async () => {
      const flight = simulatedFlight('binary', { receiver });
      const { bytes } = writeRecording(flight.recording, format);
      const { track, problems } = await readRecording(bytesInMemory('a', bytes));
      assert.ok(track, JSON.stringify(problems));
      const { track: recorded } = flight;
      // Left out are the 10 s after the first fix of cameras, and fixes written twice.
      assert.ok(track.timeS.length > 0.97 * recorded.timeS.length);
      let k = 0;
      for (let row = 0; row < track.timeS.length; row++) {
        while (k + 1 < recorded.timeS.length && recorded.timeS[k + 1] <= track.timeS[row] + toleranceS) k++;
        near(track.timeS[row], recorded.timeS[k], toleranceS);
        if (Number.isNaN(track.latDeg[row])) continue;
        near(track.latDeg[row], recorded.latDeg[k], 1.1e-7);
        near(track.altitudes[0].valuesM[row], recorded.altitudes[0].valuesM[k], 0.11);
        near(track.groundSpeedMps?.[row] ?? Number.NaN, recorded.groundSpeedMps?.[k] ?? Number.NaN, 0.006);
      }
    });
  }
});
