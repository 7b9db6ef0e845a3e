import type { ProblemList } from '../problem-list.ts';
import { daysSince1970 } from '../text/date-time.ts';

const dayS = 86_400;

/** 1990-01-01: nobody recorded flights with satellite receivers before (the GPS epoch is 1980). */
const earliestS = 631_152_000;

/** 2100-01-01. */
const latestS = 4_102_444_800;

/** 2004-01-01 (own choice): recordings of light aeroplanes before are rare, dates 1024 weeks early are not. */
const suspectS = 1_072_915_200;

/** GPS counts weeks modulo 1024 (interface specification IS-GPS-200); old receivers then go back by 19.6 years. */
const rolloverDays = 1024 * 7;

/** Warns of a date that cannot be right, or that an old receiver may have written 1024 weeks early. */
export function checkDate(startS: number, endS: number, problems: ProblemList): void {
  if (startS < earliestS || endS > latestS) {
    problems.warning('date-implausible', `The recording begins ${dateOf(startS)}: the date cannot be right.`);
    return;
  }
  const day = Math.floor(startS / dayS);
  const named = dateInName(problems.file);
  const offDays = named === undefined ? 0 : named - day;
  const rollovers = Math.round(offDays / rolloverDays);
  const told = rollovers !== 0 && Math.abs(offDays - rollovers * rolloverDays) <= 1;
  if (!told && startS >= suspectS) return;
  const nameSays = told ? `, and the file name says ${dateOf((named ?? 0) * dayS)}` : '';
  problems.warning(
    'date-week-rollover',
    `The recording begins ${dateOf(startS)}${nameSays}. Old receivers write dates 1024 weeks (19.6 years) early: check the date.`,
  );
}

function dateInName(name: string): number | undefined {
  const match = /(?<!\d)((?:19|20)\d\d)([-_.]?)(\d\d)\2(\d\d)(?!\d)/.exec(name);
  if (!match) return undefined;
  const day = daysSince1970(Number(match[1]), Number(match[3]), Number(match[4]));
  return Number.isNaN(day) ? undefined : day;
}

function dateOf(timeS: number): string {
  const milliseconds = timeS * 1000;
  return Math.abs(milliseconds) <= 8.64e15
    ? new Date(milliseconds).toISOString().slice(0, 10)
    : 'at an impossible time';
}
