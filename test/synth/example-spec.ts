import { droop, type ExampleFlight, merrow } from './example-campaign.ts';

/** What the owner noted besides the numbers, by recording. */
const remarks: Readonly<Record<string, readonly string[]>> = {
  '2026-02-07-1040.gpx': ['note: "Tamsin flew, Brede in the right seat; first flight of the series"'],
  '2026-02-22-1120.kml': ['note: "gusty; telephone on the glare shield"'],
  '2026-03-08-0850.csv': ['note: "two take-offs, stopped on the runway in between"'],
  '2026-07-05-0705.gpx': ['note: "windsock hung down, forgot to write the station wind"'],
  '2026-07-26-0720.fit': ['surface: wet long grass', 'technique: soft field', 'note: "after two days of rain"'],
};

/** Notes that were not made: holes as a pilot leaves them. */
const forgotten: Readonly<Record<string, readonly ('wind' | 'altimeter' | 'fuel-used')[]>> = {
  '2026-02-22-1120.kml': ['altimeter'],
  '2026-07-05-0705.gpx': ['wind'],
  '2026-08-09-0700.igc': ['fuel-used'],
};

const film = '2026-07-18-0630.mp4';

/** What the owners weighed up around the flights. */
const aroundTheFlights = [
  'loading: # arms aft of the spinner plate; the flight manual rules',
  '  stations:',
  '    seats: { arm: 620 mm, limit: 190 kg, pilot: true }',
  '    baggage: { arm: 1310 mm, limit: 20 kg }',
  '    tank: { arm: 760 mm, limit: 65 kg, fuel: true }',
  '  cases:',
  '    weekend: { load: { seats: 152 kg +- 3 kg, baggage: 15 kg, tank: 80 L }, fuel-burnt: 45 L }',
  '    alone: { load: { seats: 78 kg +- 1 kg, tank: 40 L }, fuel-burnt: 25 L }',
  '  lightest-pilot: 60 kg',
  '  envelope: [420 kg at 480 mm, 690 kg at 480 mm, 690 kg at 640 mm, 420 kg at 640 mm]',
  '',
  'fuel:',
  '  reserve: day-30-min',
  '  allowance: 3 L',
  '  price-of-fuel: 2.60 EUR per L',
  '  other-cost: 38 EUR per h',
  '  cruise: # speeds from the flights, flows from the fuel computer',
  '    - { configuration: plain, setting: 68 % power, flow: 19.2 L/h +- 0.5 L/h }',
  '    - { configuration: drooped, setting: 68 % power, flow: 19.2 L/h +- 0.5 L/h }',
  '',
  'candidates: # on paper, before money was spent',
  '  leading edges:',
  '    description: what was done in the end',
  '    flown: drooped',
  '    lift: +25 %',
  '    drag: +6 %',
  '    installed:',
  '      - { item: leading edges with their paint, weight: 4 kg, arm: 290 mm }',
  '    price: 2100 EUR fitted',
  '  wheel fairings:',
  '    drag: -6 %',
  '    installed:',
  '      - { item: three fairings, weight: 5.5 kg, arm: 640 mm }',
  '    price: 1450 EUR fitted',
  '  bare cabin:',
  '    description: lighter seats, no carpets, one radio less',
  '    removed:',
  '      - { item: seats and carpets, weight: 14 kg, arm: 700 mm }',
  '      - { item: second radio, weight: 1.4 kg, arm: 210 mm }',
  '    installed:',
  '      - { item: light seats, weight: 6 kg, arm: 690 mm }',
  '    price: 900 EUR',
  '',
  'missions:',
  '  - strip: Kelp Bar # sand and grass above the tide line',
  '    available: 430 m',
  '    elevation: 3 m',
  '    air-temperature: 24 degC',
  '    surface: grass',
  '    load: 200 kg',
  '  - leg: Outer Lamp without a stop',
  '    distance: 240 NM',
  '    payload: 160 kg',
  '    headwind: 10 kt',
  '  - climb: over the ridge',
  '    rate: 700 ft/min',
  '    density-altitude: 2500 ft',
  '    load: 200 kg',
  '',
  'plan:',
  '  configuration: drooped',
  '  reversible: false',
  '  card: test-card.md',
];

/** The comparison spec of the examples, as its owner would write it by hand. */
export function exampleSpec(flights: readonly ExampleFlight[]): string {
  const days = new Map<string, ExampleFlight[]>();
  for (const flight of flights) {
    const day = flight.entry.date;
    days.set(day, [...(days.get(day) ?? []), flight]);
  }
  return `${[
    'modproof: 1',
    '# Did the drooped leading edges do what they were bought for? Our own measurements, not approved data.',
    'title: Drooped leading edges on the Merrow',
    '',
    'aircraft:',
    '  name: Merrow M2',
    '  propeller: fixed-pitch',
    '  reference-weight: 620 kg',
    `  maximum-weight: ${merrow.maximumMassKg} kg`,
    '  usable-fuel: 90 L',
    `  wing-area: ${merrow.wingAreaM2} m2`,
    `  wing-span: ${merrow.spanM} m`,
    `  rated-power: ${merrow.engine.ratedPowerW / 1000} kW`,
    `  propeller-diameter: ${merrow.propeller.diameterM} m`,
    '',
    'configurations:',
    '  plain:',
    '    description: wing as it was built',
    '    baseline: true',
    `    empty-weight: ${merrow.emptyMassKg} kg +- 1 kg`,
    '    empty-arm: 486 mm',
    '    start: standing',
    '    technique: flaps 10, nosewheel off early',
    '    cruise-setting: 68 % power',
    '  drooped:',
    '    description: drooped leading edge on the outer wing, fitted in May',
    `    empty-weight: ${merrow.emptyMassKg + (droop.massKg ?? 0)} kg +- 1 kg`,
    '    changed-from: plain',
    '    installed:',
    `      - { item: leading edges with their paint, weight: ${droop.massKg ?? 0} kg, arm: 290 mm }`,
    '    start: standing',
    '    technique: flaps 10, nosewheel off early',
    '    cruise-setting: 68 % power',
    '',
    'airfields:',
    '  Skerry Sand:',
    '    elevation: 38 m',
    '    surface: grass',
    '    runways:',
    '      "10": { heading: 104 deg, slope: 0.6 %, elevation: 38 m }',
    '      "28": { heading: 284 deg, slope: -0.6 %, elevation: 43 m }',
    '',
    'days: # wind from the anemometer beside the runway',
    ...[...days]
      .filter(([, list]) => list.length === 1 && !remarks[list[0].file]?.length)
      .flatMap(([day, [one]]) => dayLines(day, one)),
    '',
    'flights:',
    ...flights.flatMap((flight) => flightLines(flight, (days.get(flight.entry.date)?.length ?? 0) > 1)),
    '',
    'exclude:',
    '  - track: flights/2026-07-26-0720.fit',
    '    metric: ground-roll',
    '    because: wet long grass and soft-field technique, nothing like the others',
    '  - track: flights/2026-07-26-0720.fit',
    '    metric: distance-over',
    '    because: wet long grass and soft-field technique, nothing like the others',
    '',
    'reference:',
    '  density-altitude: 0 ft',
    '  climb-density-altitude: 1500 ft',
    '  cruise-density-altitude: 2500 ft',
    '',
    'questions:',
    '  - metric: ground-roll',
    '    primary: true # what they were bought for',
    '    margin: 5 %',
    '  - distance-over: 50 ft',
    '    margin: 5 %',
    '  - metric: rate-of-climb',
    '    margin: 8 % # nobody would notice less',
    '  - metric: level-speed',
    '    margin: 0.5 kt',
    '',
    ...aroundTheFlights,
    '',
    'report:',
    '  file: report/drooped-leading-edge.md',
    '  units: icao',
  ].join('\n')}\n`;
}

function weather(flight: ExampleFlight): string[] {
  const { notes, file } = flight;
  const missing = forgotten[file] ?? [];
  const wind = notes.wind;
  // Read from an anemometer beside the runway, by people who state how well.
  const text =
    !wind || wind.speedKt === 0
      ? 'variable 1 kt +- 1.5 kt'
      : `${String(wind.fromDeg).padStart(3, '0')} deg ${wind.speedKt} kt +- 1.5 kt`;
  return [
    `air-temperature: ${notes.temperatureC} degC`,
    ...(missing.includes('altimeter')
      ? ['altimeter-setting: # not noted']
      : [`altimeter-setting: ${notes.altimeterHpa} hPa`]),
    ...(missing.includes('wind') ? [] : [`wind: ${text}`]),
  ];
}

function dayLines(day: string, flight: ExampleFlight): string[] {
  return [`  ${day}: { ${weather(flight).join(', ')} }`];
}

function flightLines(flight: ExampleFlight, severalThatDay: boolean): string[] {
  const { notes, file, entry } = flight;
  const own = severalThatDay || (remarks[file]?.length ?? 0) > 0;
  const missing = forgotten[file] ?? [];
  const lines = [
    `configuration: ${entry.configuration === 'before' ? 'plain' : 'drooped'}`,
    `runway: "${notes.runway.name}"`,
    ...(own ? weather(flight) : []),
    `weight: ${notes.takeoffMassKg} kg +- 6 kg`,
    ...(missing.includes('fuel-used') || notes.fuelUsedL === undefined ? [] : [`fuel-used: ${notes.fuelUsedL} L`]),
    ...(remarks[file] ?? []),
    ...(file === film ? filmCorrection(flight) : []),
  ];
  return [`  - track: flights/${file}`, ...lines.map((line) => `    ${line}`)];
}

/** Lift-off as seen in the film, to a tenth of a second. */
function filmCorrection(flight: ExampleFlight): string[] {
  const takeoff = flight.truth.takeoffs.find((one) => one.liftoffS !== undefined);
  if (takeoff?.liftoffS === undefined) return [];
  const time = new Date(Math.round(takeoff.liftoffS * 10) * 100).toISOString().slice(11, 21);
  return ['corrections:', `  - lift-off: "${time}" # UTC`, '    seen: main wheels leave the grass in the film'];
}
