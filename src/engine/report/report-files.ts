import type { DisplayUnits } from '../../../shared/display-units.ts';
import type { Evaluation } from '../evaluate/index.ts';
import { insertBetweenMarkers } from './insert.ts';
import { figureFolderOf, type ReportFigure, writeReport } from './report.ts';
import { sealReport } from './seal.ts';
import { figureMark } from './svg/frame.ts';

/** Text of a Markdown file and its figures, whose paths are relative to its folder. */
export interface ReportFiles {
  readonly markdown: string;
  readonly figures: readonly ReportFigure[];
}

/** A report as a file of its own, sealed, so that a later run may replace it as long as no person changed it. */
export async function reportAsFile(target: string, evaluation: Evaluation, units: DisplayUnits): Promise<ReportFiles> {
  const { markdown, figures } = writeReport(evaluation, { figureFolder: figureFolderOf(target), units });
  return { markdown: await sealReport(markdown), figures };
}

/** Notes with the report between their markers; the rest stays byte for byte. Throws `CannotInsert`. */
export function reportInNotes(target: string, notes: string, evaluation: Evaluation, units: DisplayUnits): ReportFiles {
  const { markdown, figures } = writeReport(evaluation, { figureFolder: figureFolderOf(target), units, topLevel: 2 });
  return { markdown: insertBetweenMarkers(notes, markdown), figures };
}

/** True where a figure may be written: there is none, or one that was drawn here. */
export function mayReplaceFigure(old: string | undefined): boolean {
  return old === undefined || old.includes(figureMark);
}
