import type { Problem } from '../../shared/problem.ts';
import { element } from '../element.ts';

const words = { error: 'Error', warning: 'Warning', info: 'Note' } as const;

/** What was wrong with the file and what had to be assumed. `showPlace` goes to the line in the text, where there is one. */
export function problemList(
  problems: readonly Problem[],
  showPlace: ((line: number, column: number) => void) | undefined,
): HTMLElement {
  return element(
    'ul',
    { class: 'problems' },
    ...problems.map((problem) => {
      const { line, column, byte, file } = problem.at ?? {};
      const where = line !== undefined ? `line ${line}` : byte !== undefined ? `byte ${byte}` : undefined;
      const place =
        where === undefined
          ? undefined
          : showPlace !== undefined && line !== undefined
            ? element('button', {
                class: 'link-button',
                text: where,
                attributes: { type: 'button', title: 'Show in the text of the file' },
                on: { click: () => showPlace(line, column ?? 1) },
              })
            : element('span', { text: where });
      return element(
        'li',
        { class: problem.severity },
        element('span', { class: 'severity', text: words[problem.severity] }),
        element('span', { text: ` ${problem.message}` }),
        (problem.count ?? 1) > 1 && element('span', { class: 'note', text: ` (${problem.count} times)` }),
        (place !== undefined || file !== undefined) &&
          element(
            'span',
            { class: 'note' },
            ` (${file ?? ''}${file !== undefined && place !== undefined ? ', ' : ''}`,
            place,
            ')',
          ),
      );
    }),
  );
}
