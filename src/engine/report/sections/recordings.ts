import { formatClock } from '../../../../shared/format.ts';
import { codeSpan, escapeMarkdown, markdownTable } from '../../../../shared/markdown.ts';
import type { RecordingPart } from '../../../../shared/recording-part.ts';
import { broughtText, offsetText, roleText } from '../../recordings/index.ts';
import type { ReportContext } from '../context.ts';

function rowOf(flight: string, part: RecordingPart, context: ReportContext): string[] {
  const { startS, endS, clockOffsetS, clockOffsetBy } = part;
  const span = startS === undefined || endS === undefined ? '-' : `${formatClock(startS)} to ${formatClock(endS)}`;
  const how = clockOffsetBy === 'pilot' ? 'the pilot' : clockOffsetBy;
  return [
    codeSpan(context.names.file(flight)),
    codeSpan(context.names.file(part.file)),
    part.joined
      ? roleText({ ...part, ...(part.continues && { continues: context.names.file(part.continues) }) })
      : '**not joined**',
    span,
    clockOffsetS === undefined ? '-' : `${offsetText(clockOffsetS)}, by ${how}`,
    broughtText(part) ?? '-',
  ];
}

/** Which flights were joined from several recordings, and how their clocks stand; empty where none was. */
export function recordingsSection(context: ReportContext): string {
  const joined = context.evaluation.flights.flatMap(({ file, analysis }) => {
    const parts = analysis?.recording.parts;
    return parts === undefined ? [] : [{ file, parts }];
  });
  if (joined.length === 0) return '';
  const rows = joined.flatMap(({ file, parts }) => parts.map((part) => rowOf(file, part, context)));
  const remarks = joined.flatMap(({ parts }) =>
    parts.flatMap(({ file, remarks: told }) =>
      told.map((remark) => `- ${codeSpan(context.names.file(file))}: ${escapeMarkdown(context.names.text(remark))}`),
    ),
  );
  return [
    `${context.heading(2)} Flights in several recordings`,
    '',
    "The first recording of a flight gives times, positions and speeds. Of another recorder come the channels that it lacks, brought to its clock by the offset below, which is added to the other's times (95 % interval). A difference in the delays of two recorders, some tenths of a second, is part of an offset.",
    '',
    markdownTable(['Flight', 'File', 'Part', 'Time, UTC', 'Clock', 'Gives'], rows),
    ...remarks,
    '',
  ].join('\n');
}
