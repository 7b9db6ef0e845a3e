import assert from 'node:assert/strict';
import { readHeading } from '../../../../../src/engine/readers/columns/heading.ts';
import { meaningOf } from '../../../../../src/engine/readers/columns/meaning.ts';

describe('meaning of column headings', () => {
  const understood: readonly (readonly [string, string, string?, string?])[] = [
    // heading, meaning, unit, cell of a row of units
    ['Latitude', 'latitude'],
    ['Breitengrad', 'latitude'],
    ['Länge (°)', 'longitude', 'deg'],
    ['La\u0308nge', 'longitude'],
    ['Heure UTC', 'time'],
    ['Fecha', 'date'],
    ['GPS-Höhe (m)', 'altitude-unknown', 'm'],
    ['Druckhöhe (ft)', 'altitude-pressure', 'ft'],
    ['Vitesse sol (kt)', 'groundSpeedMps', 'kt'],
    ['Geschwindigkeit über Grund (km/h)', 'groundSpeedMps', 'km/h'],
    ['lat', 'latitude'],
    ['latitude_deg', 'latitude', 'deg'],
    ['gpsLongitude(WGS84)', 'longitude'],
    ['Lng', 'longitude'],
    ['time_utc', 'time'],
    ['Time (UTC)', 'time'],
    ['timestamp', 'time'],
    ['positionTimestamp_since1970(s)', 'time', 's'],
    ['Date', 'date'],
    ['Local Date', 'date'],
    ['UTC offset', 'utcOffset'],
    ['Altitude (ft)', 'altitude-unknown', 'ft'],
    ['GPS Altitude [m]', 'altitude-unknown', 'm'],
    ['alt_msl', 'altitude-msl', 'ft', 'ft'],
    ['AltMSL', 'altitude-msl', 'ft', 'ft msl'],
    ['hMSL', 'altitude-msl', 'm', 'm'],
    ['AltGPS', 'altitude-ellipsoid', 'ft', 'ft wgs'],
    ['Height above ellipsoid (m)', '', undefined],
    ['HAE (m)', 'altitude-ellipsoid', 'm'],
    ['pressure_altitude_m', 'altitude-pressure', 'm'],
    ['Press Alt (ft)', 'altitude-pressure', 'ft'],
    ['AltB', 'barometricAltitude', 'ft', 'ft Baro'],
    ['BaroA', 'altimeterSetting', 'inHg', 'inch'],
    ['QNH (hPa)', 'altimeterSetting', 'hPa'],
    ['Static Pressure (hPa)', 'staticPressure', 'hPa'],
    ['cabinPressure(kPa)', '', undefined],
    ['Cabin Pressure (kPa)', 'surroundingPressure', 'kPa'],
    ['Ground Speed (kt)', 'groundSpeedMps', 'kt'],
    ['GndSpd', 'groundSpeedMps', 'kt', 'kt'],
    ['groundspeed', 'groundSpeedMps'],
    ['Speed (km/h)', 'groundSpeedMps', 'km/h'],
    ['SOG', 'groundSpeedMps'],
    ['Course (deg)', 'trackRad', 'deg'],
    ['TRK', 'trackRad'],
    ['VSpd', 'verticalSpeedMps', 'ft/min', 'fpm'],
    ['vertical_speed_mps', 'verticalSpeedMps', 'm/s'],
    ['Rate of climb (ft/min)', '', undefined],
    ['velN', 'velocityNorth', 'm/s', 'm/s'],
    ['velD', 'velocityDown', 'm/s', 'm/s'],
    ['hAcc', 'horizontalSigmaM', 'm', 'm'],
    ['Vertical Accuracy (m)', 'verticalSigmaM', 'm'],
    ['sAcc', 'speedSigmaMps', 'm/s', 'm/s'],
    ['HDOP', 'hdop'],
    ['GPSfix', 'fix'],
    ['IAS (kt)', 'indicatedAirspeedMps', 'kt'],
    ['True Airspeed (kt)', 'trueAirspeedMps', 'kt'],
    ['OAT (C)', 'outsideAirTemperatureK', 'degC'],
    ['oat_c', 'outsideAirTemperatureK', 'degC'],
    ['OAT', 'outsideAirTemperatureK', 'degF', 'deg F'],
    ['E1 RPM', 'engineSpeedRpm', 'rpm', 'rpm'],
    ['E1 MAP', 'manifoldPressurePa', 'inHg', 'Hg'],
    ['E1 FFlow', 'fuelFlowM3ps', 'US gal/h', 'gph'],
    ['Fuel Flow (L/h)', 'fuelFlowM3ps', 'L/h'],
    ['FQtyL', 'fuelQuantityM3', 'US gal', 'gals'],
    ['Fuel Used (L)', 'fuelUsedM3', 'L'],
    ['Pitch', 'pitchRad', 'deg', 'deg'],
    ['Bank angle (deg)', 'rollRad', 'deg'],
    ['WndSpd', 'windSpeedMps', 'kt', 'kt'],
    ['WndDr', 'windFromRad', 'deg', 'deg'],
    ['MagVar', 'magneticVariation', 'deg', 'deg'],
  ];
  for (const [heading, meaning, unit, cell] of understood.filter(([, known]) => known !== '')) {
    it(`${heading}${cell === undefined ? '' : ` with "${cell}"`} is ${meaning}`, () => {
      const found = meaningOf(readHeading(heading, cell));
      assert.equal(found?.meaning, meaning);
      assert.equal(found.unit?.symbol, unit);
    });
  }

  it('does not take what it does not know for something else', () => {
    const others = [
      'Target Altitude (ft)',
      'Selected Altitude (ft)',
      'Altitude AGL (ft)',
      'Relative Altitude (m)',
      'Radar Altitude (ft)',
      'Density Altitude (ft)',
      'Höhe über Grund (m)',
      'Hauteur (m)',
      'Cap magnétique',
    ]
      .concat(
        'Cross Track (nm)',
        'CRS (deg)',
        'WptBrg (deg)',
        'LatAc (G)',
        'Lateral acceleration',
        'E2 RPM',
        'CHT1 (deg F)',
        'Oil Temperature (C)',
        'RollM',
        'PitchC (deg)',
      )
      .concat(
        'Stall Speed (kt)',
        'Heading Accuracy (deg)',
        'Time since reboot (s)',
        'headingTimestamp',
        'Start Date',
        'Satellites',
        'Speed Limit (kt)',
        'Fuel Pressure (psi)',
      );
    for (const heading of others) assert.equal(meaningOf(readHeading(heading))?.meaning, undefined, heading);
  });

  it('does not use a unit of another kind', () => {
    assert.equal(meaningOf(readHeading('Altitude (kt)'))?.meaning, undefined);
    assert.equal(meaningOf(readHeading('Speed (m)'))?.meaning, undefined);
  });

  it('knows which quantities cannot do without a unit', () => {
    for (const heading of ['Altitude', 'IAS', 'OAT', 'Vertical Speed', 'Fuel Flow', 'Wind Speed']) {
      assert.equal(meaningOf(readHeading(heading))?.usable, false, heading);
    }
    for (const heading of ['Speed', 'Track', 'RPM', 'Latitude', 'Pitch', 'HDOP'])
      assert.ok(meaningOf(readHeading(heading))?.usable, heading);
  });
});
