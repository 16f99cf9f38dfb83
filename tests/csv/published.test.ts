// Files and cases others have published: csv-spectrum, RFC 4180, and OWASP's characters.
import spectrum from "csv-spectrum";
import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import { readSheetCsv } from "../../src/csv/read";
import { guardText, unguardText } from "../../src/csv/text-guard";

type Files = Parameters<Parameters<typeof spectrum>[0]>[1];
const files = await new Promise<Files>((resolve, reject) =>
  spectrum((error, read) => (error ? reject(error) : resolve(read))),
);

// The package's JSON for this file is one object, not a list, and has another telephone number than its CSV.
const corrected = [
  {
    "Contact Phone Number": "2095257564",
    "Location Coordinates": `37\ufffd36'37.8"N 121\ufffd2'17.9"W`,
    Cities: "Modesto",
    Counties: "Stanislaus",
  },
];

describe("csv-spectrum 2.0.0", () => {
  it("has the files we know of", () => expect(files).toHaveLength(12));
  for (const { name, csv, json } of files)
    it(`reads ${name}`, () => {
      const text = csv.toString("utf8");
      const expected: Record<string, string>[] = JSON.parse(json.toString("utf8"));
      const table = readSheetCsv(text, { delimiter: ",", headerLine: 1 });
      const objects = table.rows.map((row) =>
        Object.fromEntries(table.header.map((title, at) => [title, row.cells[at] ?? ""])),
      );
      expect(objects).toEqual(name === "location_coordinates" ? corrected : expected);
      expect(table.problems).toEqual([]);
    });
});

// RFC 4180, section 2, by the number of its rule.
describe("RFC 4180", () => {
  const cells = (text: string, headerLine = 0) =>
    readSheetCsv(text, { delimiter: ",", headerLine }).rows.map((row) => row.cells);
  const plain = [
    ["aaa", "bbb", "ccc"],
    ["zzz", "yyy", "xxx"],
  ];
  it("1: each record on a line", () => expect(cells("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n")).toEqual(plain));
  it("2: the last may lack its line break", () => expect(cells("aaa,bbb,ccc\r\nzzz,yyy,xxx")).toEqual(plain));
  it("3: a header, if there is one", () => {
    const table = readSheetCsv("field_name,other\r\naaa,bbb\r\n", { delimiter: ",", headerLine: 1 });
    expect([table.header, table.rows.map((row) => row.cells)]).toEqual([["field_name", "other"], [["aaa", "bbb"]]]);
  });
  it("4: spaces are part of a field", () => expect(cells("aaa , bbb\r\n")).toEqual([["aaa ", " bbb"]]));
  it("5: quotes around a field", () => expect(cells('"aaa","bbb","ccc"\r\nzzz,yyy,xxx')).toEqual(plain));
  it("6: line breaks, quotes and commas inside them", () =>
    expect(cells('"aaa","b \r\nbb","c,c"\r\nzzz,yyy,xxx')).toEqual([
      ["aaa", "b \r\nbb", "c,c"],
      ["zzz", "yyy", "xxx"],
    ]));
  it("7: a quote inside is doubled", () => expect(cells('"aaa","b""bb","ccc"')).toEqual([["aaa", 'b"bb', "ccc"]]));
});

// OWASP, “CSV Injection”: a cell that begins with one of = + - @ tab, carriage return or line feed, and payloads of that kind.
describe("what could run in another program", () => {
  const payloads = [
    "=1+1",
    "+1+1",
    "-1+1",
    "@SUM(1+1)",
    "\t=1+1",
    "\r=1+1",
    "\n=1+1",
    '=HYPERLINK("http://example.invalid","x")',
    "=cmd|' /C calc'!A0",
    "＝1+1",
    "＋1",
    "－1",
    "＠SUM(1)",
    "'=1+1",
    " =1+1",
  ];
  for (const payload of payloads)
    it(`is made harmless and comes back: ${JSON.stringify(payload)}`, () => {
      const written = guardText(payload);
      expect(written).toMatch(/^'/);
      expect(unguardText(written).text).toBe(payload);
      // A separator inside the text does not let the rest begin a cell of its own.
      const line = Papa.unparse([[guardText(`a,${payload}`)]]);
      expect(readSheetCsv(line, { delimiter: ",", headerLine: 0 }).rows[0]?.cells).toHaveLength(1);
    });
});
