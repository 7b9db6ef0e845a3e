import type { DisplayUnits } from '../../shared/display-units.ts';
import type { ConditionName, ConditionsView, TypedConditions } from '../../shared/flight-view.ts';
import { formatInterval, formatValue } from '../../shared/format.ts';
import { button, select, type TextField, textField } from '../components/toolkit.ts';
import { element, fill } from '../element.ts';
import type { FlightModel } from '../viewer/flight-model.ts';

interface Field {
  readonly name: ConditionName;
  readonly label: string;
  readonly example: string;
  /** Added, visibly, to a bare number. */
  readonly unit: (units: DisplayUnits) => string;
}

const fields: readonly Field[] = [
  { name: 'temperature', label: 'Air temperature', example: '18', unit: (units) => units.temperature },
  { name: 'altimeterSetting', label: 'Altimeter setting', example: '1013', unit: (units) => units.pressure },
  { name: 'dewPoint', label: 'Dew point', example: '9', unit: (units) => units.temperature },
  { name: 'runwayElevation', label: 'Runway elevation', example: '120', unit: (units) => units.altitude },
  { name: 'runwayHeading', label: 'Runway heading, true', example: '240', unit: () => 'deg' },
  { name: 'runwaySlope', label: 'Runway slope, uphill positive', example: '0.5', unit: () => '%' },
  { name: 'windFrom', label: 'Wind from, true', example: '250', unit: () => 'deg' },
  { name: 'windSpeed', label: 'Wind speed', example: '8', unit: (units) => units.speed },
  { name: 'takeoffWeight', label: 'Take-off weight', example: '560', unit: (units) => units.mass },
  { name: 'referenceWeight', label: 'Reference weight', example: '600', unit: (units) => units.mass },
];

const surfaceChoices = ['', 'paved', 'grass', 'long-grass', 'snow', 'water', 'rough'];
const propellerChoices = ['', 'fixed-pitch', 'constant-speed'];

/** A pause in typing after which the figures follow, milliseconds. */
const pauseMs = 250;

export interface ConditionsPanel {
  readonly root: HTMLElement;
  readonly typed: () => TypedConditions;
}

/** Conditions as the pilot types them, with the density altitude and headwind that follow at once. */
export function conditionsPanel(
  model: FlightModel,
  begin: TypedConditions,
  ask: (typed: TypedConditions) => Promise<ConditionsView>,
  actions: { readonly addToComparison: () => void; readonly onView: (view: ConditionsView) => void },
  signal: AbortSignal,
): ConditionsPanel {
  let typed = begin;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let asked = 0;
  const { units } = model;
  const faults = new Map<ConditionName, { readonly field: HTMLElement; readonly text: HTMLElement }>();
  const results = element('div', { class: 'conditions-result', attributes: { role: 'status' } });

  const show = (view: ConditionsView): void => {
    for (const [name, { field, text }] of faults) {
      text.textContent = view.faults[name] ?? '';
      field.classList.toggle('faulty', view.faults[name] !== undefined);
    }
    const facts: [string, string | undefined][] = [
      ['Density altitude', view.densityAltitudeM && formatInterval(view.densityAltitudeM, 'altitude', units)],
      [
        'Pressure altitude',
        view.pressureAltitudeM === undefined ? undefined : formatValue(view.pressureAltitudeM, 'altitude', units),
      ],
      [
        view.headwindMps !== undefined && view.headwindMps.value < 0 ? 'Tailwind at the wing' : 'Headwind at the wing',
        view.headwindMps &&
          formatInterval(
            view.headwindMps.value < 0
              ? { value: -view.headwindMps.value, low: -view.headwindMps.high, high: -view.headwindMps.low }
              : view.headwindMps,
            'speed',
            units,
          ),
      ],
      [
        'Crosswind',
        view.crosswindMps === undefined
          ? undefined
          : `${formatValue(Math.abs(view.crosswindMps), 'speed', units)} from the ${view.crosswindMps < 0 ? 'left' : 'right'}`,
      ],
    ];
    fill(
      results,
      element(
        'dl',
        { class: 'facts' },
        ...facts
          .filter((fact): fact is [string, string] => fact[1] !== undefined)
          .map(([name, text]) => element('div', {}, element('dt', { text: name }), element('dd', { text }))),
      ),
      ...view.remarks.map((text) => element('p', { class: 'note', text })),
    );
    actions.onView(view);
  };
  const askNow = async (): Promise<void> => {
    const mine = ++asked;
    try {
      const view = await ask(typed);
      // An answer that a later question has overtaken is not shown.
      if (mine === asked && !signal.aborted) show(view);
    } catch (error) {
      if (mine === asked && !signal.aborted) {
        fill(results, element('p', { class: 'caution', text: error instanceof Error ? error.message : String(error) }));
      }
    }
  };
  const change = (name: ConditionName, value: string): void => {
    typed = { ...typed, [name]: value };
    clearTimeout(timer);
    timer = setTimeout(() => void askNow(), pauseMs);
  };
  signal.addEventListener('abort', () => clearTimeout(timer), { once: true });

  const complete = (field: Field, control: TextField): void => {
    const text = control.value.trim();
    if (!/^[+-]?\d+(?:\.\d+)?$/.test(text)) return;
    control.value = `${text} ${field.unit(units)}`;
    change(field.name, control.value);
  };
  const controls = fields.map((field) => {
    const text = element('div', { class: 'fault', attributes: { id: `fault-${field.name}` } });
    const control = textField({
      id: `condition-${field.name}`,
      label: field.label,
      value: typed[field.name],
      placeholder: `${field.example} ${field.unit(units)}`,
      onInput: (value) => change(field.name, value),
      onDone: (made) => complete(field, made),
    });
    const root = element('div', { class: 'field' }, control, text);
    faults.set(field.name, { field: root, text });
    return root;
  });
  const choice = (name: 'surface' | 'propeller', label: string, values: readonly string[]): HTMLElement =>
    select({
      id: `condition-${name}`,
      label,
      value: typed[name],
      choices: values.map((value) => ({ value, text: value === '' ? 'not given' : value.replace('-', ' ') })),
      onChange: (value) => change(name, value),
    });
  if (!model.pending) void askNow();
  return {
    typed: () => typed,
    root: element(
      'section',
      { class: 'conditions-panel', attributes: { 'aria-labelledby': 'conditions-title' } },
      element('header', {}, element('h2', { text: 'Conditions', attributes: { id: 'conditions-title' } })),
      element(
        'div',
        { class: 'fields' },
        ...controls,
        choice('surface', 'Surface', surfaceChoices),
        choice('propeller', 'Propeller', propellerChoices),
      ),
      results,
      element(
        'div',
        { class: 'actions' },
        button({
          label: 'Add to Comparison...',
          id: 'add-to-comparison',
          title: 'Writes this flight and its conditions into a comparison spec',
          onClick: actions.addToComparison,
        }),
      ),
    ),
  };
}
