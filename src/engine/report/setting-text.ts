import { formatShort } from '../../../shared/format.ts';
import type { Setting, Spec } from '../spec/index.ts';

/** "14.5 deg". */
export function settingText({ value, unit }: Setting): string {
  return `${formatShort(value, 4)} ${unit}`;
}

/** "blade angle, deg": for an axis; undefined where no configuration has a setting. */
export function settingAxis(spec: Spec): string | undefined {
  const unit = spec.configurations.find(({ setting }) => setting !== undefined)?.setting?.unit;
  return unit === undefined ? undefined : `${spec.settingOf ?? 'setting'}, ${unit}`;
}
