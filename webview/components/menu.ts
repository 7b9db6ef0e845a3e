import { element } from '../element.ts';

export interface MenuEntry {
  readonly label: string;
  act(): unknown;
}

/** A small menu behind a "..." button: opened by click or key, closed by choosing, Escape, or leaving it. */
export function menu(name: string, entries: readonly MenuEntry[]): HTMLElement {
  const list = element('div', { class: 'menu-list', attributes: { role: 'menu', 'aria-label': name } });
  const opener = element('button', {
    class: 'icon-button',
    text: '\u22ef',
    attributes: { type: 'button', title: name, 'aria-label': name, 'aria-haspopup': 'menu', 'aria-expanded': 'false' },
  });
  const root = element('div', { class: 'menu' }, opener, list);
  list.hidden = true;
  const show = (open: boolean): void => {
    list.hidden = !open;
    opener.setAttribute('aria-expanded', String(open));
  };
  const items = entries.map((entry) =>
    element('button', {
      text: entry.label,
      attributes: { type: 'button', role: 'menuitem', tabindex: '-1' },
      on: {
        click: () => {
          show(false);
          opener.focus();
          entry.act();
        },
      },
    }),
  );
  list.append(...items);
  opener.addEventListener('click', () => {
    show(list.hidden === true);
    if (!list.hidden) items[0]?.focus();
  });
  root.addEventListener('keydown', (event) => {
    if (list.hidden) return;
    const at = items.findIndex((item) => item === document.activeElement);
    if (event.key === 'Escape') {
      show(false);
      opener.focus();
    } else if (event.key === 'ArrowDown') items[(at + 1) % items.length]?.focus();
    else if (event.key === 'ArrowUp') items[(at - 1 + items.length) % items.length]?.focus();
    else return;
    event.preventDefault();
    event.stopPropagation();
  });
  root.addEventListener('focusout', (event) => {
    if (!(event.relatedTarget instanceof Node) || !root.contains(event.relatedTarget)) show(false);
  });
  return root;
}
