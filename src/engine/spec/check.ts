import { formatFixed, formatList, formatValue } from '../../../shared/format.ts';
import { defaultDisplayUnits } from '../../../shared/display-units.ts';
import type { Severity } from '../../../shared/problem.ts';
import { globMatcher, isPattern } from '../glob.ts';
import { checkDecision, decides } from './check-decision.ts';
import { checkRecordings, flightOfFurther } from './check-recordings.ts';
import { checkSettings } from './check-settings.ts';
import type { WrittenConditions, WrittenFlight, WrittenSpec } from './grammar/language.ts';
import { isDate } from './grammar/shapes.ts';
import { airfieldName } from './merge.ts';
import { nearest } from './nearest.ts';
import type { ProblemCode } from './problem-code.ts';
import type { Path } from './yaml-tree.ts';

/** Reports a problem at a path of the written spec, on its key or on its value. */
export type Report = (
  code: ProblemCode,
  path: Path,
  message: string,
  severity?: Severity,
  on?: 'key' | 'value',
) => void;

/** A path of a track, so that "./a/b.gpx" and "a\\b.gpx" are known as one. */
export function trackKey(track: string): string {
  const parts: string[] = [];
  for (const part of track.replace(/\\/g, '/').split('/')) {
    if (part === '..' && parts.length > 0 && parts[parts.length - 1] !== '..') parts.pop();
    else if (part !== '.' && part !== '') parts.push(part);
  }
  return `${track.startsWith('/') ? '/' : ''}${parts.join('/')}`;
}

export function unknownName(what: string, written: string, known: readonly string[]): string {
  const near = nearest(written, known);
  if (known.length === 0) return `"${written}" is not defined: there are no ${what}s.`;
  const advice =
    near === undefined ? ` Defined: ${formatList(known.map((name) => `"${name}"`))}.` : ` Did you mean "${near}"?`;
  return `There is no ${what} "${written}".${advice}`;
}

function checkConfigurations(spec: WrittenSpec, report: Report, whole: boolean): void {
  const ids = Object.keys(spec.configurations);
  const baselines = ids.filter((id) => spec.configurations[id].baseline === true);
  if (baselines.length === 0) {
    report(
      'spec-baseline',
      ['configurations'],
      'No configuration is the baseline: write "baseline: true" in the one that the others are compared with.',
      'error',
      'key',
    );
  }
  for (const id of baselines.slice(1)) {
    report(
      'spec-baseline',
      ['configurations', id, 'baseline'],
      `"${baselines[0]}" is the baseline already: there can be only one.`,
      'error',
    );
  }
  if (ids.length === 1) {
    report(
      'spec-improbable',
      ['configurations'],
      'There is only one configuration: nothing to compare it with.',
      'warning',
      'key',
    );
  }
  const used = new Set(spec.flights.map((flight) => flight.configuration));
  const allKnown = [...used].every((id) => ids.includes(id));
  for (const id of ids) {
    if (whole && allKnown && used.size > 0 && !used.has(id))
      report('spec-unused', ['configurations', id], `No flight was made in configuration "${id}".`, 'warning', 'key');
  }
}

function checkAirfields(spec: WrittenSpec, report: Report): void {
  for (const [place, airfield] of Object.entries(spec.airfields ?? {})) {
    const runways = Object.entries(airfield.runways ?? {});
    for (const [name, runway] of runways) {
      const path = ['airfields', place, 'runways', name];
      if (runway.heading?.magnetic && airfield['magnetic-variation'] === undefined) {
        report(
          'spec-missing-key',
          [...path, 'heading'],
          `A magnetic heading needs "magnetic-variation" at "${place}".`,
        );
      }
      const number = /^(\d{1,2})[LCR]?$/.exec(name)?.[1];
      if (number !== undefined && runway.heading !== undefined) {
        const degrees = (runway.heading.rad * 180) / Math.PI;
        const off = Math.abs(((degrees - Number(number) * 10 + 540) % 360) - 180);
        if (off > 40) {
          report(
            'spec-improbable',
            [...path, 'heading'],
            `Runway ${name} with a heading of ${formatFixed(degrees, 0)} deg: one of the two is wrong.`,
            'warning',
          );
        }
      }
      const reciprocal = runways.find(([other]) => {
        const theirs = /^(\d{1,2})[LCR]?$/.exec(other)?.[1];
        return number !== undefined && theirs !== undefined && Math.abs(Number(number) - Number(theirs)) === 18;
      });
      const [mine, theirs] = [runway.slope?.value ?? 0, reciprocal?.[1].slope?.value ?? 0];
      if (mine * theirs > 0 && reciprocal !== undefined && name < reciprocal[0]) {
        report(
          'spec-improbable',
          [...path, 'slope'],
          `Runways ${name} and ${reciprocal[0]} both slope ${mine > 0 ? 'up' : 'down'}: a slope is positive uphill in the direction of the take-off.`,
          'warning',
        );
      }
    }
  }
}

/** What can be wrong in the conditions of a day or of a flight. `whole` has the day merged in, `path` is where to point. */
function checkNames(
  written: WrittenConditions,
  whole: WrittenConditions,
  spec: WrittenSpec,
  path: Path,
  report: Report,
): void {
  const airfields = spec.airfields ?? {};
  const places = Object.keys(airfields);
  if (written.airfield !== undefined && !Object.hasOwn(airfields, written.airfield)) {
    report('spec-unknown-name', [...path, 'airfield'], unknownName('airfield', written.airfield, places));
    return;
  }
  const place = airfieldName(whole, airfields);
  if (typeof written.runway === 'string') {
    if (place === undefined) {
      const advice = places.length === 0 ? 'describe it under "airfields"' : 'say at which airfield';
      report('spec-unknown-name', [...path, 'runway'], `Runway "${written.runway}" is not known: ${advice}.`);
    } else if (Object.hasOwn(airfields, place)) {
      const names = Object.keys(airfields[place].runways ?? {});
      if (!names.includes(written.runway)) {
        report(
          'spec-unknown-name',
          [...path, 'runway'],
          unknownName('runway', written.runway, names).replace('There is no', `At "${place}" there is no`),
        );
      }
    }
  }
  const magnetic =
    written.wind?.from?.magnetic === true ||
    (typeof written.runway === 'object' && written.runway.heading?.magnetic === true);
  if (magnetic && (place === undefined || airfields[place]?.['magnetic-variation'] === undefined)) {
    const key = written.wind?.from?.magnetic === true ? 'wind' : 'runway';
    report('spec-missing-key', [...path, key], 'A magnetic direction needs the "magnetic-variation" of the airfield.');
  }
}

/** 50 degC: flown from on few days in few places, while 122 degF is written by mistake in degC as soon as it is warm. */
const hottestK = 323.15;
/** No light aeroplane flies lighter or heavier than so many times its usual weight; a mistaken pound is 0.45 times a kilogram. */
const [lightest, heaviest] = [0.6, 1.6];

function checkValues(
  written: WrittenConditions,
  whole: WrittenConditions,
  spec: WrittenSpec,
  path: Path,
  report: Report,
): void {
  const show = (valueSi: number, kind: 'mass' | 'temperature' | 'volume'): string =>
    formatValue(valueSi, kind, defaultDisplayUnits);
  const [temperature, dewPoint] = [whole['air-temperature'], whole['dew-point']];
  if (
    written['dew-point'] !== undefined &&
    temperature !== undefined &&
    dewPoint !== undefined &&
    dewPoint.value > temperature.value + 0.5
  ) {
    report(
      'spec-impossible',
      [...path, 'dew-point'],
      `The dew point (${show(dewPoint.value, 'temperature')}) cannot be above the air temperature (${show(temperature.value, 'temperature')}).`,
    );
  }
  if (written['air-temperature'] !== undefined && written['air-temperature'].value > hottestK) {
    report(
      'spec-improbable',
      [...path, 'air-temperature'],
      `The air is hardly ever as hot as ${show(written['air-temperature'].value, 'temperature')}: is it degC or degF?`,
      'warning',
    );
  }
  const usual = spec.reference?.weight ?? spec.aircraft['reference-weight'];
  const share = written.weight === undefined || usual === undefined ? 1 : written.weight.value / usual;
  const heavier = (written.weight?.value ?? 0) > (spec.aircraft['maximum-weight'] ?? Number.POSITIVE_INFINITY);
  if (share < lightest || (share > heaviest && !heavier)) {
    report(
      'spec-improbable',
      [...path, 'weight'],
      `The weight is ${formatFixed(share, 2)} times the reference weight: is it kg or lb?`,
      'warning',
    );
  }
  const [start, used] = [whole['fuel-at-start'], whole['fuel-used']];
  if (written['fuel-used'] !== undefined && start !== undefined && used !== undefined && used.value > start.value) {
    report(
      'spec-impossible',
      [...path, 'fuel-used'],
      `More fuel was used (${show(used.value, 'volume')}) than was on board (${show(start.value, 'volume')}).`,
    );
  }
  const usable = spec.aircraft['usable-fuel'];
  if (written['fuel-at-start'] !== undefined && usable !== undefined && written['fuel-at-start'].value > usable * 1.1) {
    report(
      'spec-improbable',
      [...path, 'fuel-at-start'],
      `More fuel (${show(written['fuel-at-start'].value, 'volume')}) than the tanks hold (${show(usable, 'volume')} usable).`,
      'warning',
    );
  }
  const maximum = spec.aircraft['maximum-weight'];
  if (written.weight !== undefined && maximum !== undefined && written.weight.value > maximum) {
    report(
      'spec-improbable',
      [...path, 'weight'],
      `The weight is above the maximum take-off weight of ${show(maximum, 'mass')}.`,
      'warning',
    );
  }
}

function checkFlight(flight: WrittenFlight, index: number, spec: WrittenSpec, report: Report): void {
  const path = ['flights', index];
  const ids = Object.keys(spec.configurations);
  if (!ids.includes(flight.configuration)) {
    report('spec-unknown-name', [...path, 'configuration'], unknownName('configuration', flight.configuration, ids));
  }
  const days = spec.days ?? {};
  if (flight.day !== undefined && !Object.hasOwn(days, flight.day) && !isDate(flight.day)) {
    const advice = isDate(flight.day.slice(0, 10))
      ? unknownName('day', flight.day, Object.keys(days))
      : `"${flight.day}" is no date: expected "2024-04-13".`;
    report(isDate(flight.day.slice(0, 10)) ? 'spec-unknown-name' : 'spec-date', [...path, 'day'], advice);
  }
  const ofDay = flight.day !== undefined && Object.hasOwn(days, flight.day) ? days[flight.day] : {};
  const whole = { ...ofDay, ...Object.fromEntries(Object.entries(flight).filter(([, value]) => value !== undefined)) };
  checkNames(flight, whole, spec, path, report);
  checkValues(flight, whole, spec, path, report);
  const empty = spec.configurations[flight.configuration]?.['empty-weight'];
  if (flight.weight !== undefined && empty !== undefined && flight.weight.value < empty.value) {
    report(
      'spec-impossible',
      [...path, 'weight'],
      `The take-off weight is below the empty weight of "${flight.configuration}".`,
    );
  }
  const given = (flight.corrections ?? []).map((correction) => `${correction.event} ${correction.number}`);
  given.forEach((name, at) => {
    if (given.indexOf(name) < at)
      report('spec-duplicate-key', [...path, 'corrections', at], 'This event is corrected twice.');
  });
}

function checkTracks(
  spec: WrittenSpec,
  report: Report,
  line: (path: Path) => number | undefined,
  whole: boolean,
): void {
  const seen = new Map<string, number>();
  spec.flights.forEach((flight, index) => {
    const name = trackKey(flight.track);
    const before = seen.get(name);
    if (before === undefined) seen.set(name, index);
    else
      report(
        'spec-duplicate-track',
        ['flights', index, 'track'],
        `"${flight.track}" is listed already, in line ${line(['flights', before, 'track'])}: each recording once.`,
      );
  });
  (spec.exclude ?? []).forEach((exclusion, index) => {
    const name = trackKey(exclusion.track);
    const known = [...seen.keys()];
    const found = known.some(
      (track) => track === name || name.startsWith(`${track}/`) || (isPattern(track) && globMatcher(track)(name)),
    );
    const flight = flightOfFurther(spec, exclusion.track);
    if (flight !== undefined)
      report(
        'spec-unknown-name',
        ['exclude', index, 'track'],
        `"${exclusion.track}" belongs to the flight "${flight.track}": exclude that, or take the name out there.`,
      );
    else if (whole && !found)
      report(
        'spec-unknown-name',
        ['exclude', index, 'track'],
        unknownName(
          'flight',
          exclusion.track,
          spec.flights.map((flight) => flight.track),
        ),
      );
  });
}

function checkQuestions(spec: WrittenSpec, report: Report): void {
  const questions = spec.questions ?? [];
  const primaries = questions
    .map((question, index) => ({ question, index }))
    .filter(({ question }) => question.primary);
  for (const { index } of primaries.slice(1)) {
    report(
      'spec-question',
      ['questions', index],
      'Only one question can be the primary one: it was the reason of the change.',
    );
  }
  const names = questions.map((question) => question.metric);
  names.forEach((name, index) => {
    if (names.indexOf(name) === index) return;
    const message =
      questions[index].rateMps === undefined
        ? 'This question is asked already.'
        : 'Only one rate of climb can be asked for.';
    report('spec-question', ['questions', index], message);
  });
}

function checkReport(spec: WrittenSpec, fileName: string, report: Report): void {
  for (const key of ['file', 'insert-into'] as const) {
    const target = spec.report?.[key];
    if (target === undefined) continue;
    const own = trackKey(target) === trackKey(fileName.replace(/\\/g, '/').split('/').pop() ?? '');
    const taken =
      own ||
      /\.ya?ml$/i.test(target) ||
      spec.flights.some((flight) => trackKey(flight.track) === trackKey(target)) ||
      flightOfFurther(spec, target) !== undefined;
    if (taken)
      report('spec-name', ['report', key], `"${target}" cannot be the report: it would replace a spec or a recording.`);
    else if (!/\.(?:md|markdown)$/i.test(target)) {
      report('spec-name', ['report', key], `"${target}" is no Markdown file: expected a name that ends in ".md".`);
    }
  }
  const { file, 'insert-into': notes } = spec.report ?? {};
  if (file !== undefined && notes !== undefined && trackKey(file) === trackKey(notes)) {
    report(
      'spec-name',
      ['report', 'insert-into'],
      'The report cannot be a file of its own and a part of the same file.',
    );
  }
}

/**
 * Checks a spec against itself: names, duplicates, values that cannot be true together. `whole` is false where entries had
 * to be taken away: then nothing is said of names that seem unused or unknown for it.
 */
export function checkSpec(
  spec: WrittenSpec,
  fileName: string,
  report: Report,
  line: (path: Path) => number | undefined,
  whole: boolean,
): void {
  checkConfigurations(spec, report, whole);
  checkSettings(spec, report, whole);
  checkAirfields(spec, report);
  for (const [day, written] of Object.entries(spec.days ?? {})) {
    if (!isDate(day.slice(0, 10)) || !/^.{10}(?: \S.*)?$/.test(day)) {
      report(
        'spec-date',
        ['days', day],
        `"${day}" is no date: expected "2024-04-13", with words after it if a day had two weathers.`,
        'error',
        'key',
      );
    }
    checkNames(written, written, spec, ['days', day], report);
    checkValues(written, written, spec, ['days', day], report);
  }
  if (spec.flights.length === 0 && !decides(spec))
    report('spec-missing-key', ['flights'], 'No flight is listed.', 'error', 'key');
  spec.flights.forEach((flight, index) => checkFlight(flight, index, spec, report));
  checkTracks(spec, report, line, whole);
  checkRecordings(spec, report, line);
  checkQuestions(spec, report);
  checkReport(spec, fileName, report);
  checkDecision(spec, report, whole);
}
