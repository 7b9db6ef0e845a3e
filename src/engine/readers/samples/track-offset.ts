import { northEastM } from './flat-distance.ts';

/** Slower, the direction between positions is too uncertain. */
const slowestMps = 10;

/** Positions are differenced over at least this, so that their rounding turns the direction by little. */
const strideS = 2;

/** Over more than this the aeroplane may have turned. */
const longestStrideS = 6;

const fewestStrides = 10;

/**
 * Median of recorded direction of motion less direction between positions, radians, -π to π: about 0 where the recorder
 * wrote true directions, minus the variation where it wrote magnetic ones. `undefined` with too little movement.
 */
export function trackOffsetRad(
  timeS: Float64Array,
  latDeg: Float64Array,
  lonDeg: Float64Array,
  trackRad: Float64Array,
): number | undefined {
  const offsets: number[] = [];
  let from = 0;
  for (let to = 1; to < timeS.length; to++) {
    const spentS = timeS[to] - timeS[from];
    if (spentS < strideS) continue;
    const [north, east] = northEastM(latDeg[from], lonDeg[from], latDeg[to], lonDeg[to]);
    // The mean of both ends is the direction between them, also in a steady turn.
    const recorded = Math.atan2(
      Math.sin(trackRad[from]) + Math.sin(trackRad[to]),
      Math.cos(trackRad[from]) + Math.cos(trackRad[to]),
    );
    const offset = recorded - Math.atan2(east, north);
    if (spentS <= longestStrideS && Math.hypot(north, east) > slowestMps * spentS && !Number.isNaN(offset)) {
      offsets.push(Math.atan2(Math.sin(offset), Math.cos(offset)));
    }
    from = to;
  }
  if (offsets.length < fewestStrides) return undefined;
  offsets.sort((a, b) => a - b);
  return offsets[offsets.length >> 1];
}
