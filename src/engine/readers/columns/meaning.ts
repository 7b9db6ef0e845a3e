import { type Dimension, findUnit, type Unit } from '../../../../shared/units.ts';
import type { SampleColumn } from '../samples/sample-table.ts';
import type { Heading } from './heading.ts';

/** What a column of a table holds, as far as a recording is concerned. */
export type Meaning =
  | SampleColumn
  | 'date'
  | 'time'
  | 'utcOffset'
  | 'latitude'
  | 'longitude'
  | 'northSouth'
  | 'eastWest'
  | 'barometricAltitude'
  | 'altimeterSetting'
  | 'staticPressure'
  | 'surroundingPressure'
  | 'velocityNorth'
  | 'velocityEast'
  | 'velocityDown'
  | 'velocityUp'
  | 'magneticVariation'
  | 'fix';

interface Rule {
  readonly meaning: Meaning;
  /** All words of one of these lists must be there. */
  readonly needs: readonly (readonly string[])[];
  /** Other words that do not change the meaning. */
  readonly allows?: readonly string[];
  readonly dimension?: Dimension;
  /** Without a unit the values cannot be used, and no other look at them tells it. */
  readonly unitNeeded?: boolean;
}

/** Where a value comes from says nothing about what it is. */
const anywhere = ['gps', 'receiver', 'current', 'value', 'my', 'decimal'];

const engine = ['engine', 'e1', 'eng', 'eng1', '1', 'e'];

/**
 * In the order in which they are tried. A heading fits when it has all words needed and no word that is neither needed
 * nor allowed: a qualifier that we do not know ("target altitude", "cross track") may change the meaning.
 */
const rules: readonly Rule[] = [
  { meaning: 'latitude', needs: [['latitude']], allows: ['ellipsoid'] },
  { meaning: 'longitude', needs: [['longitude']], allows: ['ellipsoid'] },
  { meaning: 'northSouth', needs: [['n', 's'], ['ns'], ['latitude', 'hemisphere']] },
  { meaning: 'eastWest', needs: [['e', 'w'], ['ew'], ['longitude', 'hemisphere']] },
  { meaning: 'utcOffset', needs: [['utc', 'offset'], ['time', 'zone'], ['timezone']], allows: ['time'] },
  { meaning: 'date', needs: [['date']], allows: ['utc', 'local'] },
  {
    meaning: 'time',
    needs: [['time'], ['utc'], ['epoch'], ['unix']],
    allows: [
      'date',
      'utc',
      'local',
      'unix',
      'epoch',
      'since',
      'since1970',
      '1970',
      'iso',
      'iso8601',
      'of',
      'day',
      'time',
      'logging',
      'sample',
      'seconds',
      'txt',
      'z',
      'hh',
      'mm',
      'ss',
    ],
  },
  {
    meaning: 'altitude-pressure',
    needs: [['pressure', 'altitude']],
    allows: ['isa', 'std', 'standard'],
    dimension: 'length',
    unitNeeded: true,
  },
  {
    meaning: 'altitude-msl',
    needs: [['altitude', 'msl'], ['altitude', 'geoid'], ['msl']],
    dimension: 'length',
    unitNeeded: true,
  },
  { meaning: 'altitude-ellipsoid', needs: [['altitude', 'ellipsoid']], dimension: 'length', unitNeeded: true },
  {
    meaning: 'barometricAltitude',
    needs: [
      ['altitude', 'barometric'],
      ['altitude', 'indicated'],
    ],
    allows: ['b'],
    dimension: 'length',
    unitNeeded: true,
  },
  { meaning: 'altitude-unknown', needs: [['altitude']], dimension: 'length', unitNeeded: true },
  {
    meaning: 'altimeterSetting',
    needs: [['qnh'], ['altimeter', 'setting'], ['barometric', 'setting'], ['barometric']],
    allows: ['a'],
    dimension: 'pressure',
  },
  { meaning: 'staticPressure', needs: [['static', 'pressure']], dimension: 'pressure', unitNeeded: true },
  {
    meaning: 'verticalSpeedMps',
    needs: [
      ['vertical', 'speed'],
      ['vertical', 'velocity'],
      ['climb', 'rate'],
      ['vertical', 'speed', 'rate'],
    ],
    allows: ['rate', 'of'],
    dimension: 'speed',
    unitNeeded: true,
  },
  { meaning: 'speedSigmaMps', needs: [['speed', 'accuracy']], dimension: 'speed' },
  { meaning: 'horizontalSigmaM', needs: [['horizontal', 'accuracy'], ['accuracy']], dimension: 'length' },
  {
    meaning: 'verticalSigmaM',
    needs: [
      ['vertical', 'accuracy'],
      ['altitude', 'accuracy'],
    ],
    dimension: 'length',
  },
  { meaning: 'hdop', needs: [['hdop']] },
  { meaning: 'windSpeedMps', needs: [['wind', 'speed']], dimension: 'speed', unitNeeded: true },
  {
    meaning: 'windFromRad',
    needs: [
      ['wind', 'direction'],
      ['wind', 'from'],
    ],
    allows: ['from', 'true'],
    dimension: 'angle',
  },
  { meaning: 'indicatedAirspeedMps', needs: [['indicated', 'airspeed']], dimension: 'speed', unitNeeded: true },
  { meaning: 'trueAirspeedMps', needs: [['true', 'airspeed']], dimension: 'speed', unitNeeded: true },
  { meaning: 'groundSpeedMps', needs: [['ground', 'speed'], ['speed']], allows: ['over', '2d'], dimension: 'speed' },
  {
    meaning: 'velocityNorth',
    needs: [
      ['velocity', 'n'],
      ['velocity', 'north'],
    ],
    dimension: 'speed',
  },
  {
    meaning: 'velocityEast',
    needs: [
      ['velocity', 'e'],
      ['velocity', 'east'],
    ],
    dimension: 'speed',
  },
  {
    meaning: 'velocityDown',
    needs: [
      ['velocity', 'd'],
      ['velocity', 'down'],
    ],
    dimension: 'speed',
  },
  {
    meaning: 'velocityUp',
    needs: [
      ['velocity', 'u'],
      ['velocity', 'up'],
    ],
    dimension: 'speed',
  },
  { meaning: 'trackRad', needs: [['track']], allows: ['true', 'ground', 'angle', 'made', 'good'], dimension: 'angle' },
  { meaning: 'magneticVariation', needs: [['magnetic', 'variation']], dimension: 'angle' },
  { meaning: 'headingRad', needs: [['heading']], allows: ['true', 'magnetic'], dimension: 'angle' },
  { meaning: 'pitchRad', needs: [['pitch']], allows: ['angle', 'attitude'], dimension: 'angle' },
  { meaning: 'rollRad', needs: [['roll']], allows: ['angle', 'attitude'], dimension: 'angle' },
  {
    meaning: 'outsideAirTemperatureK',
    needs: [
      ['outside', 'air', 'temperature'],
      ['outside', 'temperature'],
      ['air', 'temperature'],
    ],
    dimension: 'temperature',
    unitNeeded: true,
  },
  {
    meaning: 'engineSpeedRpm',
    needs: [['rpm'], ['engine', 'speed']],
    allows: [...engine, 'rpm'],
    dimension: 'engine-speed',
  },
  {
    meaning: 'manifoldPressurePa',
    needs: [['manifold', 'pressure']],
    allows: engine,
    dimension: 'pressure',
    unitNeeded: true,
  },
  { meaning: 'fuelFlowM3ps', needs: [['fuel', 'flow']], allows: engine, dimension: 'fuel-flow', unitNeeded: true },
  {
    meaning: 'fuelUsedM3',
    needs: [
      ['fuel', 'used'],
      ['fuel', 'burned'],
      ['fuel', 'consumed'],
    ],
    allows: engine,
    dimension: 'volume',
    unitNeeded: true,
  },
  {
    meaning: 'fuelQuantityM3',
    needs: [
      ['fuel', 'quantity'],
      ['fuel', 'remaining'],
      ['fuel', 'level'],
      ['fuel', 'left'],
      ['fuel', 'right'],
    ],
    allows: ['left', 'right', 'l', 'r', 'total', 'quantity'],
    dimension: 'volume',
    unitNeeded: true,
  },
  { meaning: 'fix', needs: [['fix']], allows: ['type', 'quality', 'status', 'mode'] },
  {
    meaning: 'surroundingPressure',
    needs: [['pressure'], ['altimeter', 'pressure'], ['cabin', 'pressure'], ['air', 'pressure']],
    allows: ['air', 'altimeter', 'cabin', 'barometric'],
    dimension: 'pressure',
  },
];

export interface Understanding {
  readonly meaning: Meaning;
  readonly unit?: Unit;
  /** False when the values cannot be used because no unit is stated. */
  readonly usable: boolean;
  /** Words that do not belong to the meaning: of two columns with the same meaning the plainer one counts. */
  readonly furtherWords: number;
}

/** What a heading says that its column holds; `undefined` where it is nothing that a recording needs. */
export function meaningOf(heading: Heading): Understanding | undefined {
  const words = [...new Set(heading.words)];
  for (const rule of rules) {
    const needed = rule.needs.find((list) => list.every((word) => words.includes(word)));
    if (!needed) continue;
    if (words.some((word) => ![...needed, ...(rule.allows ?? []), ...anywhere].includes(word))) continue;
    const unit = unitFor(heading.unit, rule.dimension);
    if (unit && rule.dimension !== undefined && unit.dimension !== rule.dimension) continue;
    return {
      meaning: rule.meaning,
      unit,
      usable: unit !== undefined || rule.unitNeeded !== true,
      furtherWords: words.length - needed.length,
    };
  }
  return undefined;
}

/** Where a pressure is meant, "inch" is one of mercury; where a speed is meant, "ms" is no millisecond. */
function unitFor(unit: Unit | undefined, dimension: Dimension | undefined): Unit | undefined {
  if (unit?.symbol === 'ms' && dimension === 'speed') return findUnit('m/s');
  return unit?.symbol === 'in' && dimension === 'pressure' ? findUnit('inHg') : unit;
}
