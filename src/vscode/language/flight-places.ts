import type * as vscode from 'vscode';
import { type WrittenTrack, writtenTracks } from '../../engine/spec/editor/index.ts';
import type { EvaluatedFlight } from '../../engine/evaluate/index.ts';
import type { Evaluated } from '../comparison/comparisons.ts';

export interface FlightsAtEntry {
  readonly entry: WrittenTrack;
  /** One for a track, several for a pattern or folder. */
  readonly flights: readonly EvaluatedFlight[];
}

/** The entries under `flights` as they stand in the document now, each with what the last evaluation found for it. */
export function flightsByEntry(document: vscode.TextDocument, { evaluation }: Evaluated): readonly FlightsAtEntry[] {
  const lineOfTrack = new Map((evaluation.parsed.spec?.flights ?? []).map(({ track, at }) => [track, at?.line]));
  return writtenTracks(document.getText())
    .filter(({ index }) => index !== undefined)
    .map((entry) => {
      // An entry may have moved since; its flights are known by the line on which its track stood then.
      const line = lineOfTrack.get(entry.track);
      const flights = line === undefined ? [] : evaluation.flights.filter((flight) => flight.entry.at?.line === line);
      return { entry, flights };
    });
}
