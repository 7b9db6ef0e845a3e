/** What a sample of a camera motion metadata track can hold that is of use here. */
export type CammPacket =
  | { readonly kind: 'acceleration'; readonly x: number; readonly y: number; readonly z: number }
  | { readonly kind: 'position'; readonly latDeg: number; readonly lonDeg: number; readonly altitudeM: number }
  | CammFix;

/** Packet type 6: a raw GPS measurement. */
export interface CammFix {
  readonly kind: 'fix';
  /** As written; see `epoch.ts` for what it counts from. */
  readonly gpsEpochS: number;
  /** 0 none, 2 or 3 dimensions. */
  readonly fixType: number;
  readonly latDeg: number;
  readonly lonDeg: number;
  /** Above the WGS 84 ellipsoid. */
  readonly altitudeM: number;
  readonly horizontalSigmaM: number;
  readonly verticalSigmaM: number;
  readonly eastMps: number;
  readonly northMps: number;
  readonly upMps: number;
  readonly speedSigmaMps: number;
}

/** Bytes of each packet type with its header of four (Camera Motion Metadata specification, "Data format"). */
export const packetBytes: Readonly<Record<number, number>> = { 0: 16, 1: 12, 2: 16, 3: 16, 4: 16, 5: 28, 6: 60, 7: 16 };

/**
 * The packets of one sample, little-endian: `uint16` reserved, `uint16` type, then the fields. The specification puts one
 * packet into a sample; several behind each other are read too. An unknown type, or one cut short, ends the sample: `false`.
 */
export function readPackets(bytes: Uint8Array, take: (packet: CammPacket) => void): boolean {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = 0;
  while (at + 4 <= bytes.length) {
    const type = view.getUint16(at + 2, true);
    const length = packetBytes[type];
    if (length === undefined || at + length > bytes.length) return false;
    const data = at + 4;
    const float = (offset: number): number => view.getFloat32(data + offset, true);
    const double = (offset: number): number => view.getFloat64(data + offset, true);
    if (type === 3) take({ kind: 'acceleration', x: float(0), y: float(4), z: float(8) });
    if (type === 5) take({ kind: 'position', latDeg: double(0), lonDeg: double(8), altitudeM: double(16) });
    if (type === 6) {
      take({
        kind: 'fix',
        gpsEpochS: double(0),
        fixType: view.getInt32(data + 8, true),
        latDeg: double(12),
        lonDeg: double(20),
        altitudeM: float(28),
        horizontalSigmaM: float(32),
        verticalSigmaM: float(36),
        eastMps: float(40),
        northMps: float(44),
        upMps: float(48),
        speedSigmaMps: float(52),
      });
    }
    at += length;
  }
  return at === bytes.length;
}
