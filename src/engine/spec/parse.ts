import { defaultDisplayUnits, displayUnitSets, type DisplayUnits } from '../../../shared/display-units.ts';
import { distanceOverName } from '../../../shared/metric.ts';
import type { Problem } from '../../../shared/problem.ts';
import { checkSpec } from './check.ts';
import { firstSetting } from './check-settings.ts';
import { metaOf } from './grammar/key-meta.ts';
import { specShape, type WrittenConditions, type WrittenSpec } from './grammar/language.ts';
import { csvMapping } from './grammar/sections/csv.ts';
import { furtherOf } from './further-recordings.ts';
import { obstacleHeightsM } from './grammar/sections/questions.ts';
import { settingFactor, type WrittenSetting } from './grammar/sections/setting.ts';
import { keysOf, shapeAt } from './grammar/walk.ts';
import { dateOfDay, mergeConditions } from './merge.ts';
import { mend } from './mend.ts';
import { flatIssues, shapeProblems, whereabouts } from './shape-problems.ts';
import type {
  DecisionSections,
  FlightEntry,
  ParsedSpec,
  Question,
  ReferenceConditions,
  ReportOptions,
  ShareSettings,
  Setting,
  SharedConditions,
  Spec,
} from './types.ts';
import { type Path, readYaml, type YamlTree } from './yaml-tree.ts';

/**
 * Reads a comparison spec. All problems are collected, each with file, line and columns; a spec comes back when none of
 * them is an error. Blanks (`air-temperature:` with nothing after it) are notices: what is not written stays undefined.
 * The language is described in README.md of this folder.
 */
export function parseSpec(text: string, fileName: string): ParsedSpec {
  const tree = readYaml(text.replace(/^\ufeff/, ''), fileName);
  const problems: Problem[] = [...tree.problems];
  if (tree.value === undefined) return { problems };
  problems.push(...tree.blanks.flatMap((path) => blankNotice(path, tree)));

  const result = specShape.safeParse(tree.value);
  let written: WrittenSpec | undefined = result.data;
  let original = (path: Path): Path => path;
  if (!result.success) {
    problems.push(...shapeProblems(flatIssues(result.error), tree.value, tree));
    ({ written, original } = mend(tree.value, result.error));
  }
  if (written !== undefined) {
    checkSpec(
      written,
      fileName,
      (code, path, message, severity = 'error', on = 'value') => {
        const place = original(path);
        problems.push({ code, severity, message, at: on === 'key' ? tree.placeOfKey(place) : tree.placeOf(place) });
      },
      (path) => tree.placeOf(original(path)).line,
      result.success,
    );
  }
  problems.sort((a, b) => (a.at?.line ?? 0) - (b.at?.line ?? 0) || (a.at?.column ?? 0) - (b.at?.column ?? 0));
  if (written === undefined || problems.some((problem) => problem.severity === 'error')) return { problems };
  const shared = sharedOf(written);
  return { spec: build(written, shared, tree, original), problems, shared };
}

function blankNotice(path: Path, tree: YamlTree): Problem[] {
  const parent = shapeAt(specShape, path.slice(0, -1));
  const name = path[path.length - 1];
  const known = parent && keysOf(parent).find((entry) => entry.name === name);
  const shape = shapeAt(specShape, path);
  // A blank under an unknown key is told as an unknown key.
  if (parent !== undefined && known === undefined && shape === undefined && typeof name === 'string') {
    return [
      {
        code: 'spec-unknown-key',
        severity: 'error',
        message: `Unknown key "${name}" ${whereabouts(path.slice(0, -1))}. Known here: ${keysOf(parent)
          .map((entry) => entry.name)
          .join(', ')}.`,
        at: tree.placeOfKey(path),
      },
    ];
  }
  const meta = known?.meta ?? (shape && metaOf(shape));
  const example = meta?.example === undefined ? '' : ` Example: ${meta.example}`;
  return [
    {
      code: 'spec-blank',
      severity: known?.required === true ? 'warning' : 'info',
      message: `To be filled: "${String(name)}" ${whereabouts(path.slice(0, -1))}. ${meta?.doc ?? ''}${example}`.trim(),
      at: tree.placeOfKey(path),
    },
  ];
}

function sharedOf(written: WrittenSpec): SharedConditions {
  const configurations = Object.fromEntries(
    Object.entries(written.configurations).map(([id, facts]): [string, WrittenConditions] => [
      id,
      {
        technique: facts.technique,
        start: facts.start,
        'cruise-setting': facts['cruise-setting'],
        'climb-speed': facts['climb-speed'],
      },
    ]),
  );
  return { days: written.days ?? {}, airfields: written.airfields ?? {}, configurations };
}

function build(written: WrittenSpec, shared: SharedConditions, tree: YamlTree, original: (path: Path) => Path): Spec {
  const { aircraft } = written;
  const configurations = Object.entries(written.configurations).map(([id, facts]) => ({
    id,
    description: facts.description,
    emptyMassKg: facts['empty-weight'],
    propeller: facts.propeller,
    ratedPowerW: facts['rated-power'],
    ...(facts.weight === undefined ? {} : { massKg: facts.weight }),
    ...(facts.setting === undefined ? {} : { setting: settingIn(facts.setting, written) }),
    at: tree.placeOfKey(original(['configurations', id])),
  }));
  const baseline =
    Object.entries(written.configurations).find(([, facts]) => facts.baseline === true)?.[0] ?? configurations[0].id;
  return {
    title: written.title ?? 'Before and after',
    aircraft: {
      name: aircraft.name ?? 'the aeroplane',
      propeller: aircraft.propeller,
      turbocharged: aircraft.turbocharged ?? false,
      referenceMassKg: aircraft['reference-weight'],
      maximumMassKg: aircraft['maximum-weight'],
      usableFuelM3: aircraft['usable-fuel'],
      fuelDensityKgM3: aircraft['fuel-density'],
      wingAreaM2: aircraft['wing-area'],
      spanM: aircraft['wing-span'],
      ratedPowerW: aircraft['rated-power'],
    },
    configurations,
    baseline,
    ...settingOf(written),
    flights: written.flights.map((flight, index): FlightEntry => {
      const {
        track,
        configuration,
        day,
        corrections,
        csv,
        'continued-in': continuedIn,
        'also-recorded-by': alsoRecordedBy,
        ...own
      } = flight;
      const further = furtherOf({ 'continued-in': continuedIn, 'also-recorded-by': alsoRecordedBy }, (path) =>
        tree.placeOf(original(['flights', index, ...path])),
      );
      return {
        track,
        configuration,
        date: day === undefined ? undefined : dateOfDay(day),
        day,
        conditions: mergeConditions(own, shared, configuration, day),
        overrides: [],
        corrections: corrections ?? [],
        csv: csv && csvMapping(csv),
        ...(further === undefined ? {} : { further }),
        written: own,
        at: tree.placeOf(original(['flights', index, 'track'])),
      };
    }),
    exclusions: (written.exclude ?? []).map((exclusion, index) => ({
      ...exclusion,
      at: tree.placeOf(original(['exclude', index, 'track'])),
    })),
    reference: referenceOf(written),
    questions: {
      ask: (written.questions ?? usualQuestions()).map((question, index) => ({
        ...question,
        at: written.questions === undefined ? undefined : tree.placeOf(original(['questions', index])),
      })),
      at:
        written.reference?.['compare-at'] ??
        (configurations.some(({ massKg }) => massKg !== undefined)
          ? ['own-weight', 'equal-weight']
          : ['equal-weight', 'equal-load']),
      pairs: written.reference?.pairs ?? 'all',
    },
    report: reportOf(written),
    ...(written.share === undefined ? {} : { share: shareOf(written.share) }),
    ...decisionOf(written),
  };
}

/** In the unit of the first setting that is written; that this can be done is checked before. */
function settingIn(setting: WrittenSetting, written: WrittenSpec): Setting {
  const { unit } = firstSetting(written) ?? setting;
  const factor = settingFactor(setting.unit, unit) ?? 1;
  // 0.25 rad is 14.3239448782706 deg: nine digits are more than any part is set to.
  return { value: factor === 1 ? setting.value : Number((setting.value * factor).toPrecision(9)), unit };
}

function settingOf(written: WrittenSpec): { settingOf?: string } {
  const settings = Object.values(written.configurations).flatMap(({ setting }) => setting ?? []);
  if (settings.length === 0) return {};
  return { settingOf: settings.find(({ of }) => of !== undefined)?.of ?? 'setting' };
}

function decisionOf(written: WrittenSpec): { decision?: DecisionSections } {
  const { aircraft, configurations, loading, fuel, candidates, missions, plan } = written;
  const asked = [loading, fuel, candidates, missions, plan].some((section) => section !== undefined);
  return asked ? { decision: { aircraft, configurations, loading, fuel, candidates, missions, plan } } : {};
}

/** What is asked when the spec asks nothing: the figures of a flight manual. */
export function usualQuestions(): Question[] {
  return [
    { metric: 'ground-roll', primary: true },
    ...obstacleHeightsM.map((heightM) => ({ metric: distanceOverName(heightM), primary: false, heightM })),
    { metric: 'rate-of-climb', primary: false },
    { metric: 'level-speed', primary: false },
    { metric: 'landing-roll', primary: false },
  ];
}

function referenceOf(written: WrittenSpec): ReferenceConditions {
  const reference = written.reference ?? {};
  const elevations = Object.values(written.airfields ?? {}).map((airfield) => airfield.elevation);
  const only = elevations.length === 1 ? elevations[0] : undefined;
  return {
    massKg: reference.weight ?? written.aircraft['reference-weight'],
    loadKg: reference.load,
    densityAltitudeM: reference['density-altitude'] ?? only ?? 0,
    headwindMps: reference.headwind ?? 0,
    slope: reference.slope ?? 0,
    climbDensityAltitudeM: reference['climb-density-altitude'],
    cruiseDensityAltitudeM: reference['cruise-density-altitude'],
  };
}

function reportOf(written: WrittenSpec): ReportOptions {
  const {
    units,
    file,
    figures,
    trade,
    'insert-into': insertInto,
    'hide-positions': hidePositions,
  } = written.report ?? {};
  return {
    file,
    insertInto,
    units: displayUnitsOf(units),
    hidePositions: hidePositions ?? false,
    figures: figures ?? true,
    ...(trade === undefined ? {} : { trade }),
  };
}

function shareOf({ radius, ...rest }: NonNullable<WrittenSpec['share']>): ShareSettings {
  return { ...rest, ...(radius === undefined ? {} : { radiusM: radius }) };
}

function displayUnitsOf(written: NonNullable<WrittenSpec['report']>['units']): DisplayUnits {
  if (written === undefined) return defaultDisplayUnits;
  if (typeof written === 'string') return displayUnitSets[written];
  return {
    length: written.length ?? defaultDisplayUnits.length,
    altitude: written.altitude ?? defaultDisplayUnits.altitude,
    speed: written.speed ?? defaultDisplayUnits.speed,
    verticalSpeed: written['vertical-speed'] ?? defaultDisplayUnits.verticalSpeed,
    mass: written.weight ?? defaultDisplayUnits.mass,
    volume: written.volume ?? defaultDisplayUnits.volume,
    temperature: written.temperature ?? defaultDisplayUnits.temperature,
    pressure: written.pressure ?? defaultDisplayUnits.pressure,
  };
}
