/**
 * Runs the engine over flights with known answers and prints how far off it is.
 *
 *   npm run accuracy -- [--quick | --full] [--seeds N] [--campaigns N] [--emulated N] [--only METRIC] [--seed TEXT] [--notes]
 *
 * Without options: about 6 minutes. --quick: about a minute and a half. --full: at most 15. Ends with a line for every aim.
 */
import { analyse } from '../../src/engine/analyse.ts';
import { compare } from '../../src/engine/compare/index.ts';
import { readRecording } from '../../src/engine/readers/index.ts';
import { type CampaignOptions, modifications, type ModificationName } from '../synth/index.ts';
import { sharedData } from '../tools/shared-data.ts';
import { sharedCampaign } from './known-answers.ts';
import { printCampaigns, printChangeSummary, printCounts, printMetrics, printPhases } from './print.ts';
import { type DecisionsSize, runDecisions } from './run-decisions.ts';
import { newRun, runCampaign, runEmulatedCampaign, runSharedCampaign } from './run-campaigns.ts';
import { runSharedFlights, runSimulatedFlights } from './run-flights.ts';
import { mean, Tally } from './tally.ts';
import { decisionTargets } from './decision-targets.ts';
import { targets } from './targets.ts';

interface Options {
  readonly each: number;
  readonly campaigns: number;
  readonly emulated: number;
  readonly limitS: number;
  readonly decisions: DecisionsSize & { readonly limitS: number };
  readonly seed: string;
  readonly only: RegExp | undefined;
  readonly showNotes: boolean;
}

function readOptions(args: readonly string[]): Options {
  const has = (name: string): boolean => args.includes(name);
  const value = (name: string): string | undefined => {
    const at = args.indexOf(name);
    return at >= 0 ? args[at + 1] : undefined;
  };
  const size = has('--quick')
    ? { each: 2, campaigns: 1, emulated: 16, limitS: 70, decisions: { modifications: 24, campaigns: 2, limitS: 18 } }
    : has('--full')
      ? {
          each: 20,
          campaigns: 60,
          emulated: 240,
          limitS: 640,
          decisions: { modifications: 360, campaigns: 40, limitS: 250 },
        }
      : {
          each: 6,
          campaigns: 8,
          emulated: 60,
          limitS: 270,
          decisions: { modifications: 120, campaigns: 12, limitS: 80 },
        };
  const only = value('--only');
  return {
    each: Number(value('--seeds') ?? size.each),
    campaigns: Number(value('--campaigns') ?? size.campaigns),
    emulated: Number(value('--emulated') ?? size.emulated),
    limitS: size.limitS,
    decisions: size.decisions,
    seed: value('--seed') ?? 'accuracy',
    only: only === undefined ? undefined : new RegExp(only),
    showNotes: has('--notes'),
  };
}

/** Half the campaigns change nothing in weather that fakes a change; the rest change something, in all weathers. */
function campaignOptions(i: number): CampaignOptions {
  const real = (Object.keys(modifications) as ModificationName[]).filter((name) => name !== 'none');
  const days = [4, 5, 6, 8][i % 4];
  const base = { daysBefore: days, daysAfter: days, runsPerDay: [1, 2] as const };
  if (i % 2 === 0) return { ...base, change: 'none', weather: 'faking' };
  return { ...base, change: real[Math.floor(i / 2) % real.length], weather: i % 4 === 1 ? 'fair' : 'faking' };
}

async function main(): Promise<void> {
  const options = readOptions(process.argv.slice(2));
  const print = (line: string): void => console.log(line);
  const started = performance.now();
  const elapsedS = (): number => (performance.now() - started) / 1000;
  const parts = { readRecording, analyse, compare };

  print('# Simulated flights, analysed from their files without any note of the pilot');
  const flights = new Tally();
  const ran = await runSimulatedFlights(
    parts,
    flights,
    options.seed,
    options.each,
    () => elapsedS() > 0.4 * options.limitS,
  );
  print(
    `${ran.flights} flights, ${(ran.recordingSeconds / 3600).toFixed(1)} h; reading ${(ran.readMs / ran.flights).toFixed(0)} ms and analysis ${(ran.analyseMs / ran.flights).toFixed(0)} ms each`,
  );
  printCounts(flights, print);
  printMetrics(flights, print, options.only);
  printPhases(flights, print);
  showNotes(flights, options.showNotes, print);

  const shared: Tally[] = [];
  const sharedRun = newRun();
  for (const name of ['engine', 'plugs']) {
    const folder = sharedData(`flights/${name}`);
    const campaign = folder === undefined ? undefined : sharedCampaign(folder);
    if (!campaign) {
      print(`\n# Recordings with known answers beside the repository: flights/${name} is absent, skipped`);
      continue;
    }
    print(`\n# Recordings with known answers beside the repository: flights/${name}`);
    const tally = new Tally();
    await runSharedFlights(parts, tally, campaign);
    printCounts(tally, print);
    printMetrics(tally, print, options.only);
    printPhases(tally, print);
    showNotes(tally, options.showNotes, print);
    await runSharedCampaign(parts, campaign, sharedRun);
    shared.push(tally);
  }
  if (shared.length > 0) {
    print('\n# Changes found in the recordings beside the repository');
    printSharedChanges(sharedRun, print);
  }

  print('\n# Simulated campaigns, the comparison alone: analyses emulated from the truth with honest errors');
  const alone = newRun();
  for (let i = 0; i < options.emulated && elapsedS() < 0.72 * options.limitS; i++) {
    runEmulatedCampaign(compare, `${options.seed}/alone/${i}`, campaignOptions(i), alone);
  }
  print(
    `${alone.campaigns} campaigns, comparison ${(alone.evaluateMs / Math.max(1, alone.campaigns)).toFixed(0)} ms each`,
  );
  printCampaigns(alone, print, 12);
  printChangeSummary(alone, print);
  printPerfect(alone, print);
  for (const problem of alone.problems.slice(0, 10)) print(`problem: ${problem}`);

  print("\n# Simulated campaigns: files and a spec with the pilot's notes, through to the verdict");
  const run = newRun();
  const noted = new Tally();
  for (let i = 0; i < options.campaigns && elapsedS() < options.limitS; i++) {
    await runCampaign(parts, `${options.seed}/${i}`, campaignOptions(i), run, noted);
  }
  print(
    `${run.campaigns} campaigns, evaluation ${(run.evaluateMs / Math.max(1, run.campaigns) / 1000).toFixed(1)} s each`,
  );
  printCampaigns(run, print, 40);
  printChangeSummary(run, print);
  printPerfect(run, print);
  for (const problem of run.problems.slice(0, 10)) print(`problem: ${problem}`);
  print("\n# The same events with the pilot's notes at hand (flights of the campaigns)");
  printMetrics(noted, print, options.only ?? /^(ground-roll|lift-off time|distance-over|liftoff-speed)/);

  const decidedFrom = elapsedS();
  const decided = runDecisions(
    compare,
    options.seed,
    options.decisions,
    () => elapsedS() - decidedFrom > options.decisions.limitS,
    print,
  );

  print('\n# Aims');
  for (const target of [...targets(flights, run, alone), ...decisionTargets(decided)]) {
    print(`${target.met === undefined ? '  -   ' : target.met ? ' met  ' : 'MISSED'} ${target.name}: ${target.said}`);
  }
  print(`\n${elapsedS().toFixed(0)} s`);
}

function printPerfect(run: ReturnType<typeof newRun>, print: (line: string) => void): void {
  const off = Math.sqrt(mean(run.perfectErrors.map((error) => error * error)));
  print(
    `even with perfect knowledge of the weather the ground roll is off by ${off.toFixed(2)} of its own standard errors (RMS; 1 is right for many days)`,
  );
}

function printSharedChanges(run: ReturnType<typeof newRun>, print: (line: string) => void): void {
  for (const change of run.changes) {
    const held = change.low <= change.truePercent && change.truePercent <= change.high;
    print(
      `${change.campaign}: ${change.metric}, ${change.footing}: true ${change.truePercent.toFixed(1)} %, said ${change.percent.toFixed(1)} % (${change.low.toFixed(1)} .. ${change.high.toFixed(1)})${held ? '' : ' NOT HELD'}, plain means ${change.naivePercent?.toFixed(1) ?? '-'} %: ${change.verdict}`,
    );
  }
  for (const problem of run.problems.slice(0, 10)) print(`problem: ${problem}`);
}

function showNotes(tally: Tally, all: boolean, print: (line: string) => void): void {
  const most = all ? tally.notes.length : 12;
  if (tally.notes.length > 0) print('');
  for (const note of tally.notes.slice(0, most)) print(`- ${note}`);
  if (tally.notes.length > most) print(`- (${tally.notes.length - most} more: --notes)`);
}

await main();
