import { formatBytes, formatFixed } from '../../../../shared/format.ts';
import { codeSpan, markdownTable } from '../../../../shared/markdown.ts';
import type { ReportContext } from '../context.ts';

/** From what the report was made, so that anybody can make it again and see the same. */
export function provenanceSection(context: ReportContext): string {
  const { provenance, flights } = context.evaluation;
  const rows = provenance.recordings.map((recording) => {
    const flight = flights.find(({ file }) => file === (recording.ofFlight ?? recording.file));
    const part = flight?.analysis?.recording.parts?.find(({ file }) => file === recording.file);
    const facts = recording.ofFlight === undefined ? flight?.analysis?.recording : undefined;
    return [
      codeSpan(context.names.hidden ? context.names.file(recording.file) : recording.file),
      (recording.ofFlight === undefined ? flight?.format : part?.format) ?? '-',
      facts === undefined ? '-' : `${formatFixed(facts.rateHz, facts.rateHz < 10 ? 1 : 0)} Hz`,
      formatBytes(recording.sizeBytes),
      `${codeSpan(recording.sha256)}${recording.of === 'parts' ? ' (of parts of the file)' : ''}${
        recording.correctionsSha256 === undefined ? '' : `, corrections ${codeSpan(recording.correctionsSha256)}`
      }`,
    ];
  });
  return [
    `${context.heading(2)} Provenance`,
    '',
    `Made by Modproof ${provenance.engineVersion} from ${context.names.hidden ? 'a comparison' : codeSpan(provenance.specFile)} (SHA-256 ${codeSpan(provenance.specSha256)}) and these recordings:`,
    '',
    markdownTable(['Recording', 'Format', 'Rate', 'Size', 'SHA-256'], rows, ['left', 'left', 'right', 'right']),
  ].join('\n');
}
