import { runwayEnds } from '../airfield.ts';
import type { Campaign, CampaignFlight } from '../campaign.ts';

/** A campaign as the comparison spec that its pilot would write: what he noted, with its holes. */
export function campaignSpec(campaign: Campaign): string {
  const { aeroplane, after, field, standard } = campaign;
  const [one, other] = runwayEnds(field);
  const runway = (end: typeof one): string =>
    `      "${end.name}": { heading: ${degrees(end.headingRad)} deg, slope: ${(end.slope * 100).toFixed(1)} %, elevation: ${end.elevationM.toFixed(0)} m }`;
  return `${[
    'modproof: 1',
    `title: ${JSON.stringify(campaign.change.name)}`,
    'aircraft:',
    `  name: ${aeroplane.name}`,
    `  propeller: ${aeroplane.propeller.kind}`,
    ...(aeroplane.engine.criticalAltitudeM === undefined ? [] : ['  turbocharged: true']),
    `  reference-weight: ${campaign.referenceMassKg.toFixed(0)} kg`,
    `  wing-area: ${aeroplane.wingAreaM2} m2`,
    `  wing-span: ${aeroplane.spanM} m`,
    `  rated-power: ${(aeroplane.engine.ratedPowerW / 1000).toFixed(1)} kW`,
    'configurations:',
    `  before: { baseline: true, empty-weight: ${aeroplane.emptyMassKg} kg +- 1 kg }`,
    `  after: { empty-weight: ${after.emptyMassKg} kg +- 1 kg }`,
    'airfields:',
    `  ${field.name}:`,
    `    elevation: ${field.elevationM} m`,
    `    surface: ${field.surface}`,
    '    runways:',
    runway(one),
    runway(other),
    'flights:',
    ...campaign.flights.flatMap(flightLines),
    'reference:',
    `  density-altitude: ${standard.densityAltitudeM.toFixed(0)} m`,
    `  climb-density-altitude: ${standard.climbDensityAltitudeM.toFixed(0)} m`,
    `  cruise-density-altitude: ${standard.cruiseDensityAltitudeM.toFixed(0)} m`,
    `  load: ${campaign.referenceLoadKg.toFixed(0)} kg`,
    'questions:',
    '  - { metric: ground-roll, primary: true }',
    '  - distance-over: 50 ft',
    '  - distance-over: 100 ft',
    '  - metric: rate-of-climb',
    `  - climb-held-to: ${Math.round(standard.heldRateMps / 0.00508)} ft/min`,
    '  - metric: level-speed',
  ].join('\n')}\n`;
}

function degrees(radians: number): string {
  return ((radians * 180) / Math.PI).toFixed(0).padStart(3, '0');
}

/** The notes of one flight as lines under `flights`. */
export function flightLines(flight: CampaignFlight): string[] {
  const { notes } = flight;
  const wind = notes.wind;
  const windText = (): string => {
    if (!wind || wind.speedKt === 0) return 'calm';
    const gust = wind.gustKt === undefined ? '' : ` gusting ${wind.gustKt} kt`;
    return `${String(wind.fromDeg).padStart(3, '0')} deg ${wind.speedKt} kt${gust}`;
  };
  const line = (key: string, value: string | undefined): string[] =>
    value === undefined ? [] : [`    ${key}: ${value}`];
  const unit = (value: number | undefined, name: string): string | undefined =>
    value === undefined ? undefined : `${value} ${name}`;
  return [
    `  - track: ${flight.file}`,
    `    configuration: ${flight.configuration}`,
    `    runway: "${notes.runway.name}"`,
    ...line('air-temperature', unit(notes.temperatureC, 'degC')),
    ...line('altimeter-setting', unit(notes.altimeterHpa, 'hPa')),
    ...line('wind', wind ? windText() : undefined),
    ...line('weight', unit(notes.takeoffMassKg, 'kg')),
    ...line('technique', notes.technique),
    ...line('start', notes.start),
    ...line('climb-speed', `${notes.climbKt} kt`),
    ...line('cruise-setting', notes.cruiseSetting),
    ...line('fuel-at-start', `${notes.fuelAtStartL} L`),
    ...line('fuel-used', unit(notes.fuelUsedL, 'L')),
  ];
}
