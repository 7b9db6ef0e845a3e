import { dirname, join } from 'node:path';
import type { DisplayUnits } from '../../shared/display-units.ts';
import type { Evaluation } from '../engine/evaluate/index.ts';
import {
  CannotInsert,
  isUntouchedReport,
  mayReplaceFigure,
  reportAsFile,
  type ReportFigure,
  type ReportFiles,
  reportInNotes,
} from '../engine/report/index.ts';
import { exitCodes } from './exit-codes.ts';
import { CommandFailure } from './io.ts';
import { setAside, textIfPresent, writeAtomically } from './write-file.ts';

/** Refuses before anything is written when a figure would replace a picture that is not ours. */
async function writeFigures(folder: string, figures: readonly ReportFigure[]): Promise<void> {
  for (const { path } of figures) {
    const target = join(folder, path);
    if (!mayReplaceFigure(await textIfPresent(target))) {
      throw new CommandFailure(
        `${target} was not drawn by Modproof and is not replaced: move it away.`,
        exitCodes.failed,
      );
    }
  }
  for (const { path, svg } of figures) await writeAtomically(join(folder, path), svg);
}

/** Writes a report as a file of its own. One that a person has changed is replaced only when forced, and kept aside. */
export async function putReport(
  target: string,
  evaluation: Evaluation,
  units: DisplayUnits,
  force: boolean,
): Promise<void> {
  const old = await textIfPresent(target);
  if (old !== undefined && !(await isUntouchedReport(old))) {
    if (!force) {
      throw new CommandFailure(
        `${target} was written or changed by a person and is not replaced. Choose another name, or --force (the old one is kept as ${target}.old).`,
        exitCodes.failed,
      );
    }
    await setAside(target);
  }
  const report = await reportAsFile(target, evaluation, units);
  await writeFigures(dirname(target), report.figures);
  await writeAtomically(target, report.markdown);
}

/** Writes a report between the markers of existing notes. */
export async function insertReport(target: string, evaluation: Evaluation, units: DisplayUnits): Promise<void> {
  const notes = await textIfPresent(target);
  if (notes === undefined)
    throw new CommandFailure(`${target}: there are no such notes to write into.`, exitCodes.failed);
  let report: ReportFiles;
  try {
    report = reportInNotes(target, notes, evaluation, units);
  } catch (error) {
    if (!(error instanceof CannotInsert)) throw error;
    const place = error.line === undefined ? '' : `:${error.line}`;
    throw new CommandFailure(`${target}${place}: ${error.message}`, exitCodes.failed);
  }
  await writeFigures(dirname(target), report.figures);
  // Somebody may have saved the notes meanwhile: then it is theirs that counts.
  if ((await textIfPresent(target)) !== notes) {
    throw new CommandFailure(`${target} was changed while the report was made: run it again.`, exitCodes.failed);
  }
  await writeAtomically(target, report.markdown);
}
