// A checksum of stored text, so that a record that was only half written, or rotted, is told from a whole one.

/** The reversed polynomial of CRC-32 (ISO/IEC 8802-3, as in zip and PNG). */
const POLYNOMIAL = 0xedb88320;

const TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let value = byte;
  for (let bit = 0; bit < 8; bit += 1) value = value & 1 ? (value >>> 1) ^ POLYNOMIAL : value >>> 1;
  return value;
});

/** The CRC-32 of bytes, 0 to 2³² − 1. */
export function crc32(bytes: ArrayLike<number>): number {
  let value = 0xffffffff;
  for (let at = 0; at < bytes.length; at += 1) value = step(value, bytes[at] as number);
  return (value ^ 0xffffffff) >>> 0;
}

/** What a byte comes to that is followed by one, two or three zero bytes: four bytes are gone through at once. */
const TABLES: readonly Uint32Array[] = [TABLE, followed(1), followed(2), followed(3)];

function followed(zeros: number): Uint32Array {
  return TABLE.map((value) => {
    let next = value;
    for (let at = 0; at < zeros; at += 1) next = step(next, 0);
    return next;
  });
}

/** The CRC-32 of text as it stands in memory, two bytes a character, the low one first. */
export function checksumOf(text: string): number {
  const [last, third, second, first] = TABLES as [Uint32Array, Uint32Array, Uint32Array, Uint32Array];
  let value = 0xffffffff;
  const pairs = text.length - (text.length % 2);
  for (let at = 0; at < pairs; at += 2) {
    value ^= text.charCodeAt(at) | (text.charCodeAt(at + 1) << 16);
    value =
      (first[value & 0xff] as number) ^
      (second[(value >>> 8) & 0xff] as number) ^
      (third[(value >>> 16) & 0xff] as number) ^
      (last[value >>> 24] as number);
  }
  if (pairs < text.length) {
    const code = text.charCodeAt(pairs);
    value = step(step(value, code & 0xff), code >>> 8);
  }
  return (value ^ 0xffffffff) >>> 0;
}

function step(value: number, byte: number): number {
  return (TABLE[(value ^ byte) & 0xff] ?? 0) ^ (value >>> 8);
}
