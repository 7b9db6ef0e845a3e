import { formatList } from '../../../shared/format.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { Spec } from '../spec/types.ts';
import { median } from '../stats/sample.ts';
import type { UsableFlight } from './flight-runs.ts';
import type { Target } from './run.ts';

export interface Targets {
  readonly targets: readonly Target[];
  /** Mass to which everything is brought at equal weight, kg. */
  readonly referenceMassKg?: number;
  readonly loadKg?: number;
  readonly problems: readonly Problem[];
}

/** The footings asked for, with the mass of each configuration on each. */
export function targetsOf(spec: Spec, flights: readonly UsableFlight[]): Targets {
  const problems: Problem[] = [];
  const noted = flights.flatMap(({ entry }) => entry.conditions.takeoffMassKg?.value ?? []);
  let referenceMassKg = spec.reference.massKg ?? spec.aircraft.referenceMassKg;
  if (referenceMassKg === undefined && noted.length > 0) {
    referenceMassKg = Math.round(median(noted));
    problems.push({
      code: 'compare-reference-mass-assumed',
      severity: 'info',
      message: `No reference weight is written: the middle of the noted take-off weights, ${referenceMassKg} kg, is used.`,
    });
  }
  const targets: Target[] = [{ footing: 'as-flown', massOf: () => undefined }];
  const asked = spec.questions.at.length > 0 ? spec.questions.at : (['equal-weight', 'equal-load'] as const);
  if (asked.includes('own-weight')) {
    const ownOf = (id: string) => spec.configurations.find((configuration) => configuration.id === id)?.massKg;
    if (spec.configurations.every(({ id }) => ownOf(id) === undefined)) {
      problems.push({
        code: 'compare-no-own-weight',
        severity: 'warning',
        message: 'No comparison at own weight: no configuration has a "weight".',
      });
    } else {
      const other = referenceMassKg;
      targets.push({
        footing: 'own-weight',
        massOf: (id) => {
          const value = ownOf(id) ?? other;
          return value === undefined ? undefined : { value, sigma: 0 };
        },
      });
    }
  }
  if (asked.includes('equal-weight')) {
    const mass = referenceMassKg;
    targets.push({
      footing: 'equal-weight',
      massOf: () => (mass === undefined ? undefined : { value: mass, sigma: 0 }),
    });
  }
  const emptyOf = (id: string) => spec.configurations.find((configuration) => configuration.id === id)?.emptyMassKg;
  const baseEmpty = emptyOf(spec.baseline);
  const loadKg =
    spec.reference.loadKg ??
    (referenceMassKg === undefined || baseEmpty === undefined ? undefined : referenceMassKg - baseEmpty.value);
  if (asked.includes('equal-load')) {
    const flown = new Set(flights.map(({ entry }) => entry.configuration));
    const unknown = spec.configurations.filter(({ id, emptyMassKg }) => flown.has(id) && emptyMassKg === undefined);
    if (unknown.length > 0 || loadKg === undefined) {
      problems.push({
        code: 'compare-no-equal-load',
        severity: 'warning',
        message:
          unknown.length > 0
            ? `No comparison at equal load: ${unknown.length === 1 ? 'the empty weight' : 'the empty weights'} of ${formatList(unknown.map(({ id }) => `"${id}"`))} ${unknown.length === 1 ? 'is' : 'are'} not written.`
            : 'No comparison at equal load: neither the load nor a reference weight is written.',
      });
    } else {
      targets.push({
        footing: 'equal-load',
        massOf: (id) => {
          const empty = emptyOf(id);
          return empty === undefined ? undefined : { value: empty.value + loadKg, sigma: empty.sigma };
        },
      });
    }
  }
  return {
    targets,
    ...(referenceMassKg === undefined ? {} : { referenceMassKg }),
    ...(loadKg === undefined ? {} : { loadKg }),
    problems,
  };
}
