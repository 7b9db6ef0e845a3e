import { formatClock, formatFixed, formatList, formatShort } from '../../../shared/format.ts';
import type { Interval } from '../../../shared/measured.ts';
import type { RecordingPart } from '../../../shared/recording-part.ts';
import { channelWords } from '../track/channel-words.ts';
import type { WrongClock } from './one-flight.ts';

/** "+0.42 s (+0.20 to +0.64)": what is added to the times of a recording. */
export function offsetText({ value, low, high }: Interval): string {
  const decimals = Math.abs(high - low) < 0.1 ? 3 : 2;
  const signed = (seconds: number): string => `${seconds < 0 ? '-' : '+'}${formatFixed(Math.abs(seconds), decimals)}`;
  return `${signed(value)} s (${signed(low)} to ${signed(high)})`;
}

/** What the file is among the recordings of its flight, in a few words. */
export function roleText({ role, continues }: RecordingPart): string {
  if (role === 'first') return 'first';
  if (role === 'continuation') return 'continues the first';
  return role === 'second-recorder' ? 'another recorder' : `continues ${continues ?? 'the other recorder'}`;
}

/** What the flight has from another recorder: "indicated airspeed and fuel flow"; undefined where that is not asked. */
export function broughtText({ role, brings }: RecordingPart): string | undefined {
  if (role === 'first') return 'times, positions, speeds';
  if (brings === undefined) return undefined;
  return brings.length === 0
    ? 'nothing that the first has not'
    : formatList(brings.map((name) => channelWords[name] ?? name));
}

/** A sentence for each file but the first. */
export function partSentences(parts: readonly RecordingPart[]): string[] {
  return parts.slice(1).map((part) => {
    const { file, joined, startS, endS, clockOffsetS, clockOffsetBy, remarks } = part;
    if (!joined) return `${file}: not joined. ${remarks.join(' ')}`.trim();
    const span =
      startS === undefined || endS === undefined ? '' : `, ${formatClock(startS)} to ${formatClock(endS)} UTC`;
    const clock =
      clockOffsetS === undefined
        ? ''
        : `; its clock ${offsetText(clockOffsetS)}, ${clockOffsetBy === 'pilot' ? 'given by the pilot' : `by ${clockOffsetBy}`}`;
    const brought = broughtText(part);
    return `${file}: ${roleText(part)}${span}${clock}${brought === undefined ? '' : `; brings ${brought}`}.`;
  });
}

/** That one flight stands there twice, and how it is joined. */
export function wrongClockText({ file, other, offsetS }: WrongClock): string {
  const hours = Math.abs(offsetS) / 3600;
  const side = offsetS < 0 ? 'later' : 'earlier';
  return `${other} flew the same way as ${file}, ${formatShort(hours, 1)} h ${side}: one flight, it seems, by a clock that keeps local time. It would count twice: name it under "also-recorded-by" of the other.`;
}
