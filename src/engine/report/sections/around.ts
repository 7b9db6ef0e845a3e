import type { DisplayUnits } from '../../../../shared/display-units.ts';
import {
  formatCount,
  formatDuration,
  formatFixed,
  formatInterval,
  formatValue,
  inShownUnit,
  shownUnit,
} from '../../../../shared/format.ts';
import { escapeMarkdown, markdownTable } from '../../../../shared/markdown.ts';
import { metricTitle } from '../../../../shared/metric-title.ts';
import type { DecisionResult, LoadingResult, PlanResult, RangeSection } from '../../decision/index.ts';
import { envelopeFigure } from '../figures/envelope.ts';
import { joined, massText, armText, sentence } from './around-words.ts';
import { candidatesSection } from './candidates.ts';
import { missionsSection } from './missions.ts';

/** What these sections need of the report, or of the command that prints one of them alone. */
export interface AroundContext {
  readonly units: DisplayUnits;
  readonly heading: (level: number) => string;
  readonly show: (name: string, title: string, svg: () => string) => string;
  /** Whether names of places are kept out; shown if not stated. */
  readonly names?: { readonly hidden: boolean };
}

/** Weight and balance of each state of the aeroplane in each loading. */
export function loadingSection(loading: LoadingResult, context: AroundContext): string {
  const { units } = context;
  const empties = loading.states.map((state) => [
    escapeMarkdown(state.id),
    state.empty === undefined ? '-' : massText(state.empty.massKg, units),
    state.empty === undefined ? '-' : armText(state.empty.cgM, units),
    state.percentMac === undefined ? '-' : `${formatFixed(state.percentMac, 1)} %`,
    state.change === undefined ? '-' : massText(state.change.massChangeKg, units, true),
    state.change === undefined ? '-' : armText(state.change.cgChangeM, units, true),
    state.usefulLoadKg === undefined ? '-' : massText(state.usefulLoadKg, units),
    state.found ?? 'not known',
  ]);
  const loadings = (state: LoadingResult['states'][number]) => [
    ...state.loadings,
    ...(state.adverse.length === 0 ? [] : [{ name: 'any allowed', cases: state.adverse }]),
  ];
  const rows = loading.states.flatMap((state) =>
    loadings(state).flatMap((one) =>
      one.cases.map((each) => [
        escapeMarkdown(state.id),
        escapeMarkdown(one.name),
        each.name,
        massText(each.balance.massKg, units),
        armText(each.balance.cgM, units),
        each.check?.forwardMarginM === undefined ? '-' : armText(each.check.forwardMarginM, units, true),
        each.check?.aftMarginM === undefined ? '-' : armText(each.check.aftMarginM, units, true),
        each.remarks.length === 0 ? (each.check === undefined ? '' : 'inside') : `**${each.remarks.join('; ')}**`,
      ]),
    ),
  );
  const outside = loading.states.flatMap((state) =>
    loadings(state).flatMap((one) => one.cases.filter((each) => each.check?.inside === false)),
  ).length;
  const lines = [
    `${context.heading(2)} Weight and balance`,
    '',
    "> Arithmetic for deciding. The flight manual's limits and the mechanic's weight-and-balance record rule; both must show the change before flight.",
    '',
    markdownTable(
      ['State', 'Empty weight', 'Empty CG', '% MAC', 'Change', 'CG change', 'Useful load', 'How known'],
      empties,
      ['left', 'right', 'right', 'right', 'right', 'right', 'right'],
    ),
    ...loading.states.flatMap((state) =>
      state.remarks.map((remark) => `- *${escapeMarkdown(state.id)}*: ${sentence(remark)}`),
    ),
    '',
  ];
  if (rows.length > 0) {
    if (loading.envelope !== undefined) {
      const title = 'Loadings and the envelope of the flight manual';
      lines.push(
        context.show('loading', title, () =>
          envelopeFigure(loading, units, {
            title,
            description:
              outside === 0
                ? 'All loadings lie inside the envelope.'
                : `${formatCount(outside, 'loading')} outside the envelope.`,
          }),
        ),
        '',
      );
    }
    lines.push(
      markdownTable(['State', 'Loading', 'Case', 'Weight', 'CG', 'To forward limit', 'To aft limit', 'Remark'], rows, [
        'left',
        'left',
        'left',
        'right',
        'right',
        'right',
        'right',
      ]),
      '',
    );
    if (loading.envelope === undefined)
      lines.push('No envelope is stated: no loading was checked against the limits of the centre of gravity.', '');
  }
  return joined(lines);
}

/** Endurance and range with the reserve kept. */
export function rangeSection(range: RangeSection, context: AroundContext): string {
  const { units } = context;
  const hours = (seconds: number): string => formatDuration(seconds);
  const rows = range.rows.map((row) => [
    escapeMarkdown(row.configuration),
    escapeMarkdown(row.setting),
    formatInterval(row.trueAirspeedMps, 'speed', units),
    formatInterval(row.fuelFlowM3ps, 'fuel-flow', units),
    row.enduranceS === undefined
      ? '-'
      : `${hours(row.enduranceS.value)} (${hours(row.enduranceS.low)} to ${hours(row.enduranceS.high)})`,
    row.rangeM === undefined ? row.remarks.join('; ') : formatInterval(row.rangeM, 'route-distance', units),
    row.cost === undefined
      ? '-'
      : `${formatFixed(row.cost.perHour, 0)} ${range.currency ?? ''} an hour, ${formatFixed(row.cost.perMetre / inShownUnit(1, 'route-distance', units), 2)} ${range.currency ?? ''} a ${shownUnit('route-distance', units).symbol}`.replace(
          / {2,}/g,
          ' ',
        ),
  ]);
  const corners = range.rows.flatMap((row) =>
    row.payloadRange.map((corner) => [
      escapeMarkdown(row.configuration),
      escapeMarkdown(row.setting),
      corner.name,
      massText(corner.payloadKg, units),
      massText(corner.fuelKg, units),
      formatValue(corner.rangeM, 'route-distance', units, 0),
    ]),
  );
  const source = range.reserve.source === undefined ? '' : ` (${escapeMarkdown(range.reserve.source)})`;
  const lines = [
    `${context.heading(2)} Range and endurance`,
    '',
    `Reserve kept: ${escapeMarkdown(range.reserve.title)}${source}, at the greatest of the cruise flows; ${range.allowanceStated ? `allowance for start, taxi and climb ${formatValue(range.allowanceM3, 'volume', units)}` : '**nothing set aside for start, taxi and climb, as no allowance is written**'}; headwind ${formatValue(range.headwindMps, 'speed', units, 0)}. A reserve is a legal minimum, not a plan; your state's rule may differ.`,
    '',
  ];
  if (rows.length > 0) {
    lines.push(
      markdownTable(['Configuration', 'Setting', 'True airspeed', 'Fuel flow', 'Endurance', 'Range', 'Cost'], rows),
      '',
    );
  }
  if (corners.length > 0) {
    lines.push(
      'What can be carried how far:',
      '',
      markdownTable(['Configuration', 'Setting', 'Corner', 'Payload', 'Fuel', 'Range'], corners, [
        'left',
        'left',
        'left',
        'right',
        'right',
        'right',
      ]),
      '',
    );
  }
  for (const one of range.missing)
    lines.push(`- *${escapeMarkdown(one.configuration)}*: not worked out, ${one.reason}.`);
  return joined(lines);
}

/** How many days, which conditions; the card and the sheet are files of their own. */
export function planSection(plan: PlanResult, context: AroundContext): string {
  const { units } = context;
  const lines = [`${context.heading(2)} The next flights`, ''];
  if (plan.days.length > 0) {
    lines.push(
      markdownTable(
        ['Metric', 'From', 'To', 'So far', 'Could have shown', 'More flying days in each'],
        plan.days.map((row) => [
          escapeMarkdown(metricTitle(row.metric, units)) + (row.footing === 'as-flown' ? ', as flown' : ''),
          escapeMarkdown(row.from),
          escapeMarkdown(row.to),
          row.verdict,
          row.detectablePercent === undefined ? '-' : `${formatFixed(row.detectablePercent, 1)} %`,
          row.moreDays === null ? '-' : formatFixed(row.moreDays, 0),
        ]),
        ['left', 'left', 'left', 'left', 'right', 'right'],
      ),
      '',
      'Days count, not runs: the runs of a day share its weather.',
      '',
    );
  }
  const kinds = { 'density-altitude': 'altitude', headwind: 'speed', weight: 'mass' } as const;
  for (const one of plan.conditions) {
    const show = (value: number): string => formatValue(value, kinds[one.kind], units);
    lines.push(
      `- *${escapeMarkdown(one.configuration)}* needs a day with a ${one.kind.replace('-', ' ')} between ${show(one.from)} and ${show(one.to)}.`,
    );
  }
  for (const one of plan.categories)
    lines.push(
      `- *${escapeMarkdown(one.configuration)}* needs a flight with ${one.kind} "${escapeMarkdown(one.value)}".`,
    );
  if (plan.conditions.length + plan.categories.length === 0) {
    lines.push(
      plan.days.length === 0
        ? 'No flight has been compared yet: fly both configurations in as many weathers as you can.'
        : 'The conditions flown match well enough.',
    );
  }
  return joined(lines);
}

/** The sections that the spec asks for, in the order of the job. */
export function aroundSections(decided: DecisionResult, context: AroundContext): readonly string[] {
  return [
    decided.missions === undefined ? '' : missionsSection(decided.missions, context),
    decided.range === undefined ? '' : rangeSection(decided.range, context),
    decided.loading === undefined ? '' : loadingSection(decided.loading, context),
    decided.candidates === undefined ? '' : candidatesSection(decided.candidates, context),
    decided.plan === undefined ? '' : planSection(decided.plan, context),
  ];
}
