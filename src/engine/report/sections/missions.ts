import type { DisplayUnits } from '../../../../shared/display-units.ts';
import {
  formatCount,
  formatFixed,
  formatInterval,
  formatList,
  formatSigned,
  formatValue,
  inShownUnit,
  type QuantityKind,
  shownUnit,
} from '../../../../shared/format.ts';
import { escapeMarkdown, markdownTable } from '../../../../shared/markdown.ts';
import type { DecisionResult } from '../../decision/index.ts';
import { type SuitedConfiguration, type SuitedNeed, type Suitability, suitabilityOf } from '../../missions/index.ts';
import type { AroundContext } from './around.ts';
import { joined, sentence } from './around-words.ts';

const needKinds = { strip: 'length', leg: 'route-distance', climb: 'vertical-speed' } as const;

/** The figure that the margin was taken from: of a distance needed the long end, of a range or a rate the low end. */
function counted(
  { kind, available, margin }: NonNullable<DecisionResult['missions']>[number],
  units: DisplayUnits,
): string {
  if (available === undefined || margin === undefined) return '-';
  return formatValue(kind === 'strip' ? available - margin : available + margin, needKinds[kind], units, 0);
}

type NameOf = (id: string) => string;

/** "+120 m", or nothing where no margin could be worked out. */
function marginText({ margin }: SuitedConfiguration, { kind }: SuitedNeed, units: DisplayUnits): string {
  return margin === undefined ? '' : signedValue(margin, needKinds[kind], units);
}

/** '"fine" does it with +120 m to spare, "coarse" does not (-40 m); not enough data for "middle".' */
function needSentence(need: SuitedNeed, units: DisplayUnits, name: NameOf): string {
  const withMargin = (one: SuitedConfiguration): string => {
    const margin = marginText(one, need, units);
    return `${name(one.id)}${margin === '' ? '' : ` (${margin})`}`;
  };
  const of = (answer: SuitedConfiguration['answer']): SuitedConfiguration[] =>
    need.configurations.filter((one) => one.answer === answer);
  const does = need.does.flatMap((id) => need.configurations.filter((one) => one.id === id));
  const doesNot = of('no');
  const unknown = of('not enough data');
  const parts = [
    does.length === 0 ? '' : `${formatList(does.map(withMargin))} ${does.length === 1 ? 'does' : 'do'} it`,
    doesNot.length === 0 ? '' : `${formatList(doesNot.map(withMargin))} ${doesNot.length === 1 ? 'does' : 'do'} not`,
    unknown.length === 0 ? '' : `not enough data for ${formatList(unknown.map(({ id }) => name(id)))}`,
  ].filter((part) => part !== '');
  return sentence(parts.join('; '));
}

/** Which single configuration does everything, if any; else how far each gets, and whether together they do. */
function overallSentence({ needs, configurations, all }: Suitability, name: NameOf): string {
  const count = formatCount(needs.length, 'mission');
  if (all.length > 0) {
    const which = formatList(all.map(name));
    return needs.length === 1
      ? `${which} ${all.length === 1 ? 'does' : 'do'} the mission.`
      : `${which} ${all.length === 1 ? 'does' : 'each do'} all ${count}.`;
  }
  if (needs.length === 1) return 'No configuration is shown to do the mission.';
  const reach = configurations.map(({ id }) => ({
    id,
    done: needs.filter(({ does }) => does.includes(id)).length,
    open: needs.filter(({ configurations: own }) =>
      own.some((one) => one.id === id && one.answer === 'not enough data'),
    ).length,
  }));
  const each = reach
    .map(({ id, done, open }) => `${name(id)} does ${done}${open === 0 ? '' : ` (${open} without enough data)`}`)
    .join(', ');
  const covered =
    configurations.length > 1 && needs.every(({ does }) => does.length > 0)
      ? ' Each of them is done by one configuration or another.'
      : '';
  return `No configuration is shown to do all ${count}: ${each}.${covered}`;
}

/** Needs by configurations at a glance, and in sentences. Empty with one configuration: the table below says it. */
function suitsLines(suits: Suitability, units: DisplayUnits, title: (need: string) => string): string[] {
  const { needs, configurations } = suits;
  if (configurations.length < 2) return [];
  const predicted = new Set(configurations.filter((one) => one.predicted).map(({ id }) => id));
  const name = (id: string): string => `*${escapeMarkdown(id)}*${predicted.has(id) ? ' (predicted)' : ''}`;
  const rows = needs.map((need) => [
    title(need.need),
    ...configurations.map(({ id }) => {
      const one = need.configurations.find((other) => other.id === id);
      if (one === undefined) return '-';
      const margin = marginText(one, need, units);
      return `${one.answer === 'yes' ? '**yes**' : one.answer}${margin === '' ? '' : `, ${margin}`}`;
    }),
  ]);
  return [
    markdownTable(
      ['Mission', ...configurations.map(({ id }) => `${escapeMarkdown(id)}${predicted.has(id) ? ' (predicted)' : ''}`)],
      rows,
    ),
    'The figure beside an answer is the room left at the unfavourable end; negative is missing.',
    '',
    ...needs.map((need) => `- **${title(need.need)}:** ${needSentence(need, units, name)}`),
    '',
    overallSentence(suits, name),
    '',
  ];
}

/** Each need, answered for each configuration and candidate. */
export function missionsSection(missions: NonNullable<DecisionResult['missions']>, context: AroundContext): string {
  const { units } = context;
  const lines = [
    `${context.heading(2)} Missions`,
    '',
    '> "Yes" means that the unfavourable end of the 95 % interval fits, with the published safety factors on top. It is not a clearance to fly: a distance from a recording must not decide whether a real obstacle can be cleared. Where the flight manual says more, it rules.',
    '',
  ];
  const needs = [...new Set(missions.map((one) => one.need))];
  // A strip is called after its place, and so is a leg.
  const title = (need: string): string => {
    if (context.names?.hidden !== true) return escapeMarkdown(need);
    return `${missions.find((one) => one.need === need)?.kind ?? 'need'} ${needs.indexOf(need) + 1}`;
  };
  lines.push(
    ...suitsLines(suitabilityOf(missions), units, title),
    '"Mean" is what the flights, or for a candidate the prediction, give at the conditions of the need, with its interval. "Counted with" is what the margin is taken from: the unfavourable end, and for a strip that of a single take-off times the safety factor.',
    '',
    markdownTable(
      ['Need', 'Configuration', 'Answer', 'Mean', 'Counted with', 'Asked or available', 'Margin', 'Why'],
      needs.flatMap((need) =>
        missions
          .filter((one) => one.need === need)
          .map((one) => {
            const kind = needKinds[one.kind];
            const margin = one.margin === undefined ? '-' : signedValue(one.margin, kind, units);
            return [
              title(need),
              `${escapeMarkdown(one.configuration)}${one.predicted ? ' (predicted)' : ''}`,
              `**${one.answer}**`,
              one.takes === undefined ? '-' : formatInterval(one.takes, kind, units),
              counted(one, units),
              one.available === undefined ? '-' : formatValue(one.available, kind, units, 0),
              margin,
              one.why.map(sentence).join(' '),
            ];
          }),
      ),
    ),
    '',
  );
  const factors = missions.filter((one) => one.factors.length > 0);
  if (factors.length > 0) {
    lines.push(
      'Factors applied to what was measured at the reference conditions:',
      '',
      markdownTable(
        ['Need', 'Configuration', 'Factor', 'Value', 'Source'],
        factors.flatMap((one) =>
          one.factors.map((factor) => [
            title(one.need),
            escapeMarkdown(one.configuration),
            factor.name,
            formatFixed(factor.factor, 3),
            factor.source,
          ]),
        ),
        ['left', 'left', 'left', 'right', 'left'],
      ),
      '',
    );
  }
  return joined(lines);
}

function signedValue(valueSi: number, kind: QuantityKind, units: DisplayUnits): string {
  const shown = shownUnit(kind, units);
  return `${formatSigned(inShownUnit(valueSi, kind, units), shown.decimals)} ${shown.symbol}`;
}
