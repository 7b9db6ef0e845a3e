import { climbWeightAddend } from '../corrections/index.ts';
import type { Spec } from '../spec/types.ts';
import { type ClimbShape, polarOf, type RateLine, type SeenBand } from './climb-runs.ts';
import type { ConfigurationResult, SeenAgainst } from './result.ts';
import type { Target } from './run.ts';

/** Points of a drawn line. */
const linePoints = 13;
/** Half width of a 95 % interval in standard deviations, as the means have it with the days that comparisons need. */
const half95 = 1.96;

/** The rate of a band at the mass of the footing; as measured where no weight was noted. */
function atMass(band: SeenBand, massKg: number | undefined, spec: Spec): number {
  if (massKg === undefined || band.massKg === undefined) return band.rateMps;
  const polar = polarOf(spec, band.densityAltitudeM, band.airspeedMps);
  try {
    const correction = climbWeightAddend({
      rateMps: band.rateMps,
      massKg: { value: band.massKg, sigma: 0 },
      referenceMassKg: massKg,
      ...(polar === undefined ? {} : { polar }),
    });
    return band.rateMps + (correction.addend ?? 0);
  } catch (error) {
    if (error instanceof RangeError) return band.rateMps;
    throw error;
  }
}

/**
 * The line through the mean at the reference altitude. Its band: the error of the mean where the climbs lie, and away from
 * there the error of the slope; the mean at the reference has both in it.
 */
function lineOf(
  configuration: ConfigurationResult,
  line: RateLine,
  bands: readonly SeenBand[],
  referenceM: number,
): SeenAgainst['configurations'][number]['line'] {
  const { mean } = configuration;
  if (mean === undefined || bands.length < 2 || !(line.highestM > line.lowestM)) return [];
  const middleM = bands.reduce((sum, band) => sum + band.densityAltitudeM, 0) / bands.length;
  const atReference = (mean.high - mean.low) / 2 / half95;
  const ofSlope = (x: number): number => (x - middleM) * line.slope.sigma;
  const atMiddle = Math.sqrt(Math.max(0.1 * atReference ** 2, atReference ** 2 - ofSlope(referenceM) ** 2));
  return Array.from({ length: linePoints }, (_, index) => {
    const x = line.lowestM + ((line.highestM - line.lowestM) * index) / (linePoints - 1);
    const value = mean.value + line.slope.value * (x - referenceM);
    const reach = half95 * Math.hypot(atMiddle, ofSlope(x));
    return { x, value, low: value - reach, high: value + reach };
  });
}

/** Every band of every climb at the mass of the footing, and the line of each configuration, for drawing. SI. */
export function seenAgainstAltitude(
  spec: Spec,
  shape: ClimbShape,
  target: Target,
  configurations: readonly ConfigurationResult[],
): SeenAgainst {
  const referenceM = spec.reference.climbDensityAltitudeM ?? spec.reference.densityAltitudeM;
  return {
    condition: 'density-altitude',
    configurations: configurations.map((configuration) => {
      const { id } = configuration;
      const used = new Set(configuration.values.map((run) => run.file));
      const bands = (shape.bands.get(id) ?? []).filter((band) => used.has(band.file));
      const line = shape.lines.get(id);
      return {
        id,
        points: bands.map((band) => ({
          file: band.file,
          day: band.day,
          x: band.densityAltitudeM,
          value: atMass(band, target.massOf(id)?.value, spec),
        })),
        line: line === undefined ? [] : lineOf(configuration, line, bands, referenceM),
      };
    }),
  };
}
