import type { EventOverride, Landing, Takeoff } from '../../../shared/analysis.ts';
import { formatCount } from '../../../shared/format.ts';
import type { Instant } from '../../../shared/measured.ts';
import type { Problem } from '../../../shared/problem.ts';

const words: Readonly<Record<EventOverride['event'], string>> = {
  'roll-start': 'start of roll',
  liftoff: 'lift-off',
  touchdown: 'touchdown',
  stop: 'end of roll',
};

/** Events that the pilot gave and that no take-off or landing of the recording took: told, so that none is lost silently. */
export function unusedOverrides(
  overrides: readonly EventOverride[],
  takeoffs: readonly Takeoff[],
  landings: readonly Landing[],
): Problem[] {
  return overrides.flatMap((override): Problem[] => {
    const { event, number } = override;
    const taken: Instant | undefined = {
      'roll-start': takeoffs[number - 1]?.rollStart,
      liftoff: takeoffs[number - 1]?.liftoff,
      touchdown: landings[number - 1]?.touchdown,
      stop: landings[number - 1]?.stop,
    }[event];
    if (taken?.origin === 'pilot') return [];
    const ofTakeoff = event === 'roll-start' || event === 'liftoff';
    const found = ofTakeoff ? takeoffs : landings;
    const one = ofTakeoff ? 'take-off' : 'landing';
    const why =
      number > found.length
        ? `the recording shows ${found.length === 0 ? `no ${one}` : formatCount(found.length, one)}`
        : event === 'liftoff' && takeoffs[number - 1].outcome === 'rejected'
          ? `take-off ${number} is a rejected one`
          : `${one} ${number} has none in this recording`;
    return [
      {
        code: 'correction-without-event',
        severity: 'warning',
        message: `The ${words[event]} no. ${number} given by the pilot is not used: ${why}.`,
      },
    ];
  });
}
