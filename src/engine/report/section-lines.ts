import type { DisplayUnits } from '../../../shared/display-units.ts';
import {
  formatCount,
  formatInterval,
  formatList,
  formatPercentInterval,
  formatSigned,
  inShownUnit,
  type QuantityKind,
  shownUnit,
} from '../../../shared/format.ts';
import { metricTitle } from '../../../shared/metric-title.ts';
import type { CandidateResult, DecisionResult, LoadingResult, PlanResult, RangeSection } from '../decision/index.ts';
import { type SuitedNeed, type Suitability, suitabilityOf } from '../missions/index.ts';

/** The sections of a spec around the flights, as they are named there. */
export const decisionSectionNames = ['loading', 'fuel', 'candidates', 'missions', 'plan'] as const;

export type DecisionSectionName = (typeof decisionSectionNames)[number];

const plain = (text: string): string => text.replace(/\.$/, '');

function loadingLine({ states, envelope }: LoadingResult): string {
  const cases = states.flatMap((state) => [...state.loadings.flatMap((one) => one.cases), ...state.adverse]);
  const outside = cases.filter(({ check }) => check?.inside === false).length;
  const remarked = cases.filter(({ remarks }) => remarks.length > 0).length;
  const known = states.filter(({ empty }) => empty !== undefined).length;
  if (known === 0) return 'No state has an empty weight with its arm';
  if (cases.length === 0) return `${formatCount(known, 'state')} with weight and balance; no loading is written`;
  if (envelope === undefined) return 'No envelope is written: the balance was not checked';
  if (outside > 0) return `${outside} of ${formatCount(cases.length, 'loading')} outside the envelope`;
  return remarked > 0
    ? `All loadings inside the envelope; ${formatCount(remarked, 'remark')}`
    : 'All loadings inside the envelope';
}

function fuelLine({ rows, missing }: RangeSection, units: DisplayUnits): string {
  const ranges = rows.map(({ configuration, rangeM }) =>
    rangeM === undefined
      ? `${configuration} nothing left for cruise`
      : `${configuration} ${formatInterval(rangeM, 'route-distance', units)}`,
  );
  const left = missing.map(({ configuration }) => configuration);
  if (ranges.length === 0) return 'No range could be worked out: the report says why';
  return `Range with reserve: ${ranges.join(', ')}${left.length === 0 ? '' : `; not worked out: ${left.join(', ')}`}`;
}

function percentOf(share: { readonly value: number; readonly low: number; readonly high: number }): string {
  return formatPercentInterval({ value: 100 * share.value, low: 100 * share.low, high: 100 * share.high });
}

function candidateLine({ rows, remarks }: CandidateResult, units: DisplayUnits): string {
  const changes = rows.flatMap(({ metric, change }) =>
    change === undefined ? [] : [`${metricTitle(metric, units).toLowerCase()} ${percentOf(change)}`],
  );
  if (changes.length > 0) return `Predicted: ${changes.join(', ')}`;
  return `Not predicted: ${plain(remarks[0] ?? 'the report says why')}`;
}

function planLine({ configuration, days }: PlanResult): string {
  const open = days.filter(({ moreDays }) => moreDays !== null);
  const most = Math.max(0, ...open.map(({ moreDays }) => moreDays ?? 0));
  if (days.length === 0) return `Next: ${configuration}; nothing has been compared yet`;
  return open.length === 0
    ? `Next: ${configuration}; no number of further days would tell more`
    : `Next: ${configuration}; up to ${formatCount(most, 'more flying day')} in each would tell`;
}

function missionsLine({ needs, configurations, all }: Suitability): string {
  const count = formatCount(needs.length, 'mission');
  if (all.length > 0) return `${formatList(all)} ${all.length === 1 ? 'does' : 'each do'} all of ${count}`;
  const reach = configurations.map(({ id }) => `${id} ${needs.filter(({ does }) => does.includes(id)).length}`);
  return `None is shown to do all of ${count}: ${reach.join(', ')}`;
}

const needKinds: Readonly<Record<SuitedNeed['kind'], QuantityKind>> = {
  strip: 'length',
  leg: 'route-distance',
  climb: 'vertical-speed',
};

function needLine(need: SuitedNeed, units: DisplayUnits): string {
  const kind = needKinds[need.kind];
  const { symbol, decimals } = shownUnit(kind, units);
  return need.configurations
    .map(({ id, predicted, answer, margin }) => {
      const room =
        margin === undefined ? '' : ` (${formatSigned(inShownUnit(margin, kind, units), decimals)} ${symbol})`;
      return `${id}${predicted ? ' (predicted)' : ''}: ${answer}${room}`;
    })
    .join(' | ');
}

/** What the last evaluation said of a section, in one line of plain text; undefined where it has no such section. */
export function sectionLine(
  section: DecisionSectionName,
  decided: DecisionResult,
  units: DisplayUnits,
): string | undefined {
  switch (section) {
    case 'loading':
      return decided.loading && loadingLine(decided.loading);
    case 'fuel':
      return decided.range && fuelLine(decided.range, units);
    case 'candidates': {
      if (decided.candidates === undefined) return undefined;
      const told = decided.candidates.filter(({ rows }) => rows.length > 0).length;
      return `${told} of ${formatCount(decided.candidates.length, 'candidate')} predicted`;
    }
    case 'missions':
      return decided.missions && missionsLine(suitabilityOf(decided.missions));
    default:
      return decided.plan && planLine(decided.plan);
  }
}

/**
 * What it said of one entry: a mission by its name (the `occurrence`th of that name, from 0), a candidate by its own. Undefined for what it
 * did not know.
 */
export function entryLine(
  section: DecisionSectionName,
  name: string,
  occurrence: number,
  decided: DecisionResult,
  units: DisplayUnits,
): string | undefined {
  if (section === 'candidates') {
    const found = decided.candidates?.find(({ id }) => id === name);
    return found && candidateLine(found, units);
  }
  if (section !== 'missions' || decided.missions === undefined) return undefined;
  const need = suitabilityOf(decided.missions).needs.filter((one) => one.need === name)[occurrence];
  return need && needLine(need, units);
}
