import type { DisplayUnits } from '../../../../shared/display-units.ts';
import { inShownUnit, type QuantityKind, shownUnit } from '../../../../shared/format.ts';
import type { SeenAgainst } from '../../compare/result.ts';
import { area, element, type Markup, polyline, text } from '../svg/element.ts';
import { type Box, type FigureText, figure, horizontalAxis, legend, verticalAxis } from '../svg/frame.ts';
import { scaleOver } from '../svg/scale.ts';
import { symbol } from '../svg/symbol.ts';
import { lookOf } from '../svg/theme.ts';

const width = 760;
const height = 420;

/** A metric against density altitude: points, fitted lines and their 95 % bands. */
export function againstConditionFigure(
  seen: SeenAgainst,
  kind: QuantityKind,
  units: DisplayUnits,
  seriesOf: (id: string) => number,
  footing: string,
  words: FigureText,
): string {
  const box: Box = { left: 70, top: 86, right: width - 24, bottom: height - 76 };
  const showX = (value: number): number => inShownUnit(value, 'altitude', units);
  const showY = (value: number): number => inShownUnit(value, kind, units);
  const all = seen.configurations;
  const x = scaleOver(
    all.flatMap((configuration) => [...configuration.points, ...configuration.line].map((point) => showX(point.x))),
    box.left,
    box.right,
    { count: 8 },
  );
  const y = scaleOver(
    all.flatMap((configuration) => [
      ...configuration.points.map((point) => showY(point.value)),
      ...configuration.line.flatMap((point) => [showY(point.low), showY(point.high)]),
    ]),
    box.bottom,
    box.top,
  );
  const drawn = all.map((configuration): Markup => {
    const series = seriesOf(configuration.id);
    const look = lookOf(series);
    const band = configuration.line.map((point): readonly [number, number, number] => [
      x(showX(point.x)),
      y(showY(point.low)),
      y(showY(point.high)),
    ]);
    const line = configuration.line.map((point): readonly [number, number] => [
      x(showX(point.x)),
      y(showY(point.value)),
    ]);
    return element(
      'g',
      { class: `c${series % 6}` },
      area(band, 'band'),
      polyline(line, 'curve', look.dash),
      ...configuration.points.map((point) => symbol(look.symbol, x(showX(point.x)), y(showY(point.value)), 'mark', 4)),
    );
  });
  const fitted = all.some((configuration) => configuration.line.length > 0);
  const entries = all.map(({ id }) => ({ series: seriesOf(id), label: id, lineSample: true }));
  return figure(
    width,
    height,
    words,
    legend(70, 22, width - 20, entries).markup,
    verticalAxis(box, y, shownUnit(kind, units).symbol),
    ...drawn,
    horizontalAxis(box, x, `density altitude, ${shownUnit('altitude', units).symbol}`),
    text(
      70,
      height - 14,
      `Points: parts of climbs ${footing}. ${fitted ? 'Lines: fitted, with 95 % band, as far as the data go.' : 'No line could be fitted.'}`,
      {
        class: 'small quiet',
      },
    ),
  );
}
