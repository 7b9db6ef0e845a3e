import { escapeMarkdown, markdownTable } from '../../shared/markdown.ts';
import { element } from '../element.ts';

export interface TableData {
  readonly caption: string;
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** Columns of figures, counted from 0. */
  readonly figures: readonly number[];
}

/** A plain table: first column as row header, figures to the right. */
export function table(data: TableData): HTMLTableElement {
  const figures = new Set(data.figures);
  return element(
    'table',
    {},
    element('caption', { text: data.caption, class: 'visually-hidden' }),
    element(
      'thead',
      {},
      element(
        'tr',
        {},
        ...data.head.map((text, index) =>
          element('th', { text, class: figures.has(index) ? 'figure' : undefined, attributes: { scope: 'col' } }),
        ),
      ),
    ),
    element(
      'tbody',
      {},
      ...data.rows.map((row) =>
        element(
          'tr',
          {},
          ...row.map((text, index) =>
            index === 0
              ? element('th', { text, class: figures.has(0) ? 'figure' : undefined, attributes: { scope: 'row' } })
              : element('td', { text, class: figures.has(index) ? 'figure' : undefined }),
          ),
        ),
      ),
    ),
  );
}

export function tableMarkdown(data: TableData): string {
  const figures = new Set(data.figures);
  return markdownTable(
    data.head.map(escapeMarkdown),
    data.rows.map((row) => row.map(escapeMarkdown)),
    data.head.map((_, index) => (figures.has(index) ? 'right' : 'left')),
  );
}
