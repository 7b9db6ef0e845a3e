import type { Recording } from '../synth/receive.ts';
import type { Blind, SharedFlight } from './known-answers.ts';

/** Where a recording is silent: before its first fix, after its last, and in gaps longer than three samples and 2 s. */
export function blindOfRecording(recording: Recording): Blind {
  const times = recording.fixes.filter((fix) => fix.valid).map((fix) => fix.trueTimeS);
  const longest = Math.max(2.1, 3.1 / recording.kind.rateHz);
  const silent: [number, number][] = [];
  for (let i = 1; i < times.length; i++) if (times[i] - times[i - 1] > longest) silent.push([times[i - 1], times[i]]);
  const first = times[0] ?? Number.POSITIVE_INFINITY;
  const last = times[times.length - 1] ?? Number.NEGATIVE_INFINITY;
  // A camera's first ten seconds after its fix are dropped by any careful reader.
  const settled = recording.kind.writesBeforeFix ? first + 15 : first + 1;
  return (timeS) => timeS < settled || timeS > last || silent.some(([from, to]) => timeS > from && timeS < to);
}

export function blindOfShared(flight: SharedFlight): Blind {
  const receiver = flight.receiver as unknown as {
    firstFixT: number;
    recordFromT: number;
    recordToT: number;
    gaps: { t0: number; t1: number }[];
    receiver: string;
  };
  const epochS = Date.parse(flight.epochUtc) / 1000;
  const settled =
    Math.max(receiver.firstFixT, receiver.recordFromT) + (receiver.receiver.startsWith('camera') ? 15 : 1);
  return (timeS) => {
    const t = timeS - epochS;
    return t < settled || t > receiver.recordToT || receiver.gaps.some((gap) => t > gap.t0 && t < gap.t1);
  };
}
