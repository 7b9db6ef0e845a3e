import type { ShareOptions } from './share.ts';

/** What a determined reader can still find in copies made this way, as plain sentences. */
export function whatRemains(options: Omit<ShareOptions, 'seed' | 'format'>): string[] {
  const heights =
    options.heights === 'kept'
      ? [
          'Heights are kept: with the direction of the runway they single out a field (relative heights would not; density altitude is lost with them).',
        ]
      : [
          'Heights are above the place where the recording begins: density altitude cannot be worked out from the copies, so note the air at the field beside them. A pressure altitude goes with them: where the recorder wrote one, distances over obstacles are less well known in the copy.',
        ];
  const dates =
    options.dates === 'kept'
      ? ['Dates are kept: temperatures and winds of that day can be looked up and compared (moved dates cannot).']
      : ['The days between the flights are kept, and the time of day in UTC: it tells the longitude roughly.'];
  if (options.places === 'moved') {
    return [
      'The shape of the flight is kept: runway directions and lengths, taxiways, the circuit and turns over landmarks can be laid on a map. Whoever knows the region will find the field; share moved copies with people you trust to leave that be.',
      ...heights,
      ...dates,
    ];
  }
  return [
    'Everything outside the circles is where it really was: the region is plain to see, the last leg points at the field, and where a circle holds only one field that is it. Take a radius that holds several.',
    'The circle is off its centre by chance, within half its radius. Copies cut with another secret have another circle, and several circles narrow the place down: use the same secret again.',
    'Take-offs and landings at the fields are gone, and all that is measured there.',
    ...heights,
    ...dates,
  ];
}
