import { button } from '../components/toolkit.ts';
import { element, fill } from '../element.ts';

/** A short reading shows nothing at all, rather than a flash. */
const quietMs = 250;

export interface ReadingPage {
  begin(cancel: () => void): void;
  progress(fraction: number): void;
  end(): void;
}

/** What stands on the page while a recording is read. */
export function readingPage(root: HTMLElement): ReadingPage {
  const text = element('p', { text: 'Reading the recording', attributes: { role: 'status' } });
  let timer: ReturnType<typeof setTimeout> | undefined;
  return {
    begin(cancel) {
      text.textContent = 'Reading the recording';
      clearTimeout(timer);
      timer = setTimeout(() => {
        fill(
          root,
          element(
            'div',
            { class: 'message-page reading' },
            element('vscode-progress-ring', { attributes: { 'aria-label': 'Reading' } }),
            text,
            button({ label: 'Cancel', id: 'cancel-reading', onClick: cancel }),
          ),
        );
      }, quietMs);
    },
    progress(fraction) {
      if (Number.isFinite(fraction)) text.textContent = `Reading the recording: ${Math.round(fraction * 100)} %`;
    },
    end() {
      clearTimeout(timer);
    },
  };
}
