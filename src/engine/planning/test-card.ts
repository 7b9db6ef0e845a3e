import type { DisplayUnits } from '../../../shared/display-units.ts';
import { formatCount, formatValue } from '../../../shared/format.ts';
import { escapeMarkdown, markdownTable } from '../../../shared/markdown.ts';
import { metricTitle } from '../../../shared/metric-title.ts';
import type { MissingCategory, MissingCondition } from './overlap.ts';

export interface TestCardInput {
  readonly title: string;
  readonly aircraft: string;
  readonly configuration: string;
  /** Metrics asked, as in the spec's questions. */
  readonly metrics: readonly string[];
  readonly units: DisplayUnits;
  /** Height for the level runs and the middle of the climbs, m. */
  readonly testHeightM?: number;
  readonly conditions: readonly MissingCondition[];
  readonly categories: readonly MissingCategory[];
  /** Further days each metric needs, where known. */
  readonly days: readonly {
    readonly metric: string;
    readonly moreDays: number | null;
    readonly from?: string;
    readonly to?: string;
  }[];
}

/** Cautions printed on every sheet that somebody may take into the air. */
export const flightCautions: readonly string[] = [
  "The approved flight manual and its supplements rule; its limits are mandatory. These figures are the owner's own measurements, not approved performance data.",
  'A modification must be approved and signed off by the licensed mechanic or inspector that the state requires before it is flown.',
  'Ordinary flights are enough. No deliberate minimum-speed lift-offs, no over-weight runs, no strip without margin; look out first, the card second.',
  "Testing proper (a new propeller, engine or wing) belongs to a planned programme under the authority's rules.",
];

interface Step {
  readonly what: string;
  readonly how: string;
  readonly needs: (metric: string) => boolean;
}

/**
 * Steps by metric. Three headings 120 degrees apart at one speed and height give airspeed and wind without an airspeed
 * indicator (SFTE reference handbook, 2013, ch. 4); reciprocal climbs cancel rising air and wind gradient (ch. 12).
 */
const steps: readonly Step[] = [
  {
    what: 'Stand still for 30 s on the runway, engine idling, recorder running',
    how: 'gives the recorder its height and zero of speed',
    needs: (metric) => /ground-roll|distance-over|liftoff/.test(metric),
  },
  {
    what: 'Take-off from a standing start, the usual flap setting, lift-off and climb-out at the usual speeds',
    how: 'full power before releasing the brakes, or always the same way; note which',
    needs: (metric) => /ground-roll|distance-over|liftoff/.test(metric),
  },
  {
    what: 'Hold runway heading, usual speed and full power to 300 ft above the obstacle height asked about',
    how: 'no turn, no flap change before',
    needs: (metric) => /distance-over/.test(metric),
  },
  {
    what: 'Climb at full power and one indicated speed, wings level, 2 min on one heading and 2 min on the opposite one',
    how: 'across the wind, in smooth air, through the same heights both times; the pair counts as one',
    needs: (metric) => /climb/.test(metric),
  },
  {
    what: 'Level at one height, power and trim, at least 1 min after the speed has settled, on each of three headings 120 degrees apart (for instance 020, 140, 260)',
    how: 'all within 10 min and 10 NM; height within 100 ft, indicated speed within 2 kt; note rpm and manifold pressure',
    needs: (metric) => /level-speed|fuel|range/.test(metric),
  },
  {
    what: 'Landing at the usual approach speed, braking as usual, straight to taxi speed',
    how: 'note if braking was held back',
    needs: (metric) => metric === 'landing-roll',
  },
  {
    what: 'Fill to the same mark at the same place after landing',
    how: 'write down the volume and the running time since the last fill',
    needs: (metric) => /fuel|range/.test(metric),
  },
];

/** A card for the next flight, Markdown, printable on one page. */
export function testCard(input: TestCardInput): string {
  const lines: string[] = [
    `# Test card: ${escapeMarkdown(input.title)}`,
    '',
    `Aeroplane: **${escapeMarkdown(input.aircraft)}**, configuration: **${escapeMarkdown(input.configuration)}**`,
    '',
  ];
  const wanted = wishes(input);
  if (wanted.length > 0) lines.push('## What this flight should bring', '', ...wanted.map((wish) => `- ${wish}`), '');
  lines.push('## Steps', '');
  const asked = steps.filter((step) => input.metrics.some((metric) => step.needs(metric)));
  lines.push(
    ...asked.map((step, index) => `${index + 1}. ☐ ${step.what}. *${capitalised(step.how)}.*`),
    '',
    'One good take-off a day on several days tells more than many on one day: the runs of a day share its weather.',
    '',
  );
  lines.push(conditionsTable(1), '', '## Cautions', '', ...flightCautions.map((caution) => `- ${caution}`), '');
  return lines.join('\n');
}

/** A blank sheet of the conditions that the comparison needs from every flight. */
export function conditionsSheet(title: string, flights = 6): string {
  return [
    `# Conditions sheet: ${escapeMarkdown(title)}`,
    '',
    'A blank left blank is better than a guess: a flight without a note is widened or left out, never filled with zero.',
    '',
    conditionsTable(flights),
    '',
    ...flightCautions.slice(0, 2).map((caution) => `- ${caution}`),
    '',
  ].join('\n');
}

const notes: readonly (readonly [string, string])[] = [
  ['Date, track file', ''],
  ['Configuration', ''],
  ['Airfield, runway', 'number in use'],
  ['Surface', 'paved / grass, dry / wet, soft, long'],
  ['Air temperature', 'in the shade, at take-off'],
  ['Dew point', 'if known'],
  ['Altimeter setting', 'QNH'],
  ['Wind', 'from / speed / gusts; read where; true or magnetic'],
  ['Fuel at engine start', ''],
  ['People and baggage', 'weights'],
  ['Take-off weight', 'and how well known'],
  ['Flaps, technique', 'as in the spec'],
  ['Start', 'standing or rolling'],
  ['Climb speed', 'indicated'],
  ['Cruise setting', 'rpm, manifold pressure, mixture'],
  ['Fuel filled afterwards', 'same mark'],
  ['Remarks', 'gusts, thermals, anything unusual'],
];

function conditionsTable(flights: number): string {
  const head = [
    'Note',
    ...Array.from({ length: flights }, (_, index) => (flights === 1 ? 'This flight' : `${index + 1}`)),
  ];
  const rows = notes.map(([what, hint]) => [
    hint === '' ? what : `${what} (${hint})`,
    ...Array.from({ length: flights }, () => ''),
  ]);
  return `## Conditions\n\n${markdownTable(head, rows)}`;
}

function wishes(input: TestCardInput): string[] {
  const kinds = { 'density-altitude': 'altitude', headwind: 'speed', weight: 'mass' } as const;
  const names = {
    'density-altitude': 'density altitude',
    headwind: 'headwind along the runway',
    weight: 'take-off weight',
  };
  const found: string[] = [];
  for (const one of input.conditions) {
    if (one.configuration !== input.configuration) continue;
    const show = (value: number) => formatValue(value, kinds[one.kind], input.units);
    found.push(
      one.from === one.to
        ? `A ${names[one.kind]} near ${show(one.from)}, as flown in the other configuration.`
        : `A ${names[one.kind]} between ${show(one.from)} and ${show(one.to)}, as flown in the other configuration.`,
    );
  }
  for (const one of input.categories) {
    if (one.configuration !== input.configuration) continue;
    const where = one.kind === 'surface' ? 'on the surface' : 'from runway';
    found.push(`A take-off ${where} "${escapeMarkdown(one.value)}", as flown in the other configuration.`);
  }
  for (const one of input.days) {
    if (one.moreDays === null || one.moreDays <= 0) continue;
    const several = input.days.some((other) => other.from !== one.from || other.to !== one.to);
    const pair = several ? `, "${escapeMarkdown(one.from ?? '')}" and "${escapeMarkdown(one.to ?? '')}"` : '';
    found.push(
      `${escapeMarkdown(metricTitle(one.metric, input.units))}${pair}: ${formatCount(one.moreDays, 'more flying day')} in each configuration would settle it.`,
    );
  }
  return found;
}

function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
