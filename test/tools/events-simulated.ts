/**
 * Events and phases of simulated flights against what happened in them: how many are found, missed and invented, landing
 * rolls, touch-and-go rolls, holes between phases, approaches into go-arounds.
 *
 *   npx tsx test/tools/events-simulated.ts [--seed TEXT] [--each N] [--receiver NAME] [--circuits] [--rejects] [--files] [--details]
 *
 * `--files` writes each recording to one of its file formats and reads that, as `npm run accuracy` does (same seeds).
 * `--circuits` flies touch-and-goes, go-arounds and stop-and-goes only; `--rejects` begins every flight with a rejected
 * take-off.
 */
import type { Interval } from '../../shared/measured.ts';
import { findEvents } from '../../src/engine/events/find-events.ts';
import { detectPhases } from '../../src/engine/phases/detect-phases.ts';
import { deriveMotion } from '../../src/engine/track/derive-motion.ts';
import { blindOfRecording } from '../accuracy/blind-spots.ts';
import { readRecording } from '../../src/engine/readers/index.ts';
import type { Track } from '../../src/engine/track/track.ts';
import { bytesInMemory } from '../../src/engine/world.ts';
import {
  formatsOf,
  receiverKinds,
  type ReceiverName,
  simulatedFlight,
  type SimulatedFlight,
  valueAt,
  writeRecording,
} from '../synth/index.ts';
import { Random } from '../synth/random.ts';
import { Scores } from './scores.ts';

const argument = (name: string, otherwise: string): string => {
  const at = process.argv.indexOf(name);
  return at < 0 ? otherwise : process.argv[at + 1];
};
const seed = argument('--seed', 'events');
const each = Number(argument('--each', '4'));
const only = argument('--receiver', '');
const files = process.argv.includes('--files');
const details = process.argv.includes('--details');
const circuits = process.argv.includes('--circuits');
const rejects = process.argv.includes('--rejects');

const scores = new Scores();
const notes: string[] = [];
const matchS = 25;

/** Highest ground speed between two instants of the truth. */
function peakSpeedMps(flight: SimulatedFlight, fromS: number, toS: number): number {
  let most = 0;
  for (let at = fromS; at <= toS; at += 0.1) {
    most = Math.max(most, Math.hypot(valueAt(flight.table, 'eastMps', at), valueAt(flight.table, 'northMps', at)));
  }
  return most;
}

function interval(kind: string, name: string, found: Interval | undefined, truth: number | undefined): void {
  if (truth === undefined) return;
  if (found === undefined) {
    scores.count(kind, `${name}: absent`, 1);
    return;
  }
  scores.addInterval(kind, name, found, truth, 1);
  scores.add(kind, `${name}: % of the truth`, (100 * (found.value - truth)) / truth);
  scores.add(kind, `${name}: half width, %`, (50 * (found.high - found.low)) / truth);
  if (found.low < 0) scores.count(kind, `${name}: low end below zero`, 1);
}

async function trackOf(flight: SimulatedFlight, kind: ReceiverName): Promise<Track> {
  if (!files) return flight.track;
  const format = new Random(flight.seed).pick(formatsOf[kind]);
  const { bytes, extension } = writeRecording(flight.recording, format);
  const { track, problems } = await readRecording(bytesInMemory(`flight.${extension}`, bytes), {});
  if (track === undefined) throw new Error(`${flight.seed}: ${problems[0]?.message}`);
  return track;
}

async function score(flight: SimulatedFlight, kind: ReceiverName): Promise<void> {
  const blind = blindOfRecording(flight.recording);
  const { motion } = deriveMotion(await trackOf(flight, kind));
  const events = findEvents(motion);
  const { truth } = flight;
  const note = (what: string, timeS: number): void => {
    scores.count(kind, what.replace(/ \(.*\)/, ''), 1);
    notes.push(`${what}: ${flight.seed} (${flight.name}) at ${(timeS - truth.epochS).toFixed(1)} s`);
  };
  const takeoffs = new Set(events.takeoffs);
  for (const real of truth.takeoffs) {
    const at = real.liftoffS ?? real.rollStartS + 5;
    const found = [...takeoffs]
      .filter((one) => Math.abs((one.liftoff?.timeS ?? one.rollStart.timeS + 5) - at) < matchS)
      .sort((a, b) => Math.abs(a.rollStart.timeS - real.rollStartS) - Math.abs(b.rollStart.timeS - real.rollStartS))[0];
    if (found !== undefined) takeoffs.delete(found);
    const lastS = real.screens.at(-1)?.timeS ?? at + 10;
    if ([real.rollStartS, at, (real.rollStartS + at) / 2, lastS].some(blind)) continue;
    if (real.outcome === 'rejected' && peakSpeedMps(flight, real.rollStartS, real.stoppedS ?? at + 10) < 8) continue;
    scores.count(kind, `${real.outcome}: true`, 1);
    if (found === undefined) note(`${real.outcome} MISSED`, real.rollStartS);
    else if (found.outcome !== real.outcome) note(`${real.outcome} CALLED ${found.outcome}`, real.rollStartS);
    else if (real.outcome === 'touch-and-go') {
      interval(kind, 'touch-and-go roll, m', found.groundRollM, real.groundRollM);
      const whole = truth.landings.find((landing) => Math.abs(landing.touchdownS - real.rollStartS) < 15);
      if (whole !== undefined) {
        const before = [...events.landings].sort(
          (a, b) => Math.abs(a.touchdown.timeS - whole.touchdownS) - Math.abs(b.touchdown.timeS - whole.touchdownS),
        )[0];
        interval(
          kind,
          'touch-and-go touchdown, s after the roll began',
          before === undefined
            ? undefined
            : instantInterval(before.touchdown.timeS - real.rollStartS + 100, before.touchdown.sigmaS),
          whole.touchdownS - real.rollStartS + 100,
        );
      }
    } else interval(kind, `${real.outcome} roll, m`, found.groundRollM, real.groundRollM);
  }
  for (const found of takeoffs) {
    if (blind(found.rollStart.timeS) || (found.liftoff !== undefined && blind(found.liftoff.timeS))) continue;
    if (truth.takeoffs.some((real) => Math.abs(real.rollStartS - found.rollStart.timeS) < 60 && blind(real.rollStartS)))
      continue;
    note(`${found.outcome} INVENTED`, found.rollStart.timeS);
  }
  const landings = new Set(events.landings);
  for (const real of truth.landings) {
    const found = [...landings]
      .filter((one) => Math.abs(one.touchdown.timeS - real.touchdownS) < matchS)
      .sort((a, b) => Math.abs(a.touchdown.timeS - real.touchdownS) - Math.abs(b.touchdown.timeS - real.touchdownS))[0];
    if (found !== undefined) landings.delete(found);
    if ([real.touchdownS, real.touchdownS - 6, real.touchdownS + 8].some(blind)) continue;
    scores.count(kind, 'landing: true', 1);
    if (found === undefined) {
      note('landing MISSED', real.touchdownS);
      continue;
    }
    if (real.stopS === undefined || blind(real.stopS)) continue;
    interval(
      kind,
      'touchdown, s (100 added)',
      instantInterval(found.touchdown.timeS - real.touchdownS + 100, found.touchdown.sigmaS),
      100,
    );
    if (Math.abs(found.touchdown.timeS - real.touchdownS) > 4) {
      note(`touchdown FAR OFF (${(found.touchdown.timeS - real.touchdownS).toFixed(1)} s)`, real.touchdownS);
    }
    interval(kind, 'landing roll, m', found.groundRollM, real.groundRollM);
    if (found.stop !== undefined) {
      interval(
        kind,
        'stop, s (100 added)',
        instantInterval(found.stop.timeS - real.stopS + 100, found.stop.sigmaS),
        100,
      );
    }
    interval(kind, 'touchdown speed, m/s', found.touchdownSpeedMps, real.touchdownGroundSpeedMps);
  }
  for (const found of landings) if (!blind(found.touchdown.timeS)) note('landing INVENTED', found.touchdown.timeS);

  const phases = detectPhases(motion, events);
  for (let index = 1; index < phases.length; index += 1) {
    const hole = phases[index].startS - phases[index - 1].endS;
    if (Math.abs(hole) > 1e-3) {
      note(
        `phases: ${hole > 0 ? 'HOLE' : 'OVERLAP'} ${phases[index - 1].kind} > ${phases[index].kind}`,
        phases[index].startS,
      );
    }
  }
  for (let index = 1; index < truth.phases.length; index += 1) {
    const [before, after] = [truth.phases[index - 1], truth.phases[index]];
    if (before.kind !== 'approach' || after.kind !== 'climb' || blind(after.startS) || blind(after.startS - 20))
      continue;
    scores.count(kind, 'go-around: true', 1);
    const into = phases.some((phase) => phase.kind === 'approach' && Math.abs(phase.endS - after.startS) < 15);
    if (!into) note('go-around WITHOUT APPROACH', after.startS);
  }
}

function instantInterval(value: number, sigma: number): Interval {
  return { value, low: value - 1.96 * sigma, high: value + 1.96 * sigma };
}

for (let index = 0; index < each; index += 1) {
  for (const kind of Object.keys(receiverKinds) as ReceiverName[]) {
    if (only !== '' && kind !== only) continue;
    await score(
      simulatedFlight(`${seed}/${kind}/${index}`, {
        receiver: kind,
        ...(circuits
          ? {
              length: 'circuits' as const,
              circuits: ['touch-and-go', 'go-around', 'touch-and-go', 'stop-and-go'] as const,
            }
          : {}),
        ...(rejects ? { rejectFirst: true } : {}),
      }),
      kind,
    );
  }
}
console.log(notes.sort().join('\n'));
console.log(scores.report(details));
