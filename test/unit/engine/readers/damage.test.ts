import { assertSurvives } from '../../../tools/assert-survives.ts';

const second = (i: number): string => String(i).padStart(2, '0');
const rows = Array.from({ length: 8 }, (_, i) => i);

function sentence(body: string): string {
  let sum = 0;
  for (let at = 0; at < body.length; at++) sum ^= body.charCodeAt(at);
  return `$${body}*${sum.toString(16).toUpperCase().padStart(2, '0')}`;
}

/** Small, so that a few changed bytes hit everything that matters. */
const files: Readonly<Record<string, string>> = {
  'a.gpx': `<?xml version="1.0" encoding="UTF-8"?>
<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><trk><name>a &amp; b</name><trkseg>
${rows.map((i) => `<trkpt lat="46.500${i}" lon="-14.75"><ele>${100 + i}</ele><time>2026-03-31T12:00:${second(i)}Z</time><!-- c --><extensions><x:speed>11.1</x:speed></extensions></trkpt>`).join('\n')}
</trkseg></trk></gpx>
`,
  'a.kml': `<kml xmlns:gx="g"><Schema><gx:SimpleArrayField name="speed"><displayName>Speed (m/s)</displayName></gx:SimpleArrayField></Schema><Placemark><gx:Track><altitudeMode>absolute</altitudeMode>
${rows.map((i) => `<when>2026-03-31T12:00:${second(i)}Z</when>`).join('\n')}
${rows.map((i) => `<gx:coord>-14.75 46.500${i} ${100 + i}</gx:coord>`).join('\n')}
<ExtendedData><SchemaData><gx:SimpleArrayData name="speed">${rows.map(() => '<gx:value>11.1</gx:value>').join('')}</gx:SimpleArrayData></SchemaData></ExtendedData></gx:Track></Placemark></kml>`,
  'a.igc': `AXXXABC\r\nHFDTE310326\r\nHFALG:ELL\r\nI033638FXA3941ENL4246GSP\r\n${rows.map((i) => `B2359${second(52 + i)}4630${second(i)}0N01445000WA001000015003550004000\r\n`).join('')}`,
  'a.nmea': rows
    .map(
      (i) =>
        `${sentence(`GPRMC,2359${second(52 + i)}.00,A,4630.0${i}00,N,01445.0000,W,21.6,0.0,310326,,,A`)}\r\n${sentence(`GPGGA,2359${second(52 + i)}.00,4630.0${i}00,N,01445.0000,W,1,11,0.8,12.4,M,55.1,M,,`)}\r\n`,
    )
    .join(''),
  'a.csv': `Date;Time;Lat;Lon;Alt [m];Speed [km/h];"Note"\n${rows.map((i) => `31.03.2026;23:59:${second(52 + i)},5;46,500${i};-14,75;${100 + i},5;40,0;"x;y"\n`).join('')}`,
  'b.csv': `#a, b="1"\n#yyy-mm-dd, hh:mm:ss, hh:mm, deg, deg, ft msl, kt\nLcl Date, Lcl Time, UTCOfst, Latitude, Longitude, Alt, GndSpd\n${rows.map((i) => `2026-03-31, 12:00:${second(i)}, -05:00, 46.500${i}, -14.75, ${100 + i}, 21.6\n`).join('')}`,
};

describe('damaged recordings of text', () => {
  for (const [name, text] of Object.entries(files)) {
    it(`${name} never throws, hangs, or gives columns that do not fit`, async () => {
      await assertSurvives(name, new TextEncoder().encode(text), 250);
    });
  }
});
