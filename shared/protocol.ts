import type { EventOverride } from './analysis.ts';
import type { DisplayUnits } from './display-units.ts';
import type { ConditionsView, FlightView, TypedConditions } from './flight-view.ts';
import type { Problem } from './problem.ts';
import type { RunCurve } from './run-curve.ts';
import type { TrackColumns } from './track-columns.ts';

/** Everything that crosses between host and page; `rpc.ts` carries it. */

export interface PageSettings {
  readonly units: DisplayUnits;
}

export interface OpenedFlight {
  readonly outcome: 'flight';
  readonly flight: FlightView;
  /** The samples are here, phases and events are not yet: ask for `analysis`. */
  readonly pending: boolean;
  readonly columns: TrackColumns;
  readonly settings: PageSettings;
  /** Those typed in an earlier session with this file. */
  readonly conditions: TypedConditions;
}

/** The file could not be made into a flight: the problems say why. */
export interface UnreadableFlight {
  readonly outcome: 'unreadable';
  readonly fileName: string;
  readonly problems: readonly Problem[];
  readonly contents: readonly string[];
  /** Whether the file is text, so that showing it as such is of use. */
  readonly isText: boolean;
}

export interface SaveRequest {
  readonly suggestedName: string;
  readonly content: Uint8Array | string;
  /** For the dialog: 'PNG picture'. */
  readonly kind: string;
}

export type EventCorrection =
  | { readonly change: 'set'; readonly override: EventOverride }
  | { readonly change: 'remove'; readonly event: EventOverride['event']; readonly number: number };

/** What any page may ask of the host. */
export interface CommonHostMethods {
  copyText(argument: { readonly text: string; readonly what: string }): void;
  /** Name of the file written; undefined when the person thought better of it. */
  save(argument: SaveRequest): string | undefined;
}

/** What a track viewer asks of the host. */
export interface ViewerHostMethods extends CommonHostMethods {
  /** Reads (or takes what has been read); ends when the flight is there. Cancel stops the reading. */
  open(argument: { readonly again: boolean }, signal: AbortSignal): OpenedFlight | UnreadableFlight;
  /** Phases, events and metrics, where `open` said that they were pending. */
  analysis(argument: Record<string, never>, signal: AbortSignal): FlightView;
  /** Tells what the page has just drawn. */
  drawn(argument: DrawnPage): void;
  /** Keeps what was typed, and says what follows from it for one take-off. */
  atConditions(argument: { readonly conditions: TypedConditions; readonly takeoff: number }): ConditionsView;
  correctEvent(argument: EventCorrection): void;
  openText(argument: Record<string, never>): void;
  openCorrections(argument: Record<string, never>): void;
  addToComparison(argument: { readonly conditions: TypedConditions }): void;
  overlay(argument: Record<string, never>): void;
  /** Shows a problem's place in the text of the file. */
  showPlace(argument: { readonly line: number; readonly column: number }): void;
}

/** What a viewer page has on it. */
export interface DrawnPage {
  readonly outcome: 'flight' | 'unreadable' | 'trouble';
  /** Phases and events are still to come. */
  readonly pending: boolean;
  readonly phases: number;
  readonly events: number;
  /** Span in view, seconds after the first row, where it is not the whole flight. */
  readonly range?: readonly [number, number];
  /** Since the page's script began, milliseconds. */
  readonly afterMs: number;
  /** What is said instead of a flight. */
  readonly message?: string;
}

/** What the host tells a track viewer. */
export interface ViewerPageMethods {
  progress(argument: { readonly fraction: number }): void;
  /** The file, its corrections or the settings changed: open again, keeping the view. */
  changed(argument: { readonly why: 'file' | 'corrections' | 'settings' }): void;
  /** Shows a span, Unix times. */
  show(argument: { readonly startS: number; readonly endS: number }): void;
}

/** Flights laid over each other. */
export interface OverlayView {
  /** What the page keeps so that the same overlay opens again after a reload. */
  readonly tracks: readonly OverlayTrack[];
  readonly runs: readonly OverlayRun[];
  readonly settings: PageSettings;
  /** Files that could not be shown, and why. */
  readonly problems: readonly Problem[];
}

/** A recording of an overlay, by its address. */
export interface OverlayTrack {
  readonly file: string;
  /** State of the aeroplane, where the flights were taken from a comparison. */
  readonly configuration?: string;
}

export interface OverlayRun {
  readonly file: string;
  /** Which take-off of the file, from 1. */
  readonly number: number;
  /** Configuration in the spec that the flights came from; decides the line style. */
  readonly configuration?: string;
  readonly label: string;
  readonly curve: RunCurve;
}

export interface OverlayHostMethods extends CommonHostMethods {
  openOverlay(argument: Record<string, never>, signal: AbortSignal): OverlayView;
  openFlight(argument: { readonly file: string }): void;
  /** Tells how many runs have just been drawn. */
  drawn(argument: { readonly runs: number; readonly problems: number }): void;
}

export interface OverlayPageMethods {
  progress(argument: { readonly fraction: number }): void;
  changed(argument: { readonly why: 'file' | 'settings' }): void;
}
