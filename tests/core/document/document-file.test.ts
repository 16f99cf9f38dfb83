import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { columnOf, rowOf } from "../../../src/core/document/access";
import { applyChange, type Change } from "../../../src/core/document/change";
import { readDocument } from "../../../src/core/document/document-file";
import { addOwnColumn } from "../../../src/core/document/own-edits";
import { FORMAT_VERSION, SHEET_KEYS, type Workbook } from "../../../src/core/document/workbook";
import { writeDocument } from "../../../src/core/document/write-document";
import type { Result } from "../../../src/core/problem";
import { loseAt } from "../../../src/core/record/piece-edits";
import { errorsOf, evaluate } from "../../tools/evaluate";
import { passAs } from "../../tools/piece-changes";
import { afterTyping, smallEdition } from "../../tools/small-edition";

const LISTS: Workbook["lists"] = {
  plans: [
    {
      id: "p1",
      at: "2026-02-10T08:00:00.000Z",
      why: "run began",
      loadingCarries: true,
      lines: { wage: 20, plan_pays: 312.5, starts: 4 },
      steps: [
        { step: "cast", title: "Cast", kind: "cast", material: "Slip", numbers: { order: 1, loss: 0.03, minutes: 12 } },
        { step: "bisque", title: "Bisque", kind: "firing", who: "all", kiln: "Kiln", numbers: { kiln_wear: 6 } },
      ],
    },
  ],
  log: [
    {
      id: "l1",
      at: "2026-02-12T09:30",
      act: "lost",
      label: "Lost at Fettle: 03",
      pieces: ["p3"],
      writes: [{ sheet: "pieces", row: "p3", column: "lost_at", is: "fettle" }],
    },
  ],
  cases: [
    {
      id: "c1",
      title: "Dear power",
      changes: [{ sheet: "edition", row: "tariff", column: "value", value: 0.5 }],
    },
  ],
  recipes: [
    {
      id: "r1",
      title: "One more coat and a firing",
      steps: [{ kind: "coat", title: "Glaze again", cells: { coats: 1, material: "Celadon" } }],
      chance: 0.8,
      grade: "second",
      failed: 0,
      days: 4,
    },
  ],
  ranges: [{ id: "a1", sheet: "edition", row: "wage", column: "value", low: 18, high: 24 }],
  packs: [
    {
      ...{ id: "k1", from: "2026-02-01", to: "2026-02-28", at: "2026-03-02T09:30:00Z" },
      ...{ reference: "S", first: 1, last: 3, total: 4200, checksum: "ab".repeat(32) },
      balances: { inProgress: 4200, labour: -4200 },
      pieces: [{ piece: "p1", own: 4200, state: "in progress" }],
    },
  ],
};

const F = "small.edition.json";
const folder = new URL("../../fixtures/documents/", import.meta.url);
// A new format gets its file once, with NEW_FORMAT=1; a file that is there is never written again.
const newest = new URL(`format-${FORMAT_VERSION}.edition.json`, folder);
if (process.env.NEW_FORMAT === "1" && !existsSync(newest))
  writeFileSync(newest, JSON.stringify(JSON.parse(writeDocument(toBeKept())), undefined, 1));
const kept = readdirSync(folder).sort();

/** An edition under way, with an override, a formula, a lost and a passed piece, and something nobody knows. */
function toBeKept(): Workbook {
  const typed = afterTyping(smallEdition(), [
    ["pieces", "p1", "cast.slip", "900"],
    ["pieces", "p2", "cast.slip", "910"],
    ["pieces", "p3", "cast.slip", "890"],
    ["pieces", "p1", "fettle.minutes", "10"],
    ["pieces", "p1", "bisque.firing", "F1"],
    ["pieces", "p2", "bisque.firing", "F1"],
    ["pieces", "p1", "glaze.coats", "2"],
    ["pieces", "p1", "glaze.area", "={route[glaze]:area}+20"],
    ["pieces", "p1", "firing.firing", "F2"],
    ["pieces", "p2", "note", "=1+1"],
    ["firings", "f1", "date", "2026-02-11"],
    ["firings", "f1", "meter", "66.5"],
  ]);
  const over = afterTyping(typed, [["pieces", "p1", "fettle.labour", "4.2"]], true);
  const lost = applyChange(over, loseAt(over, ["p3"], "fettle", "cracked"));
  const passed = applyChange(lost, passAs(lost, ["p1"], "good"));
  return { ...passed, lists: LISTS, cases: [{ name: "kept by a version that does not know it" }] };
}

function filled(): Workbook {
  const typed = afterTyping(smallEdition(), [
    ["pieces", "p1", "cast.slip", "900"],
    ["pieces", "p1", "bisque.firing", "F1"],
    ["pieces", "p1", "glaze.coats", "3"],
    ["pieces", "p1", "glaze.area", "={route[glaze]:area}+20"],
    ["pieces", "p1", "note", "=1+1"],
    ["firings", "f1", "date", "2026-02-11"],
  ]);
  const own = must(addOwnColumn(typed, "pieces", { title: "luck", unit: "", type: "number", formula: "" }));
  const over = afterTyping(applyChange(typed, own), [["pieces", "p2", "own", "12.5"]], true);
  return applyChange(applyChange(over, loseAt(over, ["p3"], "fettle", "cracked")), passAs(over, ["p1"], "good"));
}

function must(result: Result<Change>): Change {
  if (!result.ok) throw new Error(result.problems[0]?.message);
  return result.value;
}

const book = filled();
const text = writeDocument(book);

function messages(spoilt: string): string[] {
  expect(spoilt).not.toBe(text);
  const read = readDocument(spoilt, F);
  return read.ok ? [] : read.problems.map(({ message }) => message);
}

const swap = (from: string, to: string) => {
  expect(text).toContain(from);
  return text.replace(from, to);
};

describe("an edition as a file", () => {
  test("comes back as it was written, formulas, overrides and text that looks like a formula too", () => {
    expect(readDocument(text, F)).toEqual({ ok: true, value: book });
    expect(readDocument(`\uFEFF${text}`, F)).toEqual({ ok: true, value: book });
  });

  test("keeps what a later version wrote beside the sheets", () => {
    const read = readDocument(swap('{"kind":', '{"cases":[{"name":"dear gas"}],"kind":'), F);
    expect(read.ok && read.value.cases).toEqual([{ name: "dear gas" }]);
    expect(read.ok && writeDocument(read.value)).toContain("dear gas");
  });

  test("is written the same after it was read", () => {
    const read = readDocument(text, F);
    expect(read.ok && JSON.parse(writeDocument(read.value))).toEqual(JSON.parse(text));
  });
});

describe("what the maker made different of a column that every edition has", () => {
  test("is kept and comes back; all else of the standard sheets is not in the file", () => {
    const was = columnOf(book, "pieces", "kg");
    if (!was) throw new Error("no such column");
    const is = { ...was, title: "heft", formula: "=piece_kg*2", width: 140 };
    const changed = applyChange(book, { label: "x", operations: [{ kind: "column", sheet: "pieces", was, is }] });
    const kept = JSON.parse(writeDocument(changed)).sheets;
    expect(kept.pieces.changed).toEqual([{ key: "kg", title: "heft", formula: "=piece_kg*2", width: 140 }]);
    expect(kept.pieces.columns.map(({ key }: { readonly key: string }) => key)).toEqual(["my_luck"]);
    for (const key of ["route", "firings", "results"]) expect(kept[key].columns).toEqual([]);
    expect(kept.results.rows).toEqual([]);
    expect(readDocument(writeDocument(changed), F)).toEqual({ ok: true, value: changed });
  });

  test("a note that was changed or blanked, and a value given to a computed line, come back", () => {
    const noted = afterTyping(book, [
      ["edition", "special_wanted", "note", ""],
      ["edition", "wage", "note", "from May"],
      ["edition", "wage", "value", ""],
    ]);
    const over = afterTyping(noted, [["results", "put_in", "value", "12"]], true);
    expect(readDocument(writeDocument(over), F)).toEqual({ ok: true, value: over });
  });
});

describe("an edition of format 2 that was refused for its size", () => {
  const old = JSON.parse(readFileSync(new URL("format-2.edition.json", folder), "utf8"));
  const spoil = (change: (at: typeof old) => void) => {
    const at = structuredClone(old);
    change(at);
    const read = readDocument(JSON.stringify(at), F);
    return read.ok ? [] : read.problems.map(({ message }) => message);
  };
  const own = { key: "my_sum", title: "Sum", unit: "", kind: "computed", type: "number", own: true };
  const entry = { at: "2026-02-12T09:30", act: "lost", label: "Lost", pieces: [], writes: [] };

  test.each<readonly [string, (at: typeof old) => void]>([
    [
      "a formula made for a long route",
      ({ sheets }) => {
        const column = sheets.pieces.columns.find(({ key }: { readonly key: string }) => key === "own");
        column.formula = `=SUM(${Array.from({ length: 5000 }, () => "{cast.cost}").join(",")})`;
      },
    ],
    ["an own formula", ({ sheets }) => sheets.pieces.columns.push({ ...own, formula: `=${"1".repeat(4500)}` })],
    [
      "a cell's formula",
      ({ sheets }) => {
        sheets.pieces.rows[0].cells["cast.slip"] = { f: `=${"1".repeat(9000)}` };
      },
    ],
    [
      "the run log",
      ({ lists }) => {
        lists.log = Array.from({ length: 20_001 }, (_, at) => ({ ...entry, id: `l${at}` }));
      },
    ],
    [
      "columns",
      ({ sheets }) => {
        const more = Array.from({ length: 2001 }, (_, at) => ({ ...own, key: `my_${at}`, kind: "input" }));
        sheets.pieces.columns.push(...more);
      },
    ],
    [
      "firings",
      ({ sheets }) => {
        const cells = { kiln: "Large", basis: "count" };
        const more = Array.from({ length: 30_001 }, (_, at) => ({ id: `x${at}`, cells: { ...cells, id: `X${at}` } }));
        sheets.firings.rows.push(...more);
      },
    ],
    [
      "a step before all others",
      ({ sheets }) => {
        sheets.route.rows[0].cells.order = -1;
      },
    ],
  ])("opens again: %s", (_, change) => {
    expect(spoil(change)).toEqual([]);
  });
});

describe("files kept from earlier formats still open", () => {
  test.each(kept)("%s", (name) => {
    const read = readDocument(readFileSync(new URL(name, folder), "utf8"), name);
    expect(read.ok ? [] : read.problems).toEqual([]);
    if (!read.ok) return;
    const values = evaluate(read.value);
    expect(errorsOf(read.value, values)).toEqual([]);
    expect(values("results", "started", "value")).toBe(5);
    // 0.9 kg of slip at 1 a kilogram, a sixtieth of a mould, six minutes at 20 and at 6 an hour.
    expect(values("pieces", "p1", "cast.cost")).toBeCloseTo(0.9 + 0.5 + 2 + 0.6, 12);
  });
});

describe("an edition of format 1", () => {
  const opened = readDocument(readFileSync(new URL("format-1.edition.json", folder), "utf8"), "format-1");

  test("gets today's columns, formulas, lines and lists, and keeps what was entered, added and unknown", () => {
    expect(opened.ok).toBe(true);
    if (!opened.ok) return;
    const { sheets, lists } = opened.value;
    const today = smallEdition();
    for (const key of SHEET_KEYS) expect(sheets[key].columns).toEqual(today.sheets[key].columns);
    expect(sheets.edition.rows.map((row) => row.line)).toEqual(today.sheets.edition.rows.map((row) => row.line));
    expect(lists).toEqual({ log: [], cases: [], recipes: [], ranges: [], plans: [], packs: [] });
    expect(opened.value.cases).toEqual([{ name: "kept by a version that does not know it" }]);
    expect(rowOf(opened.value, "pieces", "p1")?.cells["fettle.labour"]).toBe(4.2);
    expect(readDocument(writeDocument(opened.value), F)).toEqual(opened);
  });

  test("keeps a column and a line that today's sheets do not know as the maker's own", () => {
    const old = JSON.parse(readFileSync(new URL("format-1.edition.json", folder), "utf8"));
    old.sheets.kilns.columns.push({ key: "colour", title: "colour", unit: "", kind: "input", type: "text" });
    old.sheets.kilns.rows[0].cells.colour = "blue";
    old.sheets.edition.rows.splice(2, 0, {
      id: "luck",
      cells: { label: "Luck", value: 7 },
      line: { kind: "input", type: "number" },
    });
    const read = readDocument(JSON.stringify(old), F);
    expect(read.ok ? [] : read.problems).toEqual([]);
    if (!read.ok) return;
    expect(read.value.sheets.kilns.columns.at(-1)).toMatchObject({ key: "colour", own: true });
    expect(read.value.sheets.kilns.rows[0]?.cells.colour).toBe("blue");
    expect(read.value.sheets.edition.rows.at(-1)).toMatchObject({ id: "luck", own: true, cells: { value: 7 } });
  });
});

describe("a file that is no whole edition is refused", () => {
  const whole = "but it takes a whole edition file (*.edition.json). Open an earlier copy; nothing here was changed.";
  test.each([
    ["half a file", text.slice(0, 2000), `${F}: found “an edition that breaks off after 2000 characters”, ${whole}`],
    ["an empty file", "", `${F}: found nothing, ${whole}`],
    ["a web page", "<!doctype html><html></html>", `${F}: found “<!doctype html><html></html>”, ${whole}`],
    ["a list", "[1,2]", `${F}: found [1,2], but it takes an edition file (*.edition.json). Choose another file.`],
    [
      "something else",
      '{"name":"x"}',
      `${F}: found {"name":"x"}, but it takes an edition file (*.edition.json). Choose another file.`,
    ],
  ])("%s", (_, spoilt, message) => {
    expect(messages(spoilt)).toEqual([message]);
  });
});

describe("a spoilt entry is named exactly", () => {
  const COATS = "but it takes a whole number, 0 or more and 50 or less.";
  const cases: readonly (readonly [string, string, string, string])[] = [
    [
      "a newer format",
      `"formatVersion":${FORMAT_VERSION}`,
      '"formatVersion":99',
      `${F}: found “format 99”, but it takes formats up to ${FORMAT_VERSION}. It was written by a newer Saggar: reload this page to update, then open it again. The file was not changed.`,
    ],
    [
      "text for a number",
      '"glaze.coats":3',
      '"glaze.coats":"three"',
      `Pieces, row p1, glaze.coats: found “three”, ${COATS}`,
    ],
    ["negative coats", '"glaze.coats":3', '"glaze.coats":-3', `Pieces, row p1, glaze.coats: found -3, ${COATS}`],
    ["yes for a number", '"glaze.coats":3', '"glaze.coats":true', `Pieces, row p1, glaze.coats: found true, ${COATS}`],
    [
      "null",
      '"glaze.coats":3',
      '"glaze.coats":null',
      `${F}, sheets.pieces.rows[0].cells.glaze.coats: found nothing, but it takes text, a number, yes or no, or a formula.`,
    ],
    [
      "an unknown firing",
      '"bisque.firing":"F1"',
      '"bisque.firing":"F9"',
      "Pieces, row p1, bisque.firing: found “F9”, but it takes one of F1, F2.",
    ],
    [
      "a loss of everything",
      '"loss":0.05',
      '"loss":1',
      "Route, row cast, loss: found 1, but it takes a percentage, 0 % or more and below 100 %.",
    ],
    [
      "a wrong kind",
      '"kind":"metal"',
      '"kind":"gold"',
      "Route, row band, kind: found “gold”, but it takes one of cast, hand, coat, metal, firing.",
    ],
    [
      "a day that is none",
      '"date":"2026-02-11"',
      '"date":"2026-02-31"',
      "Firings, row f1, date: found “2026-02-31”, but it takes a date such as 2026-11-25.",
    ],
    [
      "a formula without its sign",
      '{"f":"={route',
      '{"f":"{route',
      `${F}, sheets.pieces.rows[0].cells.glaze.area.f: found “{route[glaze]:area}+20”, but it takes a formula, which begins with =.`,
    ],
    [
      "a column nobody has",
      '"glaze.coats":3',
      '"glaze.coat":3',
      "Pieces, row p1, glaze.coat: found 3, but it takes a column of that sheet.",
    ],
    ["a row twice", '"id":"p2"', '"id":"p1"', `${F}, Pieces: found “p1”, but it takes each row and column once.`],
    [
      "an id with a space",
      '"id":"p2"',
      '"id":"p 2"',
      `${F}, sheets.pieces.rows[1].id: found “p 2”, but it takes an id of small letters, digits and _.`,
    ],
    [
      "a sheet too many",
      '"sheets":{',
      '"sheets":{"attic":{},',
      `${F}, sheets.attic: found “attic”, but it takes no such entry.`,
    ],
    [
      "a sheet too few",
      '"kilns":{"columns"',
      '"kilms":{"columns"',
      `${F}, sheets.kilns: found nothing, but it takes named entries, { }.`,
    ],
    [
      "a currency that is none",
      '"currency":"EUR"',
      '"currency":"euro"',
      `${F}, meta.currency: found “euro”, but it takes a three-letter ISO 4217 code.`,
    ],
    [
      "a title of nothing",
      '"title":"Small","note"',
      '"title":"","note"',
      `${F}, meta.title: found nothing, but it takes 1 or more characters.`,
    ],
    [
      "a key every object answers to",
      '"key":"my_luck","title":"luck"',
      '"key":"constructor","title":"luck"',
      `${F}, sheets.pieces.columns[0].key: found “constructor”, but it takes a key of small letters, digits and _.`,
    ],
  ];
  test.each(cases)("%s", (_, from, to, message) => {
    expect(messages(swap(from, to))).toContain(message);
  });

  test("a hostile __proto__ beside the sheets is left out and pollutes nothing", () => {
    const read = readDocument(swap('{"kind":', '{"__proto__":{"polluted":1},"kind":'), F);
    expect(read).toEqual({ ok: true, value: book });
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });

  test.each([
    ["__proto__", '{"polluted":1}', "found “__proto__”, but it takes no such entry."],
    ["\\u005f_proto__", '"x"', "found “__proto__”, but it takes no such entry."],
    ["constructor", '"x"', "found “x”, but it takes a key of small letters, digits and _."],
    ["Piece", '"x"', "found “x”, but it takes a key of small letters, digits and _."],
  ])("a cell named %s is told, not dropped", (key, value, message) => {
    const named = JSON.parse(`"${key}"`);
    expect(messages(swap('"cells":{"piece":"01"', `"cells":{"${key}":${value},"piece":"01"`))).toEqual([
      `${F}, sheets.pieces.rows[0].cells.${named}: ${message}`,
    ]);
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });

  test("a cell named prototype is told as a column that is not there", () => {
    expect(messages(swap('"cells":{"piece":"01"', '"cells":{"prototype":"x","piece":"01"'))).toEqual([
      "Pieces, row p1, prototype: found “x”, but it takes a column of that sheet.",
    ]);
  });

  test("a name __proto__ among the accounts or the cells of a recipe is told too", () => {
    expect(messages(swap('"currency":"EUR"', '"currency":"EUR","accounts":{"__proto__":"x"}'))).toEqual([
      `${F}, meta.accounts.__proto__: found “__proto__”, but it takes no such entry.`,
    ]);
    const recipe = JSON.stringify(LISTS.recipes).replace('"cells":{', '"cells":{"__proto__":1,');
    expect(messages(swap('"recipes":[]', `"recipes":${recipe}`))).toEqual([
      `${F}, lists.recipes[0].steps[0].cells.__proto__: found “__proto__”, but it takes no such entry.`,
    ]);
  });

  test("many problems are all named", () => {
    const spoilt = text.replaceAll('"tier":"standard"', '"tier":"gold"');
    expect(messages(spoilt)).toHaveLength(5);
  });
});
