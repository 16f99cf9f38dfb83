// A checksum of stored text, so that a record that was only half written, or rotted, is told from a whole one.

/** The reversed polynomial of CRC-32 (ISO/IEC 8802-3, as in zip and PNG). */
const POLYNOMIAL = 0xedb88320;

const TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let value = byte;
  for (let bit = 0; bit < 8; bit += 1) value = value & 1 ? (value >>> 1) ^ POLYNOMIAL : value >>> 1;
  return value;
});

/** The CRC-32 of bytes, 0 to 2³² − 1. */
export function crc32(bytes: Iterable<number>): number {
  let value = 0xffffffff;
  for (const byte of bytes) value = step(value, byte);
  return (value ^ 0xffffffff) >>> 0;
}

/** The CRC-32 of text as it stands in memory, two bytes a character, the low one first. */
export function checksumOf(text: string): number {
  let value = 0xffffffff;
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    value = step(step(value, code & 0xff), code >>> 8);
  }
  return (value ^ 0xffffffff) >>> 0;
}

function step(value: number, byte: number): number {
  return (TABLE[(value ^ byte) & 0xff] ?? 0) ^ (value >>> 8);
}
