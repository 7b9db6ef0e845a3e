import { localPlane } from '../geo/local-plane.ts';
import type { Track } from '../track/track.ts';

/** No aeroplane flies as slowly as this over the ground for so long, but in a gale. */
const slowMps = 8;
const longS = 10;

/** True where a track stays slow for a while, as an aeroplane on the ground does. */
export function onGround({ timeS, latDeg, lonDeg, breaks }: Track): boolean {
  const seams = new Set(breaks);
  let from = 0;
  for (let row = 1; row < timeS.length; row++) {
    if (seams.has(row)) from = row;
    while (timeS[row] - timeS[from] > longS) {
      const lastedS = timeS[row] - timeS[from];
      const { eastM, northM } = localPlane(latDeg[from], lonDeg[from]).toPlane(latDeg[row], lonDeg[row]);
      if (lastedS < 3 * longS && Math.hypot(eastM, northM) / lastedS < slowMps) return true;
      from++;
    }
  }
  return false;
}
