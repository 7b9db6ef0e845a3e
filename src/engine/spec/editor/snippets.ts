import { positionAt, yamlText } from '../assist.ts';
import { readYaml } from '../yaml-tree.ts';

/** A ready-made block, in the snippet syntax of the editor (`${1:text}`, `${1|one,two|}`). */
export interface Snippet {
  readonly label: string;
  readonly body: string;
  readonly doc: string;
  /** Columns, from 1, that it replaces. */
  readonly from: number;
  readonly to: number;
}

interface Block {
  readonly label: string;
  readonly doc: string;
  /** Section in which the block is an entry, with a point before a key inside it (`fuel.cruise`); absent for a whole section. */
  readonly inside?: string;
  /** An entry of a list: starts with a dash. */
  readonly listed?: boolean;
  readonly lines: (names: Names) => readonly string[];
}

interface Names {
  /** `|before,after|` or `:before`, for a placeholder. */
  readonly configuration: string;
  readonly runway: string;
}

const blocks: readonly Block[] = [
  {
    label: 'flight',
    doc: 'A recording with what was noted.',
    inside: 'flights',
    listed: true,
    lines: ({ configuration, runway }) => [
      'track: ${1:flights/flight.gpx}',
      `configuration: \${2${configuration}}`,
      `runway: \${3${runway}}`,
      'weight: ${4:700} ${5|kg,lb|} # at take-off',
      'air-temperature: ${6:15} ${7|degC,degF|}',
      'altimeter-setting: ${8:1013} ${9|hPa,inHg|}',
      'wind: ${10:calm}$0',
    ],
  },
  {
    label: 'flights of a folder',
    doc: 'All recordings of a folder, with the same notes.',
    inside: 'flights',
    listed: true,
    lines: ({ configuration, runway }) => [
      'track: ${1:flights/*.gpx}',
      `configuration: \${2${configuration}}`,
      `runway: \${3${runway}}$0`,
    ],
  },
  {
    label: 'configuration',
    doc: 'A state of the aeroplane.',
    inside: 'configurations',
    lines: () => [
      '${1:changed}:',
      '  description: ${2:what is different}',
      '  empty-weight: ${3:540} ${4|kg,lb|} +- ${5:1} ${4|kg,lb|}$0',
    ],
  },
  {
    label: 'airfield',
    doc: 'An airfield with a runway in each direction.',
    inside: 'airfields',
    lines: () => [
      '${1:home}:',
      '  elevation: ${2:100} ${3|ft,m|}',
      '  surface: ${4|grass,paved,gravel,dirt|}',
      '  runways:',
      '    "${5:09}": { heading: ${6:090} deg, slope: ${7:0} % }',
      '    "${8:27}": { heading: ${9:270} deg, slope: ${10:0} % }$0',
    ],
  },
  {
    label: 'day',
    doc: 'What was the same for all flights of a day.',
    inside: 'days',
    lines: () => [
      '${1:2026-05-03}:',
      '  air-temperature: ${2:15} ${3|degC,degF|}',
      '  altimeter-setting: ${4:1013} ${5|hPa,inHg|}',
      '  wind: ${6:080} deg ${7:4} kt$0',
    ],
  },
  {
    label: 'exclude',
    doc: 'A flight, or one metric of it, that is left out with its reason.',
    inside: 'exclude',
    listed: true,
    lines: () => ['track: ${1:flights/flight.gpx}', 'metric: ${2:ground-roll}', 'because: ${3:why}$0'],
  },
  {
    label: 'loading',
    doc: 'Weight and balance: places, loadings, and the envelope of the flight manual.',
    lines: () => [
      'loading:',
      '  stations:',
      '    ${1:seats}: { arm: ${2:500} mm, limit: ${3:200} kg, pilot: true }',
      '    ${4:tank}: { arm: ${5:640} mm, limit: ${6:86} kg, fuel: true }',
      '  cases:',
      '    ${7:two up}: { load: { ${1:seats}: ${8:160} kg, ${4:tank}: ${9:80} L } }',
      '  envelope: # corners from the flight manual, in order around it',
      '    - ${10:500} kg at ${11:350} mm',
      '    - ${12:850} kg at ${13:350} mm',
      '    - ${14:850} kg at ${15:600} mm',
      '    - ${16:500} kg at ${17:600} mm$0',
    ],
  },
  {
    label: 'station',
    doc: 'A place for people, baggage or fuel.',
    inside: 'loading.stations',
    lines: () => ['${1:baggage}: { arm: ${2:1100} ${3|mm,in|}, limit: ${4:20} ${5|kg,lb|} }$0'],
  },
  {
    label: 'loading case',
    doc: 'What is put where, for one way of loading.',
    inside: 'loading.cases',
    lines: () => ['${1:two up}: { load: { ${2:seats}: ${3:160} ${4|kg,lb|} } }$0'],
  },
  {
    label: 'fuel',
    doc: 'Endurance and range with the reserve kept.',
    lines: ({ configuration }) => [
      'fuel:',
      '  reserve: ${1|day-30-min,night-45-min|} # a legal minimum, not a plan',
      '  allowance: ${2:4} ${3|L,US gal,imp gal|} # start, taxi, climb',
      '  cruise:',
      `    - configuration: \${4${configuration}}`,
      '      setting: ${5:2450 rpm}',
      '      speed: ${6:96} ${7|kt,mph,km/h|}',
      '      flow: ${8:25} ${9|L/h,US gal/h,imp gal/h|}$0',
    ],
  },
  {
    label: 'cruise setting',
    doc: 'A cruise setting with what the flights did not measure.',
    inside: 'fuel.cruise',
    listed: true,
    lines: ({ configuration }) => [
      `configuration: \${1${configuration}}`,
      'setting: ${2:2450 rpm}',
      'speed: ${3:96} ${4|kt,mph,km/h|}',
      'flow: ${5:25} ${6|L/h,US gal/h,imp gal/h|}$0',
    ],
  },
  {
    label: 'fill',
    doc: 'A full-to-full fill at the pump.',
    inside: 'fuel.fills',
    listed: true,
    lines: ({ configuration }) => [
      `configuration: \${1${configuration}}`,
      'volume: ${2:32} ${3|L,US gal,imp gal|}',
      'time: ${4:1.4} h$0',
    ],
  },
  {
    label: 'plan',
    doc: 'The next test flight, with a card to print.',
    lines: ({ configuration }) => [
      'plan:',
      `  configuration: \${1${configuration}}`,
      '  reversible: ${2|true,false|} # whether the change can be taken off again',
      '  card: ${3:test-card.md}$0',
    ],
  },
  {
    label: 'configuration with a setting',
    doc: 'A state of the aeroplane that differs by the setting of an adjustable part.',
    inside: 'configurations',
    lines: () => ['${1:coarse}:', '  setting: { of: ${2:blade angle}, value: ${3:19.5} ${4|deg,mm,in,%|} }$0'],
  },
  {
    label: 'candidates',
    doc: 'Changes under consideration, predicted from the measured aeroplane.',
    lines: () => [
      'candidates:',
      '  ${1:next}:',
      '    description: ${2:what would be changed}',
      '    drag: ${3:-5} %$0',
    ],
  },
  {
    label: 'candidate',
    doc: 'A change under consideration.',
    inside: 'candidates',
    lines: () => ['${1:next}:', '  description: ${2:what would be changed}', '  drag: ${3:-5} %$0'],
  },
  ...(['missions', undefined] as const).flatMap((section): Block[] => {
    const entry = (label: string, doc: string, lines: readonly string[]): Block => ({
      label: section === undefined ? `missions: ${label}` : label,
      doc,
      ...(section === undefined ? {} : { inside: section, listed: true }),
      lines: () =>
        section === undefined
          ? ['missions:', ...lines.map((line, index) => `${index === 0 ? '  - ' : '    '}${line}`)]
          : lines,
    });
    return [
      entry('strip', 'A strip to take off from.', [
        'strip: ${1:river bar}',
        'available: ${2:480} ${3|m,ft|}',
        'elevation: ${4:300} ${5|ft,m|}',
        'air-temperature: ${6:28} ${7|degC,degF|}',
        'load: ${8:260} ${9|kg,lb|}$0',
      ]),
      entry('leg', 'A leg to fly without a stop.', [
        'leg: ${1:home without a stop}',
        'distance: ${2:260} ${3|NM,km|}',
        'payload: ${4:180} ${5|kg,lb|}$0',
      ]),
      entry('climb needed', 'A climb that is needed.', [
        'climb: ${1:over the pass}',
        'rate: ${2:300} ${3|ft/min,m/s|}',
        'density-altitude: ${4:8000} ${5|ft,m|}',
        'weight: ${6:790} ${7|kg,lb|}$0',
      ]),
    ];
  }),
];

/** Signs with a meaning in the choices of a snippet. */
function choice(names: readonly string[]): string | undefined {
  if (names.length === 0) return undefined;
  const escaped = names.map((name) => yamlText(name).replace(/[\\,|}$]/g, (sign) => `\\${sign}`));
  return `|${escaped.join(',')}|`;
}

function namesIn(text: string, line: number): Names {
  const lines = text.split(/\r?\n/);
  const whole = readYaml(text, '').value;
  lines[line - 1] = '';
  const value = (whole ?? readYaml(lines.join('\n'), '').value ?? {}) as {
    readonly configurations?: Readonly<Record<string, unknown>>;
    readonly airfields?: Readonly<Record<string, { readonly runways?: Readonly<Record<string, unknown>> } | undefined>>;
  };
  const runways = Object.values(value.airfields ?? {}).flatMap((airfield) => Object.keys(airfield?.runways ?? {}));
  return {
    configuration: choice(Object.keys(value.configurations ?? {})) ?? ':before',
    runway: choice([...new Set(runways)]) ?? ':"09"',
  };
}

/** Ready-made blocks that may stand at a position: entries inside their section, sections at the top. */
export function snippetsAt(text: string, line: number, column: number): readonly Snippet[] {
  const position = positionAt(text, line, column);
  if (position.inValue || position.key !== undefined) return [];
  const own = text.split(/\r?\n/)[line - 1] ?? '';
  if (own.includes('{') || own.includes('[')) return [];
  const { block, from, to } = position;
  const dashed = /^\s*-/.test(own.slice(0, column - 1));
  const atTop = block.length === 0 && from === 1;
  const inList = dashed && block.at(-1) === 0;
  const section = (inList ? block.slice(0, -1) : block).join('.');
  const present = new Set(text.split(/\r?\n/).flatMap((one) => /^([\w-]+):/.exec(one)?.[1] ?? []));
  const names = namesIn(text, line);
  return blocks.flatMap(({ label, doc, inside, listed, lines }): Snippet[] => {
    const body = lines(names);
    if (inside === undefined) {
      if (!atTop || present.has(body[0].replace(/:.*$/, ''))) return [];
      return [{ label, doc, body: body.join('\n'), from, to }];
    }
    if (section !== inside || dashed !== inList || (dashed && listed !== true)) return [];
    // The editor indents the lines below as the first one; those of a list stand behind its dash.
    const text =
      listed === true ? body.map((one, index) => `${index === 0 ? (dashed ? '' : '- ') : '  '}${one}`) : body;
    return [{ label, doc, body: text.join('\n'), from, to }];
  });
}
