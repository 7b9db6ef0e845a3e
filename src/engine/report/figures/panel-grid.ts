import type { Box } from '../svg/frame.ts';

export interface PanelGrid {
  readonly boxes: readonly Box[];
  /** Lowest pixel of the last row with its axis. */
  readonly bottom: number;
}

const gapAcross = 84;
/** Heading and name of the axis above a panel; numbers and name of the axis below. */
const [above, below] = [46, 58];

/** Panels in two columns (one panel alone takes a column and a half), from `top` down. */
export function panelGrid(count: number, width: number, top: number, panelHeight: number): PanelGrid {
  const [left, right] = [76, width - 24];
  const half = (right - left - gapAcross) / 2;
  const boxes = Array.from({ length: count }, (_, index): Box => {
    const y = top + above + Math.floor(index / 2) * (panelHeight + above + below);
    const x = left + (index % 2) * (half + gapAcross);
    return { left: x, top: y, right: count === 1 ? x + 1.5 * half : x + half, bottom: y + panelHeight };
  });
  return { boxes, bottom: (boxes[boxes.length - 1]?.bottom ?? top) + below };
}
