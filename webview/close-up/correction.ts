import type { EventOverride } from '../../shared/analysis.ts';
import { filmClockSigmaS, filmOf, intoFilm, mostLateS, parseFilmTime } from '../../shared/film-time.ts';
import {
  formatClock,
  formatFilmTime,
  formatFixed,
  formatSigned,
  formatValue,
  inShownUnit,
  shownUnit,
} from '../../shared/format.ts';
import { parseQuantity } from '../../shared/quantity.ts';
import type { EventCorrection } from '../../shared/protocol.ts';
import type { RunPoint } from '../../shared/run-curve.ts';
import type { Plot } from '../charts/plot.ts';
import { button, textField } from '../components/toolkit.ts';
import { element, fill } from '../element.ts';
import { Store } from '../store.ts';
import type { FlightModel } from '../viewer/flight-model.ts';
import { distanceAt, eventHandle } from './event-handle.ts';
import type { Run } from './runs.ts';

/** One sigma that is put in when the pilot states none: as for an override in a spec. */
const usualSigma = '0.3 s';

export interface CorrectionOptions {
  readonly model: FlightModel;
  readonly run: Run;
  readonly point: RunPoint;
  readonly plots: readonly Plot[];
  readonly save: (correction: EventCorrection) => Promise<void>;
  readonly onClose: () => void;
}

/** Moves one event by hand: a handle in the charts, what it changes, why, and where it is kept. */
export function correctionEditor(options: CorrectionOptions, signal: AbortSignal): HTMLElement {
  const { model, run, point, plots } = options;
  const { corrections } = model.flight;
  const event = point.kind as EventOverride['event'];
  const known = corrections.overrides.find((one) => one.event === event && one.number === run.number);
  const time = new Store(point.timeS);
  const { films } = model.flight.analysis.recording;
  // Of a film in several files: the one that shows the event.
  const shown = intoFilm(films, point.timeS)?.part;
  const filmStartS = shown?.startS;
  const filmName = shown?.name === undefined ? '' : `${shown.name} `;
  /** The time into the film as the pilot typed it, as long as the handle was not moved after it. */
  let typed: { readonly timeS: number; readonly intoFilmS: number } | undefined =
    known?.intoFilmS === undefined || known.film !== shown?.name
      ? undefined
      : { timeS: point.timeS, intoFilmS: known.intoFilmS };
  let sigmaText = known?.sigmaS === undefined ? usualSigma : `${known.sigmaS} s`;
  let why = known?.why?.trim() ?? '';
  const sentence = element('p', { class: 'correction-now', attributes: { role: 'status' } });
  const fault = element('p', { class: 'fault' });
  time.follow((t) => {
    const shift = t - point.timeS;
    const moved = distanceAt(run.curve, t) - distanceAt(run.curve, point.timeS);
    const unit = shownUnit('length', model.units).symbol;
    const film = filmStartS === undefined ? '' : ` (film ${filmName}${formatFilmTime(t - filmStartS, 2)})`;
    const parts = [`${point.label} at ${formatClock(t, 2)} UTC${film}`];
    if (Math.abs(shift) >= 0.005) {
      parts.push(
        `${formatSigned(shift, 2)} s, ${formatSigned(inShownUnit(moved, 'length', model.units), 0)} ${unit} from before`,
      );
    }
    parts.push(`at ${formatValue(distanceAt(run.curve, t), 'length', model.units)}`);
    sentence.textContent = parts.join(': ').replace(': at', ', at');
  }, signal);
  for (const plot of plots) eventHandle(plot, run.curve, time, point.label, signal);

  let filmFault = '';
  const keep = async (): Promise<void> => {
    if (filmFault !== '') {
      fault.textContent = filmFault;
      return;
    }
    const sigma = parseQuantity(sigmaText, 'time');
    if (!sigma.ok || !(sigma.quantity.value > 0)) {
      fault.textContent = sigma.ok ? 'The uncertainty must be more than nothing.' : sigma.message;
      return;
    }
    await guarded({
      change: 'set',
      override: {
        event,
        number: run.number,
        timeS: time.value,
        sigmaS: sigma.quantity.value,
        ...(typed !== undefined && typed.timeS === time.value ? { intoFilmS: typed.intoFilmS, ...filmOf(shown) } : {}),
        ...(why.trim() === '' ? {} : { why: why.trim() }),
      },
    });
  };
  const guarded = async (correction: EventCorrection): Promise<void> => {
    fault.textContent = '';
    try {
      await options.save(correction);
      options.onClose();
    } catch (error) {
      fault.textContent = error instanceof Error ? error.message : String(error);
    }
  };
  const filmField = (startS: number): HTMLElement => {
    const field = textField({
      id: 'correction-film',
      label: filmName === '' ? 'Time into the film' : `Time into ${filmName.trim()}`,
      value: formatFilmTime(point.timeS - startS, 1),
      placeholder: '3:05.2',
      onInput: (value) => {
        const intoFilmS = parseFilmTime(value);
        const timeS = intoFilmS === undefined ? undefined : startS + intoFilmS;
        const first = run.curve.originS + run.curve.timeS[0];
        const last = run.curve.originS + run.curve.timeS[run.curve.timeS.length - 1];
        if (intoFilmS === undefined || timeS === undefined) {
          filmFault = 'The time into the film is written as a player shows it: 3:05.2.';
        } else if (timeS < first || timeS > last) {
          filmFault = `The film shows this run from ${formatFilmTime(first - startS)} to ${formatFilmTime(last - startS)}.`;
        } else {
          filmFault = '';
          typed = { timeS, intoFilmS };
          time.set(timeS);
        }
        fault.textContent = filmFault;
      },
    });
    time.onChange((t) => {
      if (typed?.timeS === t) return;
      typed = undefined;
      filmFault = '';
      fault.textContent = '';
      field.value = formatFilmTime(t - startS, 2);
    }, signal);
    return field;
  };
  const root = element('section', { class: 'correction', attributes: { 'aria-labelledby': 'correction-title' } });
  fill(
    root,
    element('h3', { text: `Correct: ${point.label.toLowerCase()}`, attributes: { id: 'correction-title' } }),
    element('p', {
      class: 'note',
      text: `Drag the handle in a chart, or focus it and use the arrow keys (0.1 s; with Shift 1 s). It is kept in ${corrections.fileName} beside the recording, which itself is never changed.`,
    }),
    filmStartS !== undefined &&
      element('p', {
        class: 'note',
        text: `Or look at the frames and type the time into the film. A camera writes its positions up to ${formatFixed(mostLateS, 0)} s late by an amount that is not known: ${formatFixed(filmClockSigmaS, 1)} s are added to the uncertainty for it.`,
      }),
    sentence,
    element(
      'div',
      { class: 'fields' },
      filmStartS === undefined ? undefined : filmField(filmStartS),
      textField({
        id: 'correction-sigma',
        label: 'Uncertainty (one standard deviation)',
        value: sigmaText,
        onInput: (value) => {
          sigmaText = value;
        },
      }),
      textField({
        id: 'correction-why',
        label: 'Because',
        value: why,
        placeholder: 'seen in the video',
        onInput: (value) => {
          why = value;
        },
      }),
    ),
    fault,
    element(
      'div',
      { class: 'actions' },
      button({ label: 'Keep correction', primary: true, id: 'keep-correction', onClick: () => void keep() }),
      button({ label: 'Cancel', onClick: options.onClose }),
      known === undefined
        ? undefined
        : button({
            label: 'Remove correction',
            id: 'remove-correction',
            onClick: () => void guarded({ change: 'remove', event, number: run.number }),
          }),
    ),
  );
  return root;
}
