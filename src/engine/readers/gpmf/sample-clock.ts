import { median } from '../../stats/sample.ts';
import { fitClockLine, stepsIn, valueAt } from '../clock-line.ts';

/** A payload with a good fix: its first sample and the times that go with it. */
export interface ClockAnchor {
  readonly index: number;
  /** NaN in a bare stream. */
  readonly videoS: number;
  readonly utcS: number;
}

export interface SampleClock {
  /** UTC of a sample by its place in the stream. */
  readonly timeAt: (index: number) => number;
  /** Scatter of the receiver's stamps about the line, one sigma. */
  readonly sigmaS: number;
  /** Changes of the receiver's clock against the film that were taken out: the later clock is right. */
  readonly clockStepsS: readonly number[];
  /** Places where samples are missing from the stream, seconds. */
  readonly lostS: readonly number[];
  /** The samples (by their place in the stream) with which the payloads behind those places begin. */
  readonly lostBefore: readonly number[];
  readonly spacingS: number;
}

/**
 * A step of the receiver's clock against the film of this size is a correction of the clock (a whole leap second, or the
 * camera's own clock replaced by the satellites'): payload times themselves jitter by a few hundredths of a second.
 */
const leastClockStepS = 0.5;

/** Once there is a fix, a receiver's time can still be wrong by the leap seconds (18 since 2017), not by more. */
const largestClockStepS = 20;

/** A step against the count of samples of this size is samples lost: one payload has up to one sample more or less (55 ms). */
const leastLostS = 0.25;

/** A clock that has run this many payloads (about seconds) after its last step is believed to be set. */
const settledPayloads = 30;

/**
 * UTC of every sample of a GPS stream whose receiver states a time only once a payload. The stamps of the whole file are
 * fitted by one line over the number of the sample: it takes out the jitter of payloads (17 to 19 samples each) and any
 * difference of the receiver's rate from its nominal value. Steps are found first. Those that neither the film's own clock nor
 * the places show are corrections of the receiver's clock and taken out; behind the others (samples lost, recording paused) the
 * line goes on at its new level.
 *
 * @param fallbackSpacingS spacing of samples where there are not enough stamps to tell
 * @param placeJumpsBefore whether the aeroplane is suddenly elsewhere between an anchor and the one before: time passed
 */
export function sampleClock(
  anchors: readonly ClockAnchor[],
  fallbackSpacingS: number,
  placeJumpsBefore: (anchor: number) => boolean = () => false,
): SampleClock | undefined {
  if (anchors.length === 0) return undefined;
  if (anchors.length < 3) {
    const [first, last] = [anchors[0], anchors[anchors.length - 1]];
    const rate = (last.utcS - first.utcS) / (last.index - first.index);
    const spacingS = rate > 0.2 * fallbackSpacingS && rate < 5 * fallbackSpacingS ? rate : fallbackSpacingS;
    const timeAt = (index: number): number => first.utcS + spacingS * (index - first.index);
    return { timeAt, sigmaS: Number.NaN, clockStepsS: [], lostS: [], lostBefore: [], spacingS };
  }
  const { utcS, clockStepsS } = withoutClockSteps(anchors, placeJumpsBefore);
  const index = anchors.map((anchor) => anchor.index);
  const first = fitClockLine(index, utcS).line;
  const starts = stepsIn(
    utcS.map((value, i) => value - valueAt(first, index[i])),
    leastLostS,
  );
  const stretchOf = (point: number): number => starts.filter((start) => start <= point).length;
  const { line, levels } = starts.length > 0 ? fitClockLine(index, utcS, stretchOf) : { line: first, levels: [0] };
  return {
    timeAt: (sample) => {
      let stretch = 0;
      while (stretch < starts.length && sample >= index[starts[stretch]]) stretch++;
      return valueAt(line, sample) + levels[stretch];
    },
    sigmaS: line.sigma,
    clockStepsS,
    lostBefore: starts.map((start) => index[start]),
    lostS: levels.slice(1).map((level, i) => level - levels[i]),
    spacingS: line.slope,
  };
}

/** The stamps with corrections of the receiver's clock taken out, by comparison with the time in the film. */
function withoutClockSteps(
  anchors: readonly ClockAnchor[],
  placeJumpsBefore: (anchor: number) => boolean,
): { utcS: number[]; clockStepsS: number[] } {
  const utcS = anchors.map((anchor) => anchor.utcS);
  if (anchors.some((anchor) => !Number.isFinite(anchor.videoS))) return { utcS, clockStepsS: [] };
  const videoS = anchors.map((anchor) => anchor.videoS);
  const { line } = fitClockLine(videoS, utcS);
  const residuals = utcS.map((value, i) => value - valueAt(line, videoS[i]));
  const starts = stepsIn(residuals, leastClockStepS);
  if (starts.length === 0) return { utcS, clockStepsS: [] };
  const bounds = [0, ...starts, utcS.length];
  const levels = bounds.slice(1).map((end, i) => median(residuals.slice(bounds[i], end)));
  const lengths = bounds.slice(1).map((end, i) => end - bounds[i]);
  const settled = lengths.at(-1) as number;
  const chosen = settled >= settledPayloads ? levels.length - 1 : lengths.indexOf(Math.max(...lengths));
  const steps = starts.map((start, i) => {
    const sizeS = levels[i + 1] - levels[i];
    const elsewhere = [start - 1, start, start + 1].some(placeJumpsBefore);
    return Math.abs(sizeS) > largestClockStepS || elsewhere ? 0 : sizeS;
  });
  const total = (from: number, to: number): number => steps.slice(from, to).reduce((sum, step) => sum + step, 0);
  const shifts = levels.map((_, i) => (i <= chosen ? total(i, chosen) : -total(chosen, i)));
  const stretchOf = (point: number): number => starts.filter((start) => start <= point).length;
  return {
    utcS: utcS.map((value, i) => value + shifts[stretchOf(i)]),
    clockStepsS: steps.filter((step) => step !== 0),
  };
}
