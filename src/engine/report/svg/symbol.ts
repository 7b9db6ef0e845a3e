import { coordinate, element, type Markup } from './element.ts';
import type { SymbolName } from './theme.ts';

function star(x: number, y: number, radius: number): string {
  const points = Array.from({ length: 10 }, (_, index) => {
    const angle = (index * Math.PI) / 5 - Math.PI / 2;
    const reach = index % 2 === 0 ? radius * 1.25 : radius * 0.5;
    return `${coordinate(x + reach * Math.cos(angle))} ${coordinate(y + reach * Math.sin(angle))}`;
  });
  return `M${points.join('L')}Z`;
}

/** A data point. All symbols look about equally large. */
export function symbol(name: SymbolName, x: number, y: number, className: string, radius = 4.5): Markup {
  const r = radius;
  const path = (...points: readonly (readonly [number, number])[]): string =>
    `M${points.map(([dx, dy]) => `${coordinate(x + dx * r)} ${coordinate(y + dy * r)}`).join('L')}Z`;
  switch (name) {
    case 'circle':
      return element('circle', { cx: x, cy: y, r, class: className });
    case 'square':
      return element('rect', { x: x - r * 0.9, y: y - r * 0.9, width: r * 1.8, height: r * 1.8, class: className });
    case 'triangle':
      return element('path', { d: path([0, -1.2], [1.15, 0.85], [-1.15, 0.85]), class: className });
    case 'diamond':
      return element('path', { d: path([0, -1.3], [1.2, 0], [0, 1.3], [-1.2, 0]), class: className });
    case 'cross':
      return element('path', {
        d: path(
          [-0.4, -1.1],
          [0.4, -1.1],
          [0.4, -0.4],
          [1.1, -0.4],
          [1.1, 0.4],
          [0.4, 0.4],
          [0.4, 1.1],
          [-0.4, 1.1],
          [-0.4, 0.4],
          [-1.1, 0.4],
          [-1.1, -0.4],
          [-0.4, -0.4],
        ),
        class: className,
      });
    case 'star':
      return element('path', { d: star(x, y, r), class: className });
    default:
      return '';
  }
}
