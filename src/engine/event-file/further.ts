import type { Problem } from '../../../shared/problem.ts';
import type { FurtherRecordings } from '../recordings/index.ts';
import { parseFurtherKeys } from '../spec/index.ts';

/** The keys of an event file that name further recordings of the flight, as they stand in a flight of a spec. */
export const furtherKeyNames = ['continued-in', 'also-recorded-by'];

/**
 * Further recordings of the flight beside whose first recording an event file lies:
 *
 * ```yaml
 * continued-in: [part2.mp4, part3.mp4]
 * also-recorded-by: engine.csv
 * ```
 *
 * Names are relative to the folder of the event file. Faults are problems with their line; nothing is joined then.
 */
export function parseFurther(
  text: string,
  fileName: string,
): { readonly further?: FurtherRecordings; readonly problems: readonly Problem[] } {
  if (!furtherKeyNames.some((name) => text.includes(name))) return { problems: [] };
  return parseFurtherKeys(text, fileName, furtherKeyNames);
}
