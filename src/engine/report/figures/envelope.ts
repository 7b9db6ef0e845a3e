import type { DisplayUnits } from '../../../../shared/display-units.ts';
import { inShownUnit, shownUnit } from '../../../../shared/format.ts';
import type { LoadingResult } from '../../decision/index.ts';
import { element, type Markup, polyline, text } from '../svg/element.ts';
import { type Box, type FigureText, figure, horizontalAxis, legend, verticalAxis } from '../svg/frame.ts';
import { scaleOver } from '../svg/scale.ts';
import { symbol } from '../svg/symbol.ts';
import { lookOf } from '../svg/theme.ts';

const width = 760;
const height = 440;

/** Weight against centre of gravity: the envelope, and every loading from take-off to the last of its fuel. */
export function envelopeFigure(loading: LoadingResult, units: DisplayUnits, words: FigureText): string {
  const box: Box = { left: 70, top: 86, right: width - 24, bottom: height - 76 };
  const corners = loading.envelope ?? [];
  const inMillimetres = units.length === 'm';
  const showCg = (cgM: number): number => (inMillimetres ? cgM * 1000 : cgM / 0.0254);
  const showMass = (massKg: number): number => inShownUnit(massKg, 'mass', units);
  const balances = loading.states.flatMap((state) =>
    [...state.loadings.flatMap((one) => one.cases), ...state.adverse].map((each) => each.balance),
  );
  const all = [...corners, ...balances];
  const x = scaleOver(
    all.map((point) => showCg(point.cgM)),
    box.left,
    box.right,
    { count: 8 },
  );
  const y = scaleOver(
    all.map((point) => showMass(point.massKg)),
    box.bottom,
    box.top,
  );
  const at = (point: { readonly cgM: number; readonly massKg: number }): readonly [number, number] => [
    x(showCg(point.cgM)),
    y(showMass(point.massKg)),
  ];
  const outline = corners.length === 0 ? '' : polyline([...corners, corners[0]].map(at), 'zero');
  const drawn = loading.states.map((state, series): Markup => {
    const look = lookOf(series);
    const paths = state.loadings.map(({ cases }) =>
      element(
        'g',
        {},
        polyline(
          cases.map((each) => at(each.balance)),
          'curve',
          look.dash,
        ),
        ...cases.map((each) => symbol(look.symbol, ...at(each.balance), 'mark')),
      ),
    );
    const adverse = state.adverse.map((each) => symbol(look.symbol, ...at(each.balance), 'hollow'));
    return element('g', { class: `c${series % 6}` }, ...paths, ...adverse);
  });
  const entries = loading.states.map(({ id }, series) => ({ series, label: id, lineSample: true }));
  return figure(
    width,
    height,
    words,
    legend(70, 22, width - 20, entries).markup,
    verticalAxis(box, y, shownUnit('mass', units).symbol),
    element('g', { fill: 'none' }, outline),
    ...drawn,
    horizontalAxis(box, x, `centre of gravity aft of the datum, ${inMillimetres ? 'mm' : 'in'}`),
    text(70, height - 14, 'Filled: take-off, landing, zero fuel. Hollow: most forward and most aft loading.', {
      class: 'small quiet',
    }),
  );
}
