import { appendFileSync, writeFileSync } from 'node:fs';

const degreeRad = Math.PI / 180;
const metresPerDegree = 111_120;
const startMs = Date.UTC(2026, 2, 1);

/** A second of a flight in circles of 3 km at 50 m/s. */
function second(i: number): { lat: string; lon: string; altitude: string; track: number; time: string } {
  const angle = (i * 50) / 3000;
  return {
    lat: (46.5 + (3000 * Math.sin(angle)) / metresPerDegree).toFixed(7),
    lon: (-14.75 + (3000 * (1 - Math.cos(angle))) / (metresPerDegree * Math.cos(46.5 * degreeRad))).toFixed(7),
    altitude: (500 + 300 * Math.sin(i / 500)).toFixed(1),
    track: Math.round(angle / degreeRad) % 360,
    time: new Date(startMs + i * 1000).toISOString().replace('.000', ''),
  };
}

/** Writes a GPX of about `megabytes`: position, elevation, time, speed and course a point, as recorders write it. */
export function writeGpx(path: string, megabytes: number): void {
  writeFileSync(
    path,
    '<?xml version="1.0" encoding="UTF-8"?>\n<gpx version="1.1" creator="bench" xmlns="http://www.topografix.com/GPX/1/1" xmlns:x="urn:bench"><trk><name>bench</name><trkseg>\n',
  );
  for (let i = 0, bytes = 0; bytes < megabytes * 1e6; ) {
    let text = '';
    for (const end = i + 10_000; i < end; i++) {
      const { lat, lon, altitude, track, time } = second(i);
      text += `<trkpt lat="${lat}" lon="${lon}"><ele>${altitude}</ele><time>${time}</time><extensions><x:speed>50.00</x:speed><x:course>${track}</x:course></extensions></trkpt>\n`;
    }
    bytes += text.length;
    appendFileSync(path, text);
  }
  appendFileSync(path, '</trkseg></trk></gpx>\n');
}

/** Writes a table of about `megabytes` as panels write it: 60 columns a second, of which 14 are used. */
export function writeTable(path: string, megabytes: number): void {
  const further = Array.from({ length: 47 }, (_, i) => i + 1);
  const names =
    'Date,Time (UTC),Latitude,Longitude,Altitude (ft),Ground Speed (kt),Track (deg),Pressure Altitude (ft),IAS (kt),OAT (C),RPM,Fuel Flow (L/h),Fuel Used (L)';
  writeFileSync(path, `${names},${further.map((i) => `Sensor ${i} (C)`).join(',')}\n`);
  const rest = further.map((i) => (i * 17.3).toFixed(1)).join(',');
  for (let i = 0, bytes = 0; bytes < megabytes * 1e6; ) {
    let text = '';
    for (const end = i + 10_000; i < end; i++) {
      const { lat, lon, altitude, track, time } = second(i);
      text += `${time.slice(0, 10)},${time.slice(11, 19)},${lat},${lon},${altitude},97.2,${track},1500,95.1,12.3,2410,24.1,${(i / 100).toFixed(2)},${rest}\n`;
    }
    bytes += text.length;
    appendFileSync(path, text);
  }
}
