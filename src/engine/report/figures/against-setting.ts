import type { DisplayUnits } from '../../../../shared/display-units.ts';
import { formatShort, inShownUnit, type QuantityKind, shownUnit } from '../../../../shared/format.ts';
import type { Interval } from '../../../../shared/measured.ts';
import type { AlongSetting } from '../../compare/result.ts';
import { element, line, type Markup, polyline, text } from '../svg/element.ts';
import { type Box, type FigureText, figure, horizontalAxis, legend, verticalAxis } from '../svg/frame.ts';
import { type Scale, scaleOver } from '../svg/scale.ts';
import { symbol } from '../svg/symbol.ts';
import { lookOf } from '../svg/theme.ts';
import { panelGrid } from './panel-grid.ts';

export interface SettingPanel {
  readonly title: string;
  readonly kind: QuantityKind;
  readonly points: readonly {
    readonly id: string;
    readonly series: number;
    readonly setting: number;
    readonly mean: Interval;
  }[];
  readonly along?: AlongSetting;
}

export interface SettingFigure {
  /** "blade angle, deg". */
  readonly axis: string;
  readonly panels: readonly SettingPanel[];
  readonly units: DisplayUnits;
  readonly words: FigureText;
}

const width = 760;
const panelHeight = 190;
const tick = 5;
/** Pixels between the frame and the outermost settings. */
const edge = 26;

function panel(one: SettingPanel, box: Box, { axis, units }: SettingFigure): Markup {
  const show = (value: number): number => inShownUnit(value, one.kind, units);
  const settings = one.points.map(({ setting }) => setting);
  const reach = Math.max(...settings) - Math.min(...settings);
  const from = box.left + edge;
  const across = (setting: number): number =>
    from + ((setting - Math.min(...settings)) / reach) * (box.right - edge - from);
  // The settings that were flown are the numbers of the axis; of two that would stand in each other the second goes.
  const ticks = [...new Set(settings)]
    .sort((a, b) => a - b)
    .filter((tick, index, all) => index === 0 || across(tick) - across(all[index - 1]) > 34);
  const decimals = Math.max(...ticks.map((tick) => (formatShort(tick, 4).split('.')[1] ?? '').length));
  const x: Scale = Object.assign(across, { low: ticks[0], high: ticks[ticks.length - 1], ticks, decimals });
  const y = scaleOver(
    one.points.flatMap(({ mean }) => [show(mean.low), show(mean.high)]),
    box.bottom,
    box.top,
    { count: 5 },
  );
  const fitted = polyline(
    (one.along?.line ?? []).map(({ setting, value }) => [x(setting), y(show(value))] as const),
    'axis',
    '6 5',
  );
  const marks = one.points.map(({ series, setting, mean }) => {
    const [cx, low, high] = [x(setting), y(show(mean.low)), y(show(mean.high))];
    return element(
      'g',
      { class: `c${series % 6}` },
      line(cx, low, cx, high, 'whisker'),
      line(cx - tick, low, cx + tick, low, 'whisker'),
      line(cx - tick, high, cx + tick, high, 'whisker'),
      symbol(lookOf(series).symbol, cx, y(show(mean.value)), 'mark', 6),
    );
  });
  return element(
    'g',
    {},
    text(box.left - 8, box.top - 30, one.title, { class: 'heading' }),
    verticalAxis(box, y, shownUnit(one.kind, units).symbol),
    horizontalAxis(box, x, axis),
    element('g', { fill: 'none' }, fitted),
    ...marks,
  );
}

/** Every metric against the setting of the adjustable part: means with their intervals, and the line of a constant change where one fits. */
export function againstSettingFigure(spec: SettingFigure): string {
  const entries = new Map(spec.panels.flatMap(({ points }) => points.map(({ id, series }) => [id, series] as const)));
  const keys = legend(
    20,
    24,
    width - 20,
    [...entries].map(([label, series]) => ({ label, series })),
  );
  const grid = panelGrid(spec.panels.length, width, 24 + keys.height, panelHeight);
  const drawn = spec.panels.some(({ along }) => (along?.line.length ?? 0) > 0);
  const height = grid.bottom + (drawn ? 48 : 30);
  return figure(
    width,
    height,
    spec.words,
    keys.markup,
    ...spec.panels.map((one, index) => panel(one, grid.boxes[index], spec)),
    text(20, height - (drawn ? 32 : 14), 'Symbols: means at the same conditions; bars: 95 % interval of each mean.', {
      class: 'small quiet',
    }),
    drawn
      ? text(
          20,
          height - 14,
          'Dashed: a constant change per unit, fitted to the means. Between and beyond these settings nothing was flown.',
          {
            class: 'small quiet',
          },
        )
      : '',
  );
}
