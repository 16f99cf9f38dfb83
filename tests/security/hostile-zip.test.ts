// Zips that lie about what they hold, or hold too much: refused with the name of the file, before or while it is unpacked.
import { describe, expect, it } from "vitest";
import { unzipTexts, zipTexts } from "../../src/csv/zip";
import { type RawFile, rawZip } from "../tools/raw-zip";

const MEGABYTE = "0".repeat(1_000_000);
const messageOf = (bytes: Uint8Array) => {
  const read = unzipTexts(bytes, "evil.zip");
  return read.ok ? "opened" : read.problems[0]?.message;
};
const file = (more: Partial<RawFile> = {}): RawFile => ({ name: "pieces.csv", content: "Piece\r\n001\r\n", ...more });

describe("a zip", () => {
  it("made by hand, packed or not, with a comment after it, is read", () => {
    const plain = rawZip([file(), file({ name: "kilns.csv", method: 0 }), file({ name: "folder/", content: "" })]);
    const read = unzipTexts(plain, "good.zip");
    expect(read.ok && Object.entries(read.value)).toEqual([
      ["pieces.csv", "Piece\r\n001\r\n"],
      ["kilns.csv", "Piece\r\n001\r\n"],
    ]);
    const commented = new Uint8Array([...plain, 1, 2, 3]);
    commented[plain.length - 2] = 3;
    expect(unzipTexts(commented, "good.zip").ok).toBe(true);
    expect(unzipTexts(new Uint8Array([...plain, 1, 2, 3]), "odd.zip").ok).toBe(false);
  });

  it("in which a digit has changed is refused with the file", () => {
    const bytes = rawZip([file({ content: "Piece,price\r\n001,125\r\n", method: 0 })]);
    const at = Buffer.from(bytes).indexOf("125");
    bytes[at + 1] = "9".charCodeAt(0);
    expect(messageOf(bytes)).toMatch(/^evil\.zip, pieces\.csv: .*contents that are not those that were packed/);
    expect(messageOf(rawZip([file({ crc: 7 })]))).toMatch(/^evil\.zip, pieces\.csv: /);
  });

  it.each([
    ["fewer bytes than it holds", file({ content: MEGABYTE, size: 10 }), /pieces\.csv: .*more bytes than the 10 /],
    ["more bytes than it holds", file({ content: "x", size: 5000 }), /pieces\.csv: .*fewer bytes than the 5000/],
    ["another size in its list", file({ listedSize: 3 }), /pieces\.csv: .*its list does not/],
    ["more than an edition can be", file({ size: 4_000_000_000 }), /pieces\.csv: .*4000\.0 MB/],
    ["a password", file({ flags: 1 }), /password/],
    ["a packing nobody knows", file({ method: 99 }), /not known here \(99\)/],
  ] as const)("that says %s is refused with its place", (_, lying, message) => {
    expect(messageOf(rawZip([lying]))).toMatch(message);
  });

  it("that grows too much is refused before it is unpacked", () => {
    const bomb = rawZip([file({ content: "0".repeat(60_000_000) })]);
    expect(bomb.length).toBeLessThan(66_000);
    let unpacked = 0;
    const read = unzipTexts(bomb, "bomb.zip", (done) => {
      unpacked = done;
    });
    expect(read.ok ? "" : read.problems[0]?.message).toMatch(/^bomb\.zip, pieces\.csv: .*60\.0 MB out of 59 kB/);
    expect(unpacked).toBe(0);
    // Each within its bounds, together too many.
    const parts = Array.from({ length: 150 }, (_, at) => file({ name: `f${at}.csv`, content: MEGABYTE }));
    expect(messageOf(rawZip(parts))).toMatch(/^evil\.zip: .*150\.0 MB unpacked/);
    // As a lie about sizes: what is unpacked is counted, whatever the list says.
    expect(messageOf(rawZip([file({ content: "0".repeat(60_000_000), size: 1_000_000 })]))).toMatch(
      /pieces\.csv: .*more bytes than the 1000000/,
    );
  });

  it("whose files lie over one another, or come twice, is refused", () => {
    const twins = [file({ content: MEGABYTE }), file({ content: MEGABYTE, at: 0 })];
    expect(messageOf(rawZip(twins))).toMatch(/pieces\.csv: .*the same file twice/);
    const [one] = twins;
    expect(messageOf(rawZip([file(), file({ name: "PIECES.csv" })]))).toMatch(/the same file twice/);
    const over = rawZip([one as RawFile, file({ name: "kilns.csv", content: MEGABYTE, at: 0 })]);
    expect(messageOf(over)).toMatch(/kilns\.csv: /);
  });

  it.each(["../../etc/passwd.csv", "/etc/passwd.csv", "a/../../b.csv", "c:\\x.csv", "a\\b.csv", "a\u0000.csv", ""])(
    "with a file named %j is refused",
    (name) => {
      expect(messageOf(rawZip([file({ name })]))).toMatch(/^evil\.zip: found “a file named /);
    },
  );

  it("with 65,000 files, counted or not, is refused before they are looked at", () => {
    const many = Array.from({ length: 65_000 }, (_, at) => file({ name: `f${at}.csv`, content: "x", method: 0 }));
    expect(messageOf(rawZip(many))).toMatch(/^evil\.zip: found “65000 files”/);
    expect(messageOf(rawZip(many, 5))).toMatch(/^evil\.zip, byte \d+: found “more files than the zip counts”/);
    expect(messageOf(rawZip([file()], 3))).toMatch(/^evil\.zip, file 2 of 3: /);
  });

  it("with text in another encoding names the file", () => {
    const content = new Uint8Array([0x50, 0xe9, 0x0d, 0x0a]);
    expect(messageOf(rawZip([file({ content })]))).toMatch(/pieces\.csv: .*no UTF-8/);
  });

  it("tells how far it is", () => {
    const heard: number[] = [];
    const rows = Array.from({ length: 50_000 }, (_, at) => `${at},${(at * 7919) % 104_729}`).join("\r\n");
    unzipTexts(zipTexts({ "a.csv": rows, "b.json": MEGABYTE }), "big.zip", (done, of) => heard.push(done / of));
    expect(heard.length).toBeGreaterThan(5);
    expect(heard.at(-1)).toBe(1);
    expect([...heard].sort((a, b) => a - b)).toEqual(heard);
  });
});
