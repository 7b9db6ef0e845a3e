import * as z from 'zod';
import { parseQuantity } from '../../../../../shared/quantity.ts';
import { toSi } from '../../../../../shared/units.ts';
import { key } from '../key-meta.ts';
import { direction, parseDirection, quantity, refuse, text, type WrittenDirection } from '../shapes.ts';

/** A wind as noted, before its direction is brought to true north and its uncertainty is settled. */
export interface WrittenWind {
  readonly from?: WrittenDirection;
  readonly speedMps: number;
  readonly gustMps?: number;
  /** As stated, one standard deviation of each component. */
  readonly sigmaMps?: number;
  readonly source?: string;
  readonly heightM?: number;
}

const wordsFor = 'expected "080 deg 4 kt", "calm", "variable 3 kt" or a report such as "08004KT"';

/** The wind group of an aerodrome report (WMO-No. 306, FM 15 METAR): dddff[Gff]KT or MPS, VRB for variable. */
function readReportGroup(written: string): WrittenWind | undefined {
  const match = /^(\d{3}|VRB)(\d{2,3})(?:G(\d{2,3}))?(KT|MPS)$/.exec(written);
  if (match === null) return undefined;
  const unit = match[4] === 'KT' ? 'kt' : 'm/s';
  const speedMps = toSi(Number(match[2]), unit);
  const gust = match[3] === undefined ? {} : { gustMps: toSi(Number(match[3]), unit) };
  if (match[1] === 'VRB') return { speedMps, ...gust };
  const degrees = Number(match[1]);
  if (degrees > 360) return undefined;
  return { from: { rad: toSi(degrees % 360, 'deg'), magnetic: false }, speedMps, ...gust };
}

/** "080 deg 4 kt", "080 deg magnetic 4 kt gusting 9 kt ± 2 kt", "calm", "variable 3 kt", "08004G12KT"; a sentence if it is none. */
export function parseWind(written: string): WrittenWind | string {
  const whole = written.replace(/\s+/g, ' ').trim();
  if (/^calm$/i.test(whole)) return { speedMps: 0 };
  const group = readReportGroup(whole);
  if (group !== undefined) return group;
  const match =
    /^(?:(variable|[\d.]+ ?(?:deg|°|degrees)(?: (?:true|magnetic|mag))?) ?(?:at |\/ ?|, ?)?)(.+?)(?: ?(?:gusting|gusts|gust)(?: to)? (.+?))?(?: ?(?:±|\+\/?-) ?(.+))?$/i.exec(
      whole,
    );
  if (match === null) {
    if (/^\d{1,3} ?\/ ?\d/.test(whole)) return `"${written}" does not say its units: ${wordsFor}.`;
    return `"${written}" is no wind: ${wordsFor}.`;
  }
  const from = /^variable$/i.test(match[1]) ? undefined : parseDirection(match[1]);
  if (typeof from === 'string') return from;
  const speeds = [match[2], match[3], match[4]].map((part) =>
    part === undefined ? undefined : parseQuantity(part, 'speed'),
  );
  for (const speed of speeds) {
    if (speed !== undefined && !speed.ok) return `${speed.message} For a wind: ${wordsFor}.`;
    if (speed?.ok && speed.quantity.value < 0) return `"${written}" has a negative speed.`;
  }
  const [speed, gust, spread] = speeds.map((result) => (result?.ok ? result.quantity.value : undefined));
  return {
    speedMps: speed as number,
    ...(from === undefined ? {} : { from }),
    ...(gust === undefined ? {} : { gustMps: gust }),
    ...(spread === undefined ? {} : { sigmaMps: spread }),
  };
}

/** No aeroplane that this is for flies in more. */
const strongestWindMps = 40;

function checked(wind: WrittenWind, context: z.RefinementCtx): WrittenWind {
  if (wind.speedMps > strongestWindMps)
    return refuse(context, 'spec-impossible', 'This wind cannot be right: more than 78 kt.');
  if (wind.gustMps !== undefined && wind.gustMps < wind.speedMps) {
    return refuse(context, 'spec-impossible', 'The gusts are weaker than the mean wind.');
  }
  return wind;
}

const speedLimits = { low: 0, high: 78, unit: 'kt' };

/** One line, or a mapping where more is known. */
export function wind() {
  const line = key(
    z.string().transform((written, context): WrittenWind => {
      const found = parseWind(written);
      return typeof found === 'string' ? refuse(context, 'spec-wind', found) : checked(found, context);
    }),
    { doc: 'Direction from which it blows, and speed.', example: '080 deg 4 kt' },
  );
  const mapping = z
    .strictObject({
      from: direction({
        doc: 'Direction from which it blows; true unless it says magnetic.',
        example: '080 deg',
      }).optional(),
      speed: quantity('speed', { doc: 'Mean speed.', example: '4 kt', limits: speedLimits }),
      gust: quantity('speed', { doc: 'Speed of the gusts.', example: '9 kt', limits: speedLimits }).optional(),
      uncertainty: quantity('speed', {
        doc: 'How wrong each component at the runway may be, one standard deviation.',
        example: '2 kt',
        limits: speedLimits,
      }).optional(),
      source: text({ doc: 'Where the wind was read.', example: 'windsock' }).optional(),
      height: quantity('length', {
        doc: 'Height above the ground at which it was measured; weather stations measure at 10 m.',
        example: '10 m',
        limits: { low: 1, high: 100, unit: 'm' },
      }).optional(),
    })
    .transform((written, context): WrittenWind => {
      return checked(
        {
          speedMps: written.speed,
          ...(written.from === undefined ? {} : { from: written.from }),
          ...(written.gust === undefined ? {} : { gustMps: written.gust }),
          ...(written.uncertainty === undefined ? {} : { sigmaMps: written.uncertainty }),
          ...(written.source === undefined ? {} : { source: written.source }),
          ...(written.height === undefined ? {} : { heightM: written.height }),
        },
        context,
      );
    });
  return key(z.union([line, mapping]), {
    doc: 'Surface wind at the take-off: direction from which it blows and speed, with gusts and uncertainty if known.',
    example: '080 deg 4 kt',
    alsoCalled: ['surface-wind', 'wind-from'],
  });
}
