import * as z from 'zod';
import { key } from '../key-meta.ts';
import { noted } from '../shapes.ts';
import { csv } from './csv.ts';

/** A clock that a person compared by hand is read to about a second (own judgement). */
const usualOffsetSigmaS = 1;

/** One or several, as a list in any case. */
function files(doc: string, example: string) {
  const one = z.string().transform((file): string[] => [file]);
  return key(
    z.union([one, z.array(key(z.string(), { doc })).min(1, 'Name at least one file, or leave the key out.')]),
    {
      doc,
      example,
      names: 'tracks',
    },
  );
}

function continuedIn(example: string) {
  return files(
    'The files in which the recording goes on, where its recorder split it (cameras begin a new file every few minutes). They are put in the order of time.',
    example,
  ).optional();
}

function second() {
  return z.strictObject({
    track: key(z.string(), {
      doc: 'What the other recorder wrote, relative to this file.',
      example: 'logs/engine.csv',
      names: 'tracks',
      alsoCalled: ['file', 'recording', 'path'],
    }),
    'continued-in': continuedIn('[films/part2.mp4, films/part3.mp4]'),
    'clock-offset': noted('time', usualOffsetSigmaS, {
      doc: 'What is added to the times of this recording to get those of the first, where it cannot be estimated or is known better.',
      example: '3600 s +- 0.5 s',
      alsoCalled: ['offset', 'clock', 'time-offset'],
    }).optional(),
    csv: csv().optional(),
  });
}

export type WrittenSecond = z.output<ReturnType<typeof second>>;

/** The keys that name further recordings of a flight; the same in a spec and in the event file beside a recording. */
export function furtherKeys() {
  const short = z.string().transform((track): WrittenSecond => ({ track }));
  const entry = z.union([short, second()]);
  const several = z.array(key(entry, { doc: 'A recording of the same flight by another recorder.' }));
  const alone = entry.transform((one): WrittenSecond[] => [one]);
  return {
    'continued-in': continuedIn('[films/part2.mp4, films/part3.mp4]'),
    'also-recorded-by': key(z.union([several.min(1, 'Name at least one file, or leave the key out.'), alone]), {
      doc: 'What another recorder wrote of the same flight: its airspeed, fuel flow, engine speed, air temperature and pressure altitude are used. Its clock is set by that of the first.',
      example: 'logs/engine.csv',
      names: 'tracks',
      alsoCalled: ['second-recorder', 'second-recording', 'also-recorded-in', 'joined-with'],
    }).optional(),
  };
}

const furtherShape = z.strictObject(furtherKeys());

export type WrittenFurther = z.output<typeof furtherShape>;
