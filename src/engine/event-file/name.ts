export const eventFileEnding = '.events.yaml';

/** Name of the event file of a recording. */
export function eventFileName(recording: string): string {
  return recording + eventFileEnding;
}
