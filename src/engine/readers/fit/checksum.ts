const table = [
  0x0000, 0xcc01, 0xd801, 0x1400, 0xf001, 0x3c00, 0x2800, 0xe401, 0xa001, 0x6c00, 0x7800, 0xb401, 0x5000, 0x9c01,
  0x8801, 0x4400,
];

/**
 * The checksum of FIT: CRC-16 with the reflected polynomial 0xA001, started at 0, taken four bits at a time. Over a whole
 * file with its own checksum it is 0.
 */
export function fitChecksum(bytes: Uint8Array): number {
  let crc = 0;
  for (const byte of bytes) {
    crc = ((crc >> 4) & 0x0fff) ^ table[crc & 0xf] ^ table[byte & 0xf];
    crc = ((crc >> 4) & 0x0fff) ^ table[crc & 0xf] ^ table[byte >> 4];
  }
  return crc;
}
