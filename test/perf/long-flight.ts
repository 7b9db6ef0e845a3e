/** Two hours of a made-up flight without noise worth the name: for measuring, not for finding anything out. */
export interface LongFlightFix {
  readonly timeS: number;
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly altitudeM: number;
  readonly groundSpeedMps: number;
}

const startS = Date.UTC(2026, 5, 6, 9) / 1000;
const originLatDeg = 45;
const metresPerDegree = 111_195;

/** Speed and rate of climb through the flight: stand, taxi, roll, climb, cruise with weather, descend, land, taxi, stand. */
function motionAt(t: number, end: number): { speedMps: number; climbMps: number } {
  if (t < 60 || t > end - 30) return { speedMps: 0, climbMps: 0 };
  if (t < 180) return { speedMps: 6, climbMps: 0 };
  if (t < 205) return { speedMps: (t - 180) * 1.3, climbMps: 0 };
  if (t < 805) return { speedMps: 36, climbMps: 3.5 };
  if (t < end - 900) return { speedMps: 52 + 2 * Math.sin(t / 90), climbMps: 0.6 * Math.sin(t / 40) };
  if (t < end - 300) return { speedMps: 45, climbMps: -3.5 };
  if (t < end - 270) return { speedMps: Math.max(5, 30 - (t - end + 300) * 0.9), climbMps: 0 };
  return { speedMps: 5, climbMps: 0 };
}

export function longFlight(hours: number, rateHz: number): LongFlightFix[] {
  const end = hours * 3600;
  const fixes: LongFlightFix[] = [];
  let [east, north, height] = [0, 0, 120];
  for (let row = 0; row <= end * rateHz; row++) {
    const t = row / rateHz;
    const { speedMps, climbMps } = motionAt(t, end);
    // Straight while taking off and climbing, then a wide rectangle.
    const heading = t < 900 ? 0.6 : 0.6 + (Math.floor((t - 900) / 600) % 4) * (Math.PI / 2);
    east += (Math.sin(heading) * speedMps) / rateHz;
    north += (Math.cos(heading) * speedMps) / rateHz;
    height += climbMps / rateHz;
    fixes.push({
      timeS: startS + t,
      latDeg: originLatDeg + north / metresPerDegree,
      lonDeg: 5 + east / (metresPerDegree * Math.cos((originLatDeg * Math.PI) / 180)),
      altitudeM: height + 0.4 * Math.sin(row * 1.7),
      groundSpeedMps: Math.max(0, speedMps + 0.05 * Math.sin(row * 2.3)),
    });
  }
  return fixes;
}

export function longFlightGpx(fixes: readonly LongFlightFix[]): string {
  const points = fixes.map(
    (fix) =>
      `<trkpt lat="${fix.latDeg.toFixed(7)}" lon="${fix.lonDeg.toFixed(7)}"><ele>${fix.altitudeM.toFixed(1)}</ele>` +
      `<time>${new Date(fix.timeS * 1000).toISOString()}</time><extensions><speed>${fix.groundSpeedMps.toFixed(2)}</speed></extensions></trkpt>`,
  );
  return `<?xml version="1.0"?>\n<gpx version="1.1" creator="bench"><trk><trkseg>\n${points.join('\n')}\n</trkseg></trk></gpx>\n`;
}
