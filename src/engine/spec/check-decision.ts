import { type Report, trackKey, unknownName } from './check.ts';
import type { WrittenSpec } from './grammar/language.ts';
import type { Path } from './yaml-tree.ts';

/** True for a spec that asks something that can be worked out without a recorded flight. */
export function decides(spec: WrittenSpec): boolean {
  return spec.loading !== undefined || spec.fuel !== undefined || spec.candidates !== undefined;
}

/** Names and values of loading, fuel, candidates, missions and plan that do not fit the rest of the spec. */
export function checkDecision(spec: WrittenSpec, report: Report, whole: boolean): void {
  const ids = Object.keys(spec.configurations);
  const knownConfiguration = (written: string | undefined, path: Path): void => {
    if (written !== undefined && !ids.includes(written))
      report('spec-unknown-name', path, unknownName('configuration', written, ids));
  };
  for (const [id, facts] of Object.entries(spec.configurations)) {
    const path = ['configurations', id];
    knownConfiguration(facts['changed-from'], [...path, 'changed-from']);
    if (facts['changed-from'] === id)
      report('spec-impossible', [...path, 'changed-from'], 'A configuration cannot be changed from itself.');
    for (const list of ['removed', 'installed'] as const) {
      if (facts[list] !== undefined && facts['changed-from'] === undefined) {
        report(
          'spec-missing-key',
          [...path, list],
          'Say from which configuration this was changed: "changed-from: …".',
          'error',
          'key',
        );
      }
    }
  }
  if (loopsBack(spec)) {
    report(
      'spec-impossible',
      ['configurations'],
      'The "changed-from" of the configurations go round in a circle.',
      'error',
      'key',
    );
  }
  checkLoading(spec, report, whole);
  (spec.fuel?.cruise ?? []).forEach((one, index) =>
    knownConfiguration(one.configuration, ['fuel', 'cruise', index, 'configuration']),
  );
  (spec.fuel?.fills ?? []).forEach((one, index) =>
    knownConfiguration(one.configuration, ['fuel', 'fills', index, 'configuration']),
  );
  for (const [name, candidate] of Object.entries(spec.candidates ?? {})) {
    knownConfiguration(candidate.from, ['candidates', name, 'from']);
    knownConfiguration(candidate.flown, ['candidates', name, 'flown']);
    if (ids.includes(name))
      report(
        'spec-name',
        ['candidates', name],
        `"${name}" is a configuration already: give the candidate another name.`,
        'error',
        'key',
      );
  }
  (spec.missions ?? []).forEach((mission, index) => {
    if ('leg' in mission) return;
    if (mission.weight !== undefined && mission.load !== undefined)
      report('spec-impossible', ['missions', index, 'load'], 'Give the total weight or the load, not both.');
    // What could not be understood is told as that.
    if (whole && mission.weight === undefined && mission.load === undefined) {
      report(
        'spec-missing-key',
        ['missions', index],
        'At which weight? Give "weight: …" or "load: …"; without it the answer is "not enough data".',
        'warning',
      );
    }
  });
  knownConfiguration(spec.plan?.configuration, ['plan', 'configuration']);
  checkCard(spec, report);
}

/** A card that would never be written, because its name belongs to something else. */
function checkCard(spec: WrittenSpec, report: Report): void {
  const card = spec.plan?.card;
  if (card === undefined) return;
  const path = ['plan', 'card'];
  const taken = [spec.report?.file, spec.report?.['insert-into'], ...spec.flights.map(({ track }) => track)];
  if (taken.some((other) => other !== undefined && trackKey(other) === trackKey(card)))
    report('spec-name', path, `"${card}" cannot be the test card: the report or a recording has that name.`);
  else if (!/\.(?:md|markdown)$/i.test(card))
    report('spec-name', path, `"${card}" is no Markdown file: expected a name that ends in ".md".`);
}

function loopsBack(spec: WrittenSpec): boolean {
  const from = (id: string): string | undefined =>
    Object.hasOwn(spec.configurations, id) ? spec.configurations[id]['changed-from'] : undefined;
  return Object.keys(spec.configurations).some((start) => {
    let at = from(start);
    for (let step = 0; at !== undefined && step <= Object.keys(spec.configurations).length; step += 1) {
      if (at === start) return from(start) !== start;
      at = from(at);
    }
    return false;
  });
}

function checkLoading(spec: WrittenSpec, report: Report, whole: boolean): void {
  const { loading } = spec;
  if (loading === undefined) return;
  const stations = Object.entries(loading.stations);
  const names = stations.map(([name]) => name);
  const pilots = stations.filter(([, station]) => station.pilot === true);
  for (const [name] of pilots.slice(1))
    report('spec-impossible', ['loading', 'stations', name, 'pilot'], `The pilot sits at "${pilots[0][0]}" already.`);
  for (const [name, one] of Object.entries(loading.cases ?? {})) {
    for (const [station, load] of Object.entries(one.load)) {
      const path = ['loading', 'cases', name, 'load', station];
      if (!names.includes(station) && whole)
        report('spec-unknown-name', path, unknownName('station', station, names), 'error', 'key');
      else if (load.volumeM3 !== undefined && names.includes(station) && loading.stations[station].fuel !== true)
        report('spec-quantity', path, `"${station}" is no tank: give a weight, or write "fuel: true" at the station.`);
    }
  }
  const armed = Object.values(spec.configurations).some((facts) => facts['empty-arm'] !== undefined);
  if (!armed) {
    report(
      'spec-missing-key',
      ['loading'],
      'No configuration has an "empty-arm" beside its "empty-weight": the balance cannot be worked out.',
      'warning',
      'key',
    );
  }
  if ((loading['leading-edge'] === undefined) !== (loading.chord === undefined))
    report('spec-missing-key', ['loading'], 'The chord needs both "leading-edge" and "chord".', 'error', 'key');
}
