import { quantileSorted } from '../../stats/bootstrap-bca.ts';
import { SampleTable } from '../samples/sample-table.ts';
import type { FitMessage } from './decode.ts';

/** Global number of the message, and its fields. */
export const gpsMetadataMessage = 160;
const field = {
  milliseconds: 0,
  latitude: 1,
  longitude: 2,
  enhancedAltitude: 3,
  enhancedSpeed: 4,
  heading: 5,
  utcTime: 6,
} as const;

/** Times below this count from the device's start, not from the epoch (FIT profile, type `date_time`). */
const leastDateTime = 0x10000000;

/** Message times within this of the stated UTC are UTC themselves: it states whole seconds. */
const sameClockS = 1.5;

/**
 * What the receiver told, several times a second, beside the records of one a second (cameras and aviation handhelds). Its
 * times count from the start of the device; the UTC stated beside them in whole seconds gives the shift.
 */
export class GpsMetadata {
  messages = 0;
  positions = 0;
  readonly #table = new SampleTable();
  /** Stated UTC less the message's own time. */
  readonly #shiftsS: number[] = [];

  /** @param degreesPerUnit degrees of one unit of position */
  take(message: FitMessage, degreesPerUnit: number): void {
    this.messages++;
    const latitude = message.field(field.latitude);
    const longitude = message.field(field.longitude);
    if (latitude === undefined || longitude === undefined) return;
    this.positions++;
    const timeS = message.timestamp + (message.field(field.milliseconds) ?? 0) / 1000;
    const utcS = message.field(field.utcTime);
    if (utcS !== undefined && utcS >= leastDateTime && Number.isFinite(timeS)) this.#shiftsS.push(utcS - timeS);
    const row = this.#table.add(timeS, latitude * degreesPerUnit, longitude * degreesPerUnit);
    const altitude = message.field(field.enhancedAltitude);
    if (altitude !== undefined) this.#table.set('altitude-unknown', row, altitude / 5 - 500);
    this.#table.set('groundSpeedMps', row, (message.field(field.enhancedSpeed) ?? Number.NaN) / 1000);
    const heading = message.field(field.heading);
    if (heading !== undefined) this.#table.set('trackRad', row, ((heading / 100) * Math.PI) / 180);
  }

  /** A break in the recording lies before the next message. */
  breakHere(): void {
    this.#table.breakHere();
  }

  /**
   * The positions with Unix times; without times (`NaN`) where the device's clock was never set. A whole second of UTC is
   * stated from its begin to its end, so the largest shift is nearest to the truth; the largest twentieth is left to jitter.
   *
   * @param epochS Unix time from which FIT counts
   */
  table(epochS: number): { readonly table: SampleTable; readonly assumptions: readonly string[] } {
    const { timeS, rows } = this.#table;
    const shiftS =
      this.#shiftsS.length === 0
        ? 0
        : quantileSorted(
            [...this.#shiftsS].sort((a, b) => a - b),
            0.95,
          );
    const shifted = Math.abs(shiftS) > sameClockS;
    for (let row = 0; row < rows; row++) {
      const dated = timeS.get(row) + (shifted ? shiftS : 0);
      timeS.set(row, dated >= leastDateTime ? dated + epochS : Number.NaN);
    }
    return {
      table: this.#table,
      assumptions: shifted
        ? ['The device states UTC in whole seconds: all times may be early or late together by up to a second.']
        : [],
    };
  }
}
