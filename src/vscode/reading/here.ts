import { analyse } from '../../engine/analyse.ts';
import { benchHere } from '../../engine/evaluate/index.ts';
import { readRecording } from '../../engine/readers/index.ts';
import { readSummary } from '../../engine/view/index.ts';
import { analyseForView, readRecordingForView } from '../editor/flight-reader.ts';
import type { FlightWork } from './flight-work.ts';

/** What was said before must reach its page before an analysis takes the thread. */
const breathMs = 20;

/** Reads and analyses in this thread: where there are no others. */
export const flightsHere: FlightWork = {
  async read(source, work, others) {
    const recording = await readRecordingForView(source, work, others);
    const { read, columns, pending } = recording;
    return {
      read: readSummary(read),
      ...(columns === undefined ? {} : { columns }),
      ...(pending === undefined ? {} : { pending }),
      async analyse(overrides, signal) {
        await new Promise((resolve) => setTimeout(resolve, breathMs));
        return analyseForView(recording, overrides, signal);
      },
      forget: () => undefined,
    };
  },
  bench: (world) => ({ ...benchHere({ readRecording, analyse }, world), close: () => undefined }),
};
