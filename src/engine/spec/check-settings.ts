import type { Report } from './check.ts';
import type { WrittenSpec } from './grammar/language.ts';
import { settingFactor, type WrittenSetting } from './grammar/sections/setting.ts';

/** The first setting that is written: the others are told in its unit. */
export function firstSetting(spec: WrittenSpec): WrittenSetting | undefined {
  return Object.values(spec.configurations).find(({ setting }) => setting !== undefined)?.setting;
}

/** Settings and weights of configurations: settings that are not of one part or cannot be told in one unit; and those that say less than the writer may think. */
export function checkSettings(spec: WrittenSpec, report: Report, whole: boolean): void {
  checkWeights(spec, report);
  const first = firstSetting(spec);
  if (first === undefined) return;
  const named = Object.values(spec.configurations).find(({ setting }) => setting?.of !== undefined)?.setting?.of;
  const seen = new Map<number, string>();
  for (const [id, { setting }] of Object.entries(spec.configurations)) {
    const path = ['configurations', id, 'setting'];
    if (setting === undefined) {
      // One that could not be understood is told as that.
      if (!whole) continue;
      report(
        'spec-improbable',
        ['configurations', id],
        `"${id}" has no setting, others have: it is left out of the figures against it.`,
        'info',
        'key',
      );
      continue;
    }
    const factor = settingFactor(setting.unit, first.unit);
    if (factor === undefined) {
      report(
        'spec-impossible',
        path,
        `The setting of "${id}" is in "${setting.unit}", another one is in "${first.unit}": give all in one unit.`,
      );
      continue;
    }
    if (setting.of !== undefined && setting.of !== named) {
      report(
        'spec-impossible',
        path,
        `"${setting.of}" here and "${named}" in another configuration: the settings of one comparison are those of one part.`,
      );
    }
    const value = Number((setting.value * factor).toPrecision(9));
    const other = seen.get(value);
    if (other !== undefined) {
      report(
        'spec-improbable',
        path,
        `"${other}" has the same setting: what differs between the two is something else.`,
        'info',
      );
    }
    seen.set(value, id);
  }
}

/** Weights at which configurations are judged that the aeroplane cannot have. */
function checkWeights(spec: WrittenSpec, report: Report): void {
  const maximum = spec.aircraft['maximum-weight'];
  for (const [id, facts] of Object.entries(spec.configurations)) {
    const { weight } = facts;
    const empty = facts['empty-weight']?.value;
    const path = ['configurations', id, 'weight'];
    if (weight === undefined) continue;
    if (empty !== undefined && weight < empty)
      report('spec-impossible', path, `The weight is below the empty weight of "${id}".`);
    if (maximum !== undefined && weight > maximum)
      report('spec-improbable', path, 'The weight is above the maximum take-off weight.', 'warning');
  }
}
