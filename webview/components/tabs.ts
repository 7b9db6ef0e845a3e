import { element } from '../element.ts';

export interface Tab {
  readonly id: string;
  readonly title: string;
  readonly body: HTMLElement;
}

export interface Tabs {
  readonly root: HTMLElement;
  show(id: string): void;
}

/** Tabs of the control toolkit; the one shown is told to `onShow`. */
export function tabs(name: string, list: readonly Tab[], first: string, onShow: (id: string) => void): Tabs {
  const active = list.some(({ id }) => id === first) ? first : list[0].id;
  const panels = element('vscode-panels', {
    attributes: { 'aria-label': name, activeid: `tab-${active}` },
  }) as HTMLElement & { activeid: string };
  for (const { id, title } of list) {
    panels.append(element('vscode-panel-tab', { text: title, attributes: { id: `tab-${id}` } }));
  }
  for (const { id, body } of list) {
    panels.append(element('vscode-panel-view', { attributes: { id: `view-${id}` } }, body));
  }
  panels.addEventListener('change', (event) => {
    if (event.target !== panels) return;
    const shown = list.find(({ id }) => panels.activeid === `tab-${id}`);
    if (shown !== undefined) onShow(shown.id);
  });
  return {
    root: panels,
    show(id) {
      panels.activeid = `tab-${id}`;
      onShow(id);
    },
  };
}
