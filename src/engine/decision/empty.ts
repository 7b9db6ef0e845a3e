import {
  balance,
  changeEquipment,
  type Balance,
  type ChangedEmpty,
  type EquipmentChange,
  type MassPoint,
} from '../loading/index.ts';
import type { DecisionSections } from '../spec/types.ts';

/** An empty aeroplane: a configuration as it is, or what a candidate would make of it. */
export interface EmptyState {
  readonly id: string;
  readonly kind: 'configuration' | 'candidate';
  /** Absent where neither a weighing with its arm nor a calculation from one is possible. */
  readonly empty?: Balance;
  readonly found?: 'weighed' | 'calculated';
  /** Against the configuration it was changed from. */
  readonly changedFrom?: string;
  readonly change?: ChangedEmpty;
  /** What the equipment says where the aeroplane was weighed as well, kg: should agree with the weighing. */
  readonly calculatedMassKg?: number;
  readonly remarks: readonly string[];
}

type WrittenItems = DecisionSections['configurations'][string]['removed'];

/** A calculated change is acceptable only when weight and arm of every item are known exactly; else weigh. */
const weighRemark =
  'Calculated, not weighed: acceptable only when weight and arm of every item are known exactly; otherwise weigh (FAA-H-8083-30B ch. 6).';

function pointsOf(items: WrittenItems): MassPoint[] {
  return (items ?? []).map((item) => ({
    name: item.item,
    massKg: item.weight.value,
    armM: item.arm,
    massSigmaKg: item.weight.sigma,
  }));
}

function changeOf(written: { readonly removed?: WrittenItems; readonly installed?: WrittenItems }): EquipmentChange {
  return { removed: pointsOf(written.removed), installed: pointsOf(written.installed) };
}

function asPoint(empty: Balance): MassPoint {
  return {
    name: 'empty',
    massKg: empty.massKg,
    armM: empty.cgM,
    massSigmaKg: empty.massSigmaKg,
    armSigmaM: empty.cgSigmaM,
  };
}

/** How far the weighed mass may be from the calculated one before it is remarked: three standard deviations. */
const disagreementSigmas = 3;

/** What is removed weighs as much as the whole aeroplane: a slip of the pen. */
function removesMoreThanThereIs(empty: Balance, written: { readonly removed?: WrittenItems }): boolean {
  return pointsOf(written.removed).reduce((sum, point) => sum + point.massKg, 0) >= empty.massKg;
}

function tooHeavyEmpty(empty: Balance, maximumMassKg: number | undefined): string[] {
  return maximumMassKg !== undefined && empty.massKg >= maximumMassKg
    ? ['Empty it is as heavy as the maximum weight already: nothing can be carried.']
    : [];
}

/** Why there is no empty weight. */
function withoutEmpty(from: EmptyState | undefined, written: { readonly removed?: WrittenItems }): string {
  return from?.empty !== undefined && removesMoreThanThereIs(from.empty, written)
    ? 'More is removed than the empty aeroplane weighs: check the weights of the equipment.'
    : 'No empty weight with its arm is given.';
}

/** Empty mass and CG of every configuration and candidate, weighed where it was, calculated where the equipment allows. */
export function emptyStates(sections: DecisionSections): readonly EmptyState[] {
  const known = new Map<string, EmptyState>();
  const limits = {
    maximumMassKg: sections.aircraft['maximum-weight'],
    meanAerodynamicChordM: sections.loading?.chord,
  };
  const changed = (
    from: EmptyState | undefined,
    written: { readonly removed?: WrittenItems; readonly installed?: WrittenItems },
  ): ChangedEmpty | undefined =>
    from?.empty === undefined || removesMoreThanThereIs(from.empty, written)
      ? undefined
      : changeEquipment(asPoint(from.empty), changeOf(written), limits);

  const configuration = (id: string): EmptyState => {
    const before = known.get(id);
    if (before !== undefined) return before;
    const facts = sections.configurations[id];
    const changedFrom = facts['changed-from'];
    const from = changedFrom === undefined ? undefined : configuration(changedFrom);
    const change = changedFrom === undefined ? undefined : changed(from, facts);
    const mass = facts['empty-weight'];
    const armM = facts['empty-arm'] ?? change?.after.cgM;
    const remarks: string[] = [];
    let empty: Balance | undefined;
    let found: EmptyState['found'];
    if (mass !== undefined && armM !== undefined) {
      empty = balance([{ name: 'empty', massKg: mass.value, armM, massSigmaKg: mass.sigma }]);
      found = 'weighed';
      if (change !== undefined) {
        const sigma = Math.hypot(mass.sigma, change.after.massSigmaKg);
        const differs = Math.abs(mass.value - change.after.massKg) > disagreementSigmas * sigma;
        if (differs)
          remarks.push('The weighing and the equipment listed do not agree: something is missing from the list.');
        if (facts['empty-arm'] === undefined) remarks.push('The centre of gravity is calculated from the equipment.');
      }
    } else if (change !== undefined) {
      empty = change.after;
      found = 'calculated';
      remarks.push(weighRemark);
    } else remarks.push(withoutEmpty(from, facts));
    if (empty !== undefined) remarks.push(...tooHeavyEmpty(empty, limits.maximumMassKg));
    const state: EmptyState = {
      id,
      kind: 'configuration',
      empty,
      found,
      changedFrom,
      change,
      calculatedMassKg: found === 'weighed' ? change?.after.massKg : undefined,
      remarks,
    };
    known.set(id, state);
    return state;
  };

  const configurations = Object.keys(sections.configurations).map(configuration);
  const baseline =
    Object.entries(sections.configurations).find(([, facts]) => facts.baseline === true)?.[0] ?? configurations[0]?.id;
  const candidates = Object.entries(sections.candidates ?? {}).map(([id, candidate]): EmptyState => {
    const changedFrom = candidate.from ?? baseline;
    const change = changed(known.get(changedFrom), candidate);
    const listed = (candidate.removed?.length ?? 0) + (candidate.installed?.length ?? 0) > 0;
    return {
      id,
      kind: 'candidate',
      empty: change?.after,
      found: change === undefined ? undefined : 'calculated',
      changedFrom,
      change,
      remarks:
        change === undefined
          ? [withoutEmpty(known.get(changedFrom), candidate)]
          : [
              listed ? weighRemark : 'No equipment is listed: the weight of the change is taken as nothing.',
              ...tooHeavyEmpty(change.after, limits.maximumMassKg),
            ],
    };
  });
  return [...configurations, ...candidates];
}
