import type { DisplayUnits } from '../../../../shared/display-units.ts';
import { formatFixed, inShownUnit, shownUnit } from '../../../../shared/format.ts';
import type { RunProfile } from '../../evaluate/run-profile.ts';
import { element, line, type Markup, polyline, text } from '../svg/element.ts';
import { type Box, type FigureText, figure, horizontalAxis, legend, verticalAxis } from '../svg/frame.ts';
import { type Scale, scaleOver } from '../svg/scale.ts';
import { symbol } from '../svg/symbol.ts';
import { lookOf } from '../svg/theme.ts';

export interface DrawnTakeoff {
  readonly profile: RunProfile;
  readonly series: number;
}

const width = 760;
const height = 520;
/** Shown above lift-off: a little over 100 ft. */
const highestM = 40;

function curves(
  takeoffs: readonly DrawnTakeoff[],
  x: Scale,
  y: Scale,
  values: (profile: RunProfile) => readonly number[],
  box: Box,
  units: DisplayUnits,
  kind: 'altitude' | 'speed',
): Markup {
  const shownX = (distanceM: number): number => x(inShownUnit(distanceM, 'length', units));
  return element(
    'g',
    {},
    ...takeoffs.map(({ profile, series }) => {
      const points = profile.distanceM.map((distanceM, index): readonly [number, number] => {
        const value = values(profile)[index];
        const at = shownX(distanceM);
        const outside = at > box.right || (kind === 'altitude' && value > highestM);
        return [outside ? Number.NaN : at, y(inShownUnit(value, kind, units))];
      });
      const look = lookOf(series);
      const lift = profile.liftoffDistanceM;
      const at = lift === undefined ? -1 : profile.distanceM.findIndex((distanceM) => distanceM >= lift);
      const dot =
        lift === undefined || at < 0 || shownX(lift) > box.right
          ? ''
          : symbol(
              look.symbol,
              shownX(lift),
              y(inShownUnit(kind === 'altitude' ? 0 : values(profile)[at], kind, units)),
              'mark',
              4,
            );
      return element('g', { class: `c${series % 6}` }, polyline(points, 'thin', look.dash, profile.gapsBefore), dot);
    }),
  );
}

/** Height and ground speed against distance from the start of the roll, one curve a take-off, as flown. */
export function takeoffsFigure(
  takeoffs: readonly DrawnTakeoff[],
  obstaclesM: readonly number[],
  configurations: readonly { readonly id: string; readonly series: number }[],
  units: DisplayUnits,
  words: FigureText,
): string {
  const upper: Box = { left: 70, top: 86, right: width - 24, bottom: 276 };
  const lower: Box = { left: 70, top: 316, right: width - 24, bottom: height - 74 };
  const reach = takeoffs.map(({ profile }) => {
    const over = profile.heightM.findIndex((value) => value > highestM);
    return profile.distanceM[over >= 0 ? over : profile.distanceM.length - 1] ?? 0;
  });
  const x = scaleOver(
    [0, ...reach.map((distanceM) => inShownUnit(distanceM, 'length', units))],
    upper.left,
    upper.right,
    { count: 8 },
  );
  const lowest = Math.min(
    0,
    ...takeoffs.flatMap(({ profile }) => profile.heightM.filter((value) => value > -highestM)),
  );
  const heights = scaleOver(
    [inShownUnit(Math.max(lowest, -10), 'altitude', units), inShownUnit(highestM, 'altitude', units)],
    upper.bottom,
    upper.top,
    { count: 5 },
  );
  const speeds = scaleOver(
    takeoffs.flatMap(({ profile }) => profile.groundSpeedMps.map((value) => inShownUnit(value, 'speed', units))),
    lower.bottom,
    lower.top,
    { count: 5, fromZero: true },
  );
  const keys = legend(
    70,
    22,
    width - 20,
    configurations.map(({ id, series }) => ({ series, label: id, lineSample: true })),
  );
  return figure(
    width,
    height,
    words,
    keys.markup,
    verticalAxis(upper, heights, `height above lift-off, ${shownUnit('altitude', units).symbol}`),
    ...obstaclesM
      .filter((heightM) => heightM <= highestM)
      .flatMap((heightM) => {
        const at = heights(inShownUnit(heightM, 'altitude', units));
        const label = `${formatFixed(inShownUnit(heightM, 'altitude', units), 0)} ${shownUnit('altitude', units).symbol}`;
        return [
          line(upper.left, at, upper.right, at, 'axis', '3 3'),
          text(upper.left + 4, at - 4, label, { class: 'small quiet' }),
        ];
      }),
    curves(takeoffs, x, heights, (profile) => profile.heightM, upper, units, 'altitude'),
    verticalAxis(lower, speeds, `ground speed, ${shownUnit('speed', units).symbol}`),
    curves(takeoffs, x, speeds, (profile) => profile.groundSpeedMps, lower, units, 'speed'),
    horizontalAxis(lower, x, `distance from the start of the roll, ${shownUnit('length', units).symbol}`),
    text(70, height - 14, 'As recorded, not corrected. Symbols: lift-off.', { class: 'small quiet' }),
  );
}
