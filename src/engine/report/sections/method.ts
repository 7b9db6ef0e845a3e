import type { ReportContext } from '../context.ts';

interface Paragraph {
  /** Shown when one of these metrics is in the report; always when empty. */
  readonly metrics: RegExp | undefined;
  readonly text: string;
}

/** How the figures came about, with the published sources. Each stands only where a metric of its kind does. */
const paragraphs: readonly Paragraph[] = [
  {
    metrics: /^(?:ground-roll|distance-over|liftoff|time-to)/,
    text: 'Take-off. The ground roll goes from brake release to the instant at which the main wheels leave the ground; the distance over an obstacle from there on to the point where the wheels are that height above the point of lift-off, over the runway. Both are integrals of the recorded ground speed; the uncertainty of the two instants is part of the interval.',
  },
  {
    metrics: /^(?:ground-roll|distance-over)/,
    text: 'To the same conditions. Wind: the ground roll goes with the 1.85th power of airspeed over ground speed at lift-off; in the air the wind carries the aeroplane for the time it takes. Slope: by the mean acceleration of the run. Weight and density: powers of their ratios that depend on the kind of propeller. Source: Society of Flight Test Engineers, reference handbook (2013), chapter 12; the exponents are uncertain by some tenths, which is part of the interval.',
  },
  {
    metrics: /^(?:rate-of-climb|best-minute|climb|service)/,
    text: 'Climb. Rates are of energy height, so that a climb is not flattered by losing speed; in bands of altitude; brought to the reference weight, and read against density altitude. Sources: Society of Flight Test Engineers, reference handbook (2013), chapter 12; FAA-H-8083-25C, chapter 11. Rising and sinking air adds to every climb and cannot be corrected: days are needed, not climbs.',
  },
  {
    metrics: /^(?:level-speed|fuel)/,
    text: 'Level flight. True airspeed from ground velocities on several headings, by the circle that fits them; one heading alone cannot tell wind from speed.',
  },
  {
    metrics: undefined,
    text: 'Missing notes. Nothing is taken as zero or guessed for a whole season: without an air temperature a run is left out of what needs density; without a wind it is taken from the air in the same recording with a wide margin, or the run is left out; without a weight the run only stands as flown. What was left out, and why, has a section of its own.',
  },
  {
    metrics: undefined,
    text: 'Comparison. The unit is the day, as runs of one day share its weather and its pilot; how much days and runs scatter is not known and not assumed, and widens the interval accordingly. Errors that runs share (an exponent, the note of a day, the slope of a runway) are kept by name and count by the difference of mean conditions: matching weather makes an answer surer, more flights in unlike weather do not. A difference is called found when its interval leaves out zero, at a level that allows for the number of questions (Holm, Scandinavian Journal of Statistics 6, 1979); equivalent when it is shown to lie within the margin that was stated beforehand (two one-sided tests; Schuirmann, Journal of Pharmacokinetics and Biopharmaceutics 15, 1987); otherwise it is not shown, which does not mean that there is none.',
  },
];

export function methodSection(context: ReportContext): string {
  const shown = paragraphs.filter(
    ({ metrics }) => metrics === undefined || context.metrics.some((result) => metrics.test(result.metric)),
  );
  const texts = [...shown.map(({ text }) => text), ...ofSeveral(context)];
  return [`${context.heading(2)} Method and sources`, '', ...texts.flatMap((text) => [text, ''])].join('\n');
}

/** Of three configurations or more, and of the setting of an adjustable part. */
function ofSeveral({ spec, metrics }: ReportContext): readonly string[] {
  const texts: string[] = [];
  if (spec.configurations.length > 2) {
    const asked =
      spec.questions.pairs === 'against-baseline'
        ? 'Each configuration is compared with the baseline only, as the comparison asks'
        : 'Every configuration is compared with every other';
    texts.push(
      `Several configurations. ${asked}; all of these pairs count among the questions that share one level. They are estimated together, so that what they share (a baseline, a day, an exponent) is allowed for in each pair; the step-down of Holm holds however the pairs depend on each other. Whether two differ is told by their own interval, never by whether the intervals of their means overlap.`,
    );
  }
  if (metrics.some(({ alongSetting }) => alongSetting !== undefined)) {
    texts.push(
      'Along a setting. Least squares through the means, each configuration counting alike, on the scale on which the metric is compared; its interval is from the same joint estimate. Where the quadratic contrast of the means is shown not to be zero (95 %), no slope is given. Nothing is said of settings that were not flown.',
    );
  }
  return texts;
}

const cautions = [
  "These are the owner's own measurements on the days flown. They are not approved performance data and neither replace nor amend the flight manual. Where they are better than the manual, plan with the manual.",
  'The approved flight manual, with its supplements for the installed modification, rules. Weight-and-balance records and the equipment list must reflect the change before flight.',
  'A modification must be approved for the type and signed off by the licensed mechanic or inspector that the state requires. This report neither approves nor checks that.',
  'Distances over an obstacle and instants of lift-off from satellite positions are estimates: never use them to decide whether a real obstacle can be cleared.',
  'For planning, add the margins of your authority; headwind and slope are never what was forecast.',
  'A change that is real may still be due to something else that was done at the same time, to the season, or to practice.',
  'No difference shown is not the same as no difference. A gain in one figure is often paid for in another: look at all of them.',
  'Do not explore limits for the sake of a graph: ordinary flights are enough. Test flying proper belongs to a planned programme under the rules of the authority.',
];

export function cautionsSection(context: ReportContext): string {
  return [`${context.heading(2)} Cautions`, '', ...cautions.map((caution) => `- ${caution}`), ''].join('\n');
}
