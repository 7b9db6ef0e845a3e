// Prints the error, sigma and z-score of every take-off, landing and phase boundary of the recordings with known answers.
// Run: npx tsx test/tools/events-vs-truth.ts [part of a file name] [-v]
import { readFileSync } from 'node:fs';
import { nodeWorld } from '../../src/cli/world-node.ts';
import { findEvents } from '../../src/engine/events/find-events.ts';
import { readRecording } from '../../src/engine/readers/index.ts';
import { deriveMotion } from '../../src/engine/track/derive-motion.ts';
import { sharedData } from './shared-data.ts';

interface Score {
  readonly group: string;
  readonly what: string;
  readonly error: number;
  readonly sigma: number;
  readonly inside: boolean;
  readonly relative?: number;
}

const scores: Score[] = [];
const only = (process.argv[2] ?? '-').startsWith('-') ? '' : process.argv[2];
const verbose = process.argv.includes('-v');
let missed = 0;
let invented = 0;
let slowest = 0;

function add(group: string, what: string, error: number, sigma: number, inside?: boolean, relative?: number): string {
  scores.push({
    group,
    what,
    error,
    sigma,
    inside: inside ?? Math.abs(error) < 1.96 * sigma,
    ...(relative === undefined ? {} : { relative }),
  });
  return `${what} ${error.toFixed(2)}±${sigma.toFixed(2)} (${(error / sigma).toFixed(1)})`;
}

for (const campaign of ['engine', 'plugs']) {
  const truthFile = sharedData(`flights/${campaign}/truth.json`);
  if (truthFile === undefined) {
    console.log('The recordings with known answers are not here.');
    process.exit(1);
  }
  // The file's own shape; only the fields used below.
  const truth = JSON.parse(readFileSync(truthFile, 'utf8'));
  for (const flight of truth.flights) {
    if (!flight.file.includes(only)) continue;
    const path = sharedData(`flights/${campaign}/${flight.file}`) as string;
    const reading = await readRecording(await nodeWorld().open(path), {});
    if (reading.track === undefined) {
      console.log(
        flight.file,
        'could not be read',
        reading.problems.map((problem) => problem.message),
      );
      continue;
    }
    const began = performance.now();
    const { motion } = deriveMotion(reading.track);
    const events = findEvents(motion);
    slowest = Math.max(slowest, performance.now() - began);
    const epoch = Date.parse(flight.epochUtc) / 1000;
    const group = `${flight.format}/${flight.receiver.rateHz}Hz${motion.speedSource === 'receiver' ? '+v' : ''}`;
    console.log(`${flight.file} ${group} ${(performance.now() - began).toFixed(0)} ms`);
    const left = new Set(events.takeoffs);
    for (const take of flight.takeoffs) {
      const at = take.liftoff === undefined ? take.brakeRelease.t : take.liftoff.t;
      const found = [...left].find((each) => Math.abs((each.liftoff ?? each.rollStart).timeS - epoch - at) < 8);
      const kind = take.rejected ? 'rejected' : take.kind;
      if (found === undefined) {
        missed += 1;
        console.log(`   MISSED ${kind} take-off at ${at}`);
        continue;
      }
      left.delete(found);
      const lines = [kind.padEnd(12), found.outcome, found.rollingStart ? 'rolling' : 'standing'];
      lines.push(
        add(
          group,
          take.kind === 'touch-and-go' ? 'tg start' : `${take.kind} start`,
          found.rollStart.timeS - epoch - take.brakeRelease.t,
          found.rollStart.sigmaS,
        ),
      );
      if (take.liftoff !== undefined && found.liftoff !== undefined) {
        lines.push(
          add(
            group,
            take.kind === 'touch-and-go' ? 'tg liftoff' : 'liftoff',
            found.liftoff.timeS - epoch - take.liftoff.t,
            found.liftoff.sigmaS,
          ),
        );
        const interval = (
          name: string,
          measured: { value: number; low: number; high: number } | undefined,
          truly: number,
        ): void => {
          if (measured === undefined) lines.push(`${name} absent`);
          else {
            const sigma = (measured.high - measured.low) / 3.92;
            lines.push(
              add(
                group,
                name,
                measured.value - truly,
                sigma,
                measured.low <= truly && truly <= measured.high,
                (measured.value - truly) / truly,
              ),
            );
          }
        };
        const name = take.kind === 'touch-and-go' ? 'tg ' : '';
        interval(`${name}roll`, found.groundRollM, take.groundRollM);
        interval(`${name}speed`, found.liftoffSpeedMps, take.liftoff.groundSpeedKt * 0.514444);
        for (const [index, screen] of [take.to50ft, take.to100ft].entries()) {
          const point = found.screens[index];
          if (point === undefined) lines.push(`screen ${index} absent`);
          else {
            interval(`${name}to${index === 0 ? 50 : 100}`, point.distanceM, screen.distanceM);
            lines.push(
              add(group, `${name}t${index === 0 ? 50 : 100}`, point.time.timeS - epoch - screen.t, point.time.sigmaS),
            );
          }
        }
      }
      console.log(`   ${lines.join('  ')}`);
      if (verbose) console.log(`      ${found.remarks.join(' ')}`);
    }
    for (const each of left) {
      invented += 1;
      console.log(`   INVENTED ${each.outcome} at ${(each.rollStart.timeS - epoch).toFixed(1)}`);
    }
    const landings = new Set(events.landings);
    for (const land of flight.landings) {
      const found = [...landings].find((each) => Math.abs(each.touchdown.timeS - epoch - land.touchdown.t) < 10);
      if (found === undefined) {
        missed += 1;
        console.log(`   MISSED landing at ${land.touchdown.t}`);
        continue;
      }
      landings.delete(found);
      const lines = [add(group, 'touchdown', found.touchdown.timeS - epoch - land.touchdown.t, found.touchdown.sigmaS)];
      if (land.rollM !== null && found.groundRollM !== undefined) {
        const sigma = (found.groundRollM.high - found.groundRollM.low) / 3.92;
        const error = found.groundRollM.value - land.rollM;
        lines.push(add(group, 'landing roll', error, sigma, Math.abs(error) < 1.96 * sigma, error / land.rollM));
      }
      const roll = flight.phases.find(
        (phase: { phase: string; t0: number; t1: number }) =>
          phase.phase === 'landing_roll' && Math.abs(phase.t0 - land.touchdown.t) < 1,
      );
      if (roll !== undefined && found.stop !== undefined)
        lines.push(add(group, 'stop', found.stop.timeS - epoch - roll.t1, found.stop.sigmaS));
      console.log(`   landing ${lines.join('  ')}`);
    }
    for (const each of landings) {
      invented += 1;
      console.log(`   INVENTED landing at ${(each.touchdown.timeS - epoch).toFixed(1)}`);
    }
    const around = flight.events
      .filter((event: { name: string }) => event.name === 'go_around')
      .map((event: { t: number }) => event.t);
    if (around.length > 0 || events.goArounds.length > 0) {
      console.log(
        `   go-arounds true ${around.join(' ')}, found ${events.goArounds.map((pass) => (pass.timeS - epoch).toFixed(0)).join(' ')}`,
      );
    }
  }
}

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
const rms = (values: readonly number[]): number => Math.sqrt(mean(values.map((value) => value * value)));
function summary(of: readonly Score[], name: string): void {
  if (of.length === 0) return;
  const errors = of.map((score) => score.error);
  const z = of.map((score) => score.error / score.sigma);
  const relative = of.flatMap((score) => (score.relative === undefined ? [] : [score.relative]));
  console.log(
    `${name.padEnd(34)} n ${String(of.length).padStart(3)}  bias ${mean(errors).toFixed(2)}  rms ${rms(errors).toFixed(2)}${relative.length > 0 ? `  relative ${(100 * rms(relative)).toFixed(1)} %` : ''}  z bias ${mean(z).toFixed(2)}  z rms ${rms(z).toFixed(2)}  inside ${((100 * of.filter((score) => score.inside).length) / of.length).toFixed(0)} %`,
  );
}
console.log(`\nmissed ${missed}, invented ${invented}, slowest ${slowest.toFixed(0)} ms`);
const names = [...new Set(scores.map((score) => score.what))].sort();
for (const name of names)
  summary(
    scores.filter((score) => score.what === name),
    name,
  );
for (const group of [...new Set(scores.map((score) => score.group))].sort()) {
  for (const name of ['liftoff', 'roll', 'to50', 'touchdown']) {
    summary(
      scores.filter((score) => score.group === group && score.what === name),
      `${group} ${name}`,
    );
  }
}
