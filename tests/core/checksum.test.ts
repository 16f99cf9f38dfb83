import { describe, expect, it } from "vitest";
import { checksumOf, crc32 } from "../../src/core/checksum";

const ascii = (text: string) => new TextEncoder().encode(text);

describe("CRC-32", () => {
  it("gives the published check values", () => {
    // The check value of CRC-32/ISO-HDLC in the catalogue of parametrised CRC algorithms (G. Cook).
    expect(crc32(ascii("123456789"))).toBe(0xcbf43926);
    // PNG (ISO/IEC 15948): every file ends with an IEND chunk, whose CRC is AE 42 60 82.
    expect(crc32(ascii("IEND"))).toBe(0xae426082);
    expect(crc32([])).toBe(0);
  });

  it("of text is that of its two bytes a character, the low one first", () => {
    const text = "süß 🏺 007 \ufffe";
    for (let length = 0; length <= text.length; length += 1) {
      const part = text.slice(0, length);
      const codes = Uint16Array.from({ length }, (_, at) => part.charCodeAt(at));
      expect(checksumOf(part)).toBe(crc32(new Uint8Array(codes.buffer)));
    }
  });

  it("tells a text that lost its end, or one character, from the whole", () => {
    const text = JSON.stringify({ kind: "saggar edition", rows: Array.from({ length: 200 }, (_, at) => `p${at}`) });
    const sum = checksumOf(text);
    expect(checksumOf(text.slice(0, -1))).not.toBe(sum);
    for (const at of [0, 17, 500, text.length - 1])
      expect(checksumOf(`${text.slice(0, at)}\u0000${text.slice(at + 1)}`)).not.toBe(sum);
  });
});
