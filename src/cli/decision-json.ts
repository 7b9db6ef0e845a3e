import type { Interval } from '../../shared/measured.ts';
import type { DecisionResult } from '../engine/decision/index.ts';
import type { Balance, LoadedCase } from '../engine/loading/index.ts';
import { suitabilityOf } from '../engine/missions/index.ts';

const m = ({ value, low, high }: Interval): Interval => ({ value, low, high });
const maybe = (one: Interval | undefined): Interval | undefined => one && m(one);
const balanceJson = (one: Balance | undefined) =>
  one && { massKg: one.massKg, cgM: one.cgM, massSigmaKg: one.massSigmaKg, cgSigmaM: one.cgSigmaM };

const caseJson = (one: LoadedCase) => ({
  name: one.name,
  ...balanceJson(one.balance),
  inside: one.check?.inside,
  forwardMarginM: one.check?.forwardMarginM,
  aftMarginM: one.check?.aftMarginM,
  massMarginKg: one.check?.massMarginKg,
  loads: one.loads,
  remarks: one.remarks,
});

/** For JSON.stringify: nine significant digits of every number, as in all of the machine-readable output. */
export function shortNumbers(_key: string, value: unknown): unknown {
  return typeof value === 'number' && Number.isFinite(value) ? Number(value.toPrecision(9)) : value;
}

/** The parts around the flights as they stand in machine-readable output; described in JSON.md. */
export function decisionJson(decided: DecisionResult) {
  const suits = decided.missions && suitabilityOf(decided.missions);
  return {
    loading: decided.loading && {
      maximumMassKg: decided.loading.maximumMassKg,
      states: decided.loading.states.map((state) => ({
        id: state.id,
        kind: state.kind,
        found: state.found,
        empty: balanceJson(state.empty),
        changedFrom: state.changedFrom,
        massChangeKg: state.change?.massChangeKg,
        cgChangeM: state.change?.cgChangeM,
        usefulLoadKg: state.usefulLoadKg,
        percentMac: state.percentMac,
        loadings: state.loadings.map((one) => ({ name: one.name, cases: one.cases.map(caseJson) })),
        adverse: state.adverse.map(caseJson),
        remarks: state.remarks,
      })),
    },
    range: decided.range && {
      reserve: decided.range.reserve,
      allowanceM3: decided.range.allowanceM3,
      allowanceStated: decided.range.allowanceStated,
      headwindMps: decided.range.headwindMps,
      rows: decided.range.rows.map((row) => ({
        configuration: row.configuration,
        setting: row.setting,
        trueAirspeedMps: m(row.trueAirspeedMps),
        fuelFlowM3ps: m(row.fuelFlowM3ps),
        enduranceS: maybe(row.enduranceS),
        rangeM: maybe(row.rangeM),
        costPerHour: row.cost?.perHour,
        costPerMetre: row.cost?.perMetre,
        currency: row.cost === undefined ? undefined : decided.range?.currency,
        payloadRange: row.payloadRange,
        remarks: row.remarks,
      })),
      missing: decided.range.missing,
    },
    candidates: decided.candidates?.map((candidate) => ({
      id: candidate.id,
      description: candidate.description,
      price: candidate.price,
      from: candidate.from,
      flown: candidate.flown,
      emptyMassKg: candidate.emptyMassKg,
      cgM: candidate.cgM,
      usefulLoadKg: candidate.usefulLoadKg,
      massChangeKg: candidate.massChangeKg,
      remarks: candidate.remarks,
      predictions: candidate.rows.map((row) => ({
        metric: row.metric,
        now: row.baseline,
        predicted: m(row.predicted),
        change: maybe(row.change),
        measured: maybe(row.measured),
        measuredChange: maybe(row.measuredChange),
        found: row.found,
      })),
    })),
    missions: decided.missions?.map((one) => ({
      ...one,
      takes: maybe(one.takes),
      doesAll: suits?.all.includes(one.configuration),
    })),
    plan: decided.plan && {
      configuration: decided.plan.configuration,
      days: decided.plan.days,
      conditions: decided.plan.conditions,
      categories: decided.plan.categories,
      card: decided.plan.card,
      sheet: decided.plan.sheet,
    },
  };
}
