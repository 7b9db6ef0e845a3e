import {
  provideVSCodeDesignSystem,
  vsCodeBadge,
  vsCodeButton,
  vsCodeCheckbox,
  vsCodePanels,
  vsCodePanelTab,
  vsCodePanelView,
  vsCodeProgressRing,
  vsCodeTextField,
} from '@vscode/webview-ui-toolkit';
import { element } from '../element.ts';

/** The only file that knows the control toolkit: it can be replaced here. */
export function registerControls(): void {
  provideVSCodeDesignSystem().register(
    vsCodeBadge(),
    vsCodeButton(),
    vsCodeCheckbox(),
    vsCodePanels(),
    vsCodePanelTab(),
    vsCodePanelView(),
    vsCodeProgressRing(),
    vsCodeTextField(),
  );
}

interface ButtonOptions {
  readonly label: string;
  readonly primary?: boolean;
  readonly title?: string;
  readonly id?: string;
  readonly onClick: () => void;
}

export function button({ label, primary, title, id, onClick }: ButtonOptions): HTMLElement {
  return element('vscode-button', {
    text: label,
    attributes: { appearance: primary === true ? 'primary' : 'secondary', title, id },
    on: { click: onClick },
  });
}

export interface TextField extends HTMLElement {
  value: string;
}

export function textField(options: {
  readonly id: string;
  readonly label: string;
  readonly value: string;
  readonly placeholder?: string;
  readonly onInput: (value: string) => void;
  readonly onDone?: (field: TextField) => void;
}): TextField {
  const field = element('vscode-text-field', {
    text: options.label,
    attributes: { id: options.id, placeholder: options.placeholder, value: options.value },
  }) as TextField;
  field.addEventListener('input', () => options.onInput(field.value));
  field.addEventListener('change', () => options.onDone?.(field));
  return field;
}

export interface Checkbox extends HTMLElement {
  checked: boolean;
}

export function checkbox(label: string | Node, checked: boolean, onChange: (checked: boolean) => void): Checkbox {
  const made = element('vscode-checkbox', { attributes: { checked: checked ? '' : undefined } }, label) as Checkbox;
  // The control fires `change` once while it starts up.
  made.addEventListener('change', () => onChange(made.checked));
  return made;
}

/** A plain select in the editor's colours: it stays native for long lists and for screen readers. */
export function select(options: {
  readonly id: string;
  readonly label: string;
  readonly choices: readonly { readonly value: string; readonly text: string }[];
  readonly value: string;
  readonly onChange: (value: string) => void;
}): HTMLLabelElement {
  const control = element(
    'select',
    { attributes: { id: options.id }, on: { change: () => options.onChange(control.value) } },
    ...options.choices.map(({ value, text }) =>
      element('option', { text, attributes: { value, selected: value === options.value ? '' : undefined } }),
    ),
  );
  return element('label', { class: 'select' }, element('span', { text: options.label }), control);
}
