import type { SharedCampaign } from './known-answers.ts';

/** The notes (`conditions.json`) of a campaign kept beside the repository, as a comparison spec. */
interface NotedFlight {
  file: string;
  configuration: string;
  oatC: number | null;
  qnhHpa: number | null;
  surfaceWind: { fromTrueDeg: number | null; speedKt: number; gustKt?: number | null } | null;
  takeoffMassKg: number | null;
  fuelAtStartL: number | null;
  fuelUsedL: number | null;
  runway: { name: string; trueHeadingDeg: number; elevationFt: number; slopePercentUp: number | null; surface: string };
  climbIasKt: number | null;
  cruiseSetting: string | null;
  technique: string | null;
}

interface Noted {
  aircraft: { name: string; referenceMassKg: number; wingAreaM2: number; spanM: number };
  configurations: Record<string, { description: string; ratedPowerHp: number; weighing: Record<string, number> }>;
  flights: NotedFlight[];
}

export function sharedSpec(campaign: SharedCampaign): string {
  const noted = campaign.conditions as unknown as Noted;
  const { truth } = campaign;
  const reference = truth.reference as { massKg: number; loadOnTopOfEmptyKg: number };
  const empty = (weighing: Record<string, number>): number =>
    Object.entries(weighing).reduce((sum, [key, value]) => (key.endsWith('Kg') ? sum + value : sum), 0);
  const surface = (words: string): string => {
    const parts = words.split(',').map((part) => part.trim());
    const kind = /grass/.test(words) ? 'grass' : 'paved';
    return parts.includes('wet') ? `wet ${kind}` : kind;
  };
  const line = (key: string, value: string | null | undefined): string[] =>
    value === null || value === undefined ? [] : [`    ${key}: ${value}`];
  const unit = (value: number | null, name: string): string | undefined =>
    value === null ? undefined : `${value} ${name}`;
  return `${[
    'modproof: 1',
    `title: ${JSON.stringify(truth.title)}`,
    'aircraft:',
    `  name: ${noted.aircraft.name}`,
    '  propeller: fixed-pitch',
    `  reference-weight: ${reference.massKg} kg`,
    `  wing-area: ${noted.aircraft.wingAreaM2} m2`,
    `  wing-span: ${noted.aircraft.spanM} m`,
    'configurations:',
    ...Object.entries(noted.configurations).map(
      ([id, one], i) =>
        `  ${id}: { ${i === 0 ? 'baseline: true, ' : ''}empty-weight: ${empty(one.weighing)} kg +- 1 kg, rated-power: ${one.ratedPowerHp} hp }`,
    ),
    'flights:',
    ...noted.flights.flatMap((flight) => {
      const { runway, surfaceWind } = flight;
      const [style, start] = (flight.technique ?? '').split(',').map((part) => part.trim());
      let wind: string | undefined;
      if (surfaceWind) {
        if (surfaceWind.speedKt === 0) wind = 'calm';
        else if (surfaceWind.fromTrueDeg === null) wind = `variable ${surfaceWind.speedKt} kt`;
        else {
          const gust = surfaceWind.gustKt ? ` gusting ${surfaceWind.gustKt} kt` : '';
          wind = `${String(surfaceWind.fromTrueDeg).padStart(3, '0')} deg ${surfaceWind.speedKt} kt${gust}`;
        }
      }
      return [
        `  - track: ${flight.file}`,
        `    configuration: ${flight.configuration}`,
        `    runway: { heading: ${runway.trueHeadingDeg} deg, elevation: ${runway.elevationFt} ft, surface: ${surface(runway.surface)}${runway.slopePercentUp === null ? '' : `, slope: ${runway.slopePercentUp} %`} }`,
        ...line('air-temperature', unit(flight.oatC, 'degC')),
        ...line('altimeter-setting', unit(flight.qnhHpa, 'hPa')),
        ...line('wind', wind),
        ...line('weight', unit(flight.takeoffMassKg, 'kg')),
        ...line('technique', style === '' ? undefined : style),
        ...line('start', start?.includes('rolling') ? 'rolling' : start?.includes('standing') ? 'standing' : undefined),
        ...line('climb-speed', unit(flight.climbIasKt, 'kt')),
        ...line('cruise-setting', flight.cruiseSetting),
        ...line('fuel-at-start', unit(flight.fuelAtStartL, 'L')),
        ...line('fuel-used', unit(flight.fuelUsedL, 'L')),
      ];
    }),
    'reference:',
    '  density-altitude: 0 ft',
    '  climb-density-altitude: 2000 ft',
    '  cruise-density-altitude: 3000 ft',
    `  load: ${reference.loadOnTopOfEmptyKg} kg`,
    'questions:',
    '  - { metric: ground-roll, primary: true }',
    '  - distance-over: 50 ft',
    '  - distance-over: 100 ft',
    '  - metric: rate-of-climb',
    '  - climb-held-to: 500 ft/min',
    '  - metric: level-speed',
  ].join('\n')}\n`;
}
