import type { DisplayUnits } from '../../shared/display-units.ts';
import { type EngineParts, type Evaluation, evaluate } from '../engine/evaluate/index.ts';
import type { CommandIo } from './io.ts';
import { progressOn } from './progress.ts';

export interface EvaluateOptions {
  readonly cache: boolean;
  readonly units?: DisplayUnits;
}

/** Evaluates a spec with what the command has around it: progress, the cache beside the spec, threads. */
export async function evaluateSpec(
  path: string,
  specText: string,
  options: EvaluateOptions,
  parts: EngineParts,
  io: CommandIo,
): Promise<Evaluation> {
  const progress = progressOn(io);
  const cache = options.cache ? io.cacheFor(path) : undefined;
  const bench = io.startBench?.();
  try {
    return await evaluate(
      {
        specText,
        specPath: path,
        world: io.world,
        work: { signal: io.signal, onProgress: (fraction) => progress.show(fraction, path) },
        ...(cache === undefined ? {} : { cache }),
        ...(options.units === undefined ? {} : { units: options.units }),
        ...(bench === undefined ? {} : { bench }),
      },
      parts,
    );
  } finally {
    progress.clear();
    await bench?.close();
  }
}
