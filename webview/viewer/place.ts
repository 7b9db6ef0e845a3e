import { changeState, viewState } from '../state.ts';

/** Remembers where the reader was: scroll and focus. */
export function keepPlace(): void {
  const focused = document.activeElement;
  changeState({
    scroll: document.scrollingElement?.scrollTop ?? 0,
    focus: focused instanceof HTMLElement && focused.id !== '' ? focused.id : undefined,
  });
}

/** Goes back there after the page was made anew. */
export function restorePlace(): void {
  const { scroll, focus } = viewState();
  requestAnimationFrame(() => {
    if (scroll !== undefined && document.scrollingElement) document.scrollingElement.scrollTop = scroll;
    if (focus !== undefined) document.getElementById(focus)?.focus({ preventScroll: true });
  });
}

/** Keeps the place from now on. */
export function followPlace(): void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const later = (): void => {
    clearTimeout(timer);
    timer = setTimeout(keepPlace, 200);
  };
  window.addEventListener('scroll', later, { passive: true });
  document.addEventListener('focusin', later);
}
