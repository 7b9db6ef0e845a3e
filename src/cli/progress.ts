import type { CommandIo } from './io.ts';

const barWidth = 24;
/** Redrawn at most so often: a terminal is slow. */
const stepPercent = 1;

/** A line that is drawn over itself while something long goes on; nothing where nobody watches. */
export interface Progress {
  readonly show: (fraction: number, what: string) => void;
  readonly clear: () => void;
}

export function progressOn(io: CommandIo): Progress {
  if (!io.watched) return { show: () => undefined, clear: () => undefined };
  let last = Number.NEGATIVE_INFINITY;
  let lastWhat = '';
  let drawn = 0;
  return {
    show: (fraction, what) => {
      const percent = Math.floor(Math.max(0, Math.min(1, fraction)) * 100);
      if (Math.abs(percent - last) < stepPercent && what === lastWhat) return;
      [last, lastWhat] = [percent, what];
      const full = Math.round((percent / 100) * barWidth);
      const line = `[${'#'.repeat(full)}${'.'.repeat(barWidth - full)}] ${String(percent).padStart(3)} %  ${what.slice(-40)}`;
      io.tell(`\r${line.padEnd(drawn)}`);
      drawn = line.length;
    },
    clear: () => {
      if (drawn > 0) io.tell(`\r${' '.repeat(drawn)}\r`);
      drawn = 0;
    },
  };
}
