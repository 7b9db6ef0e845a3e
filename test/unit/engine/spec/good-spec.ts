/** A small spec with every section, shared by the tests of the language. */
export const goodSpec = `modproof: 1
title: Wheel fairings on the Tern
aircraft:
  name: Tern T2
  propeller: fixed-pitch
  reference-weight: 790 kg
  maximum-weight: 850 kg
  usable-fuel: 120 L
configurations:
  before: { baseline: true, empty-weight: 528 kg +- 1 kg, description: as it was, technique: three-point }
  after: { empty-weight: 540 kg }
airfields:
  Oyster Flats:
    elevation: 1056 ft
    magnetic-variation: 3 deg east
    surface: grass
    runways:
      "13": { heading: 133 deg, slope: 0.8 % }
      "31": { heading: 310 deg magnetic, slope: -0.8 %, elevation: 1078 ft }
days:
  2024-04-13:
    air-temperature: 4 degC
    altimeter-setting: 1025 hPa
    wind: 080 deg 3 kt
  2024-04-14 evening:
    air-temperature: 59 degF +- 2 degF
flights:
  - track: tracks/a.gpx
    configuration: before
    runway: "13"
    weight: 720 kg
    day: 2024-04-13
    corrections:
      - lift-off: "22:31:13.4"
        seen: in the film
  - track: tracks/after/*.gpx
    configuration: after
    runway: 31
    surface: wet grass
    wind: { from: 350 deg magnetic, speed: 2 kt, gust: 8 kt, uncertainty: 1 kt, source: windsock }
    technique: tail-high
exclude:
  - track: tracks/a.gpx
    metric: ground-roll
    because: brakes were dragging
reference:
  density-altitude: 1000 ft
questions:
  - ground-roll
  - distance-over: 50 ft
    margin: 5 %
    primary: true
  - climb-held-to: 500 ft/min
    margin: 500 ft
report: { file: report.md, units: us }
`;
