import { formatList, formatValue } from '../../../shared/format.ts';
import type { Question, Spec } from '../spec/types.ts';
import { askedRateMps } from './climb-runs.ts';
import type { MetricKind } from './metric-kind.ts';
import type { Footing } from './result.ts';
import type { Target } from './run.ts';
import type { Targets } from './targets.ts';

/** What the values stand for, as a sentence. */
export function conditionsText(
  spec: Spec,
  targets: Targets,
  { kind, target, question }: { readonly kind: MetricKind; readonly target: Target; readonly question: Question },
): string {
  const { units } = spec.report;
  const { reference } = spec;
  if (target.footing === 'as-flown') {
    return kind.corrected ? 'As flown: nothing is corrected.' : 'As noted and recorded; there is nothing to correct.';
  }
  const massText = (massKg: number | undefined): string =>
    massKg === undefined ? 'unknown size' : formatValue(massKg, 'mass', units);
  const own = (): string =>
    formatList(spec.configurations.map(({ id }) => `${massText(target.massOf(id)?.value)} "${id}"`));
  const masses: Readonly<Record<Exclude<Footing, 'as-flown'>, () => string>> = {
    'equal-weight': () => `a weight of ${massText(targets.referenceMassKg)}`,
    'equal-load': () => `a load of ${massText(targets.loadKg)} on each configuration's own empty weight`,
    'own-weight': () => `each configuration's own weight (${own()})`,
  };
  const mass = masses[target.footing]();
  const altitude = (valueM: number): string => `a density altitude of ${formatValue(valueM, 'altitude', units)}`;
  switch (kind.facts.name) {
    case 'climb-held-to':
    case 'service-ceiling': {
      const rate = askedRateMps({ spec, question, flights: [] });
      return `Density altitude at which the steady rate of climb has fallen to ${rate === undefined ? 'the rate asked for' : formatValue(rate, 'vertical-speed', units)}, at ${mass}.`;
    }
    case 'rate-of-climb':
    case 'best-minute-climb':
    case 'climb-gradient':
      return `At ${altitude(reference.climbDensityAltitudeM ?? reference.densityAltitudeM)} and ${mass}, at constant speed.`;
    case 'level-speed':
    case 'fuel-flow':
      return `At ${altitude(reference.cruiseDensityAltitudeM ?? reference.densityAltitudeM)} and ${mass}, at the noted power setting.`;
    default: {
      const wind =
        reference.headwindMps === 0 ? 'no wind' : `a headwind of ${formatValue(reference.headwindMps, 'speed', units)}`;
      const slope =
        reference.slope === 0 ? 'a level runway' : `a runway slope of ${formatValue(reference.slope, 'ratio', units)}`;
      const speed =
        kind.facts.name === 'ground-roll-at-equal-speed'
          ? ', at the lift-off airspeed that is usual for the weight'
          : '';
      return `At ${altitude(reference.densityAltitudeM)}, ${wind}, ${slope} and ${mass}${speed}.`;
    }
  }
}
