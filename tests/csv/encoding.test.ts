import { describe, expect, it } from "vitest";
import { decodeBytes, refuseBinary, seeEncoding } from "../../src/csv/encoding";
import { readFileBytes } from "../../src/csv/file-table";

const TEXT = "Piece;note\r\n001;größer, 12 €\r\n";
/** Windows-1252 by its published table (Unicode Consortium, CP1252.TXT): € is 0x80, ö 0xF6, ß 0xDF. */
const in1252 = Uint8Array.from([...TEXT], (letter) => (letter === "€" ? 0x80 : letter.charCodeAt(0)));
const utf8 = new TextEncoder().encode(TEXT);
const wide = (isLow: boolean, hasMark: boolean) => {
  const units = [...(hasMark ? "\ufeff" : ""), ...TEXT].map((letter) => letter.charCodeAt(0));
  return Uint8Array.from(units.flatMap((unit) => (isLow ? [unit & 255, unit >> 8] : [unit >> 8, unit & 255])));
};
const bytes = (...list: readonly number[]) => Uint8Array.from(list);
const joined = (...parts: readonly Uint8Array[]) => Uint8Array.from(parts.flatMap((part) => [...part]));

describe("the encoding of a file", () => {
  for (const [name, file, encoding, shownBy] of [
    ["UTF-8", utf8, "utf-8", "form"],
    ["UTF-8 with a mark", joined(bytes(0xef, 0xbb, 0xbf), utf8), "utf-8", "mark"],
    ["UTF-16, low byte first, with a mark", wide(true, true), "utf-16le", "mark"],
    ["UTF-16, high byte first, with a mark", wide(false, true), "utf-16be", "mark"],
    ["UTF-16, low byte first", wide(true, false), "utf-16le", "form"],
    ["UTF-16, high byte first", wide(false, false), "utf-16be", "form"],
    ["Windows-1252", in1252, "windows-1252", "rest"],
  ] as const)
    it(`is seen: ${name}`, () => {
      expect(seeEncoding(file)).toEqual({ encoding, shownBy });
      expect(decodeBytes(file, encoding, "f.csv")).toEqual({ text: TEXT, problems: [] });
      expect(refuseBinary(file, "f.csv")).toEqual([]);
    });

  it("of Windows-1252 has the letters of its published table at 0x80 to 0x9F", () => {
    // Unicode Consortium, CP1252.TXT (from memory); 81, 8D, 8F, 90 and 9D are undefined.
    const points: Readonly<Record<number, number>> = {
      ...{ 128: 0x20ac, 130: 0x201a, 131: 0x0192, 132: 0x201e, 133: 0x2026, 134: 0x2020, 135: 0x2021, 136: 0x02c6 },
      ...{ 137: 0x2030, 138: 0x0160, 139: 0x2039, 140: 0x0152, 142: 0x017d, 145: 0x2018, 146: 0x2019, 147: 0x201c },
      ...{ 148: 0x201d, 149: 0x2022, 150: 0x2013, 151: 0x2014, 152: 0x02dc, 153: 0x2122, 154: 0x0161, 155: 0x203a },
      ...{ 156: 0x0153, 158: 0x017e, 159: 0x0178 },
    };
    const { text } = decodeBytes(bytes(...Object.keys(points).map(Number)), "windows-1252", "f.csv");
    expect([...text].map((letter) => letter.codePointAt(0))).toEqual(Object.values(points));
  });

  it("is told where it can't be right", () => {
    const wrong = decodeBytes(in1252, "utf-8", "f.csv");
    expect(wrong.problems.map((one) => [one.code, one.found])).toEqual([
      ["csv.encoding", "“3 characters that can't be read as UTF-8”"],
    ]);
    expect(decodeBytes(bytes(0x41, 0x81, 0x9d), "windows-1252", "f.csv").problems).toHaveLength(1);
    expect(seeEncoding(bytes())).toEqual({ encoding: "utf-8", shownBy: "form" });
  });
});

describe("what is no text", () => {
  const tail = [0, 0, 0, 0, 1, 2, 3, 4];
  for (const [name, head, found] of [
    ["a zip", [0x50, 0x4b, 3, 4], "a zip or an office document"],
    ["an old document", [0xd0, 0xcf, 0x11, 0xe0], "an old office document"],
    ["a PDF", [0x25, 0x50, 0x44, 0x46], "a PDF"],
    ["a PNG", [0x89, 0x50, 0x4e, 0x47], "a picture"],
    ["a JPEG", [0xff, 0xd8, 0xff], "a picture"],
    ["a gzip", [0x1f, 0x8b], "a packed file"],
    ["anything with noughts", [0x41, 0x42, 0], "bytes that are no text"],
    ["anything with control characters", [1, 2, 3, 4, 5, 6, 0x41], "bytes that are no text"],
  ] as const)
    it(`is refused by its beginning: ${name}`, () => {
      const [refusal] = refuseBinary(bytes(...head, ...tail), "x.csv");
      expect([refusal?.code, refusal?.where, refusal?.found]).toEqual(["csv.binary", "x.csv", `“${found}”`]);
    });

  it("may be one nought in much text", () => {
    const text = new TextEncoder().encode("Piece,note\n".repeat(50));
    expect(refuseBinary(text, "x.csv")).toEqual([]);
    expect(refuseBinary(text.with(300, 0), "x.csv")).toHaveLength(1);
  });

  it("is not read further", async () => {
    const asked: [number | undefined, number | undefined][] = [];
    const file = new Blob([bytes(0x89, 0x50, 0x4e, 0x47)]);
    const watched = {
      slice: (from?: number, to?: number) => {
        asked.push([from, to]);
        return file.slice(from, to);
      },
      arrayBuffer: () => {
        throw new Error("the whole file was read");
      },
    } as unknown as Blob;
    const read = await readFileBytes(watched, "x.csv");
    expect([read.ok, asked]).toEqual([false, [[0, 4096]]]);
    const text = await readFileBytes(new Blob([TEXT]), "f.csv");
    expect(text.ok && new TextDecoder().decode(text.value)).toBe(TEXT);
  });
});
