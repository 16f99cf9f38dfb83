import { describe, expect, test } from "vitest";
import { MIGRATIONS, type Migration, migrate } from "../../../src/core/document/migrate";
import { FORMAT_VERSION } from "../../../src/core/document/workbook";

const document = (formatVersion: unknown, more: object = {}) => ({ kind: "saggar edition", formatVersion, ...more });

const steps: readonly Migration[] = [
  { to: 2, what: "notes become a list", run: ({ note, ...rest }) => ({ ...rest, notes: [note] }) },
  { to: 3, what: "a colour is added", run: (old) => ({ ...old, colour: "grey" }) },
];

describe("migrate", () => {
  test("leaves a document of today alone", () => {
    const today = document(FORMAT_VERSION, { later: { deep: [1] } });
    expect(migrate(today, "x")).toEqual({ ok: true, value: today });
  });

  test("runs every step from the document's format on, in order, and drops nothing that it does not know", () => {
    const migrated = migrate(document(1, { note: "dry", kept: { deep: [1] } }), "x", steps, 3);
    expect(migrated).toEqual({ ok: true, value: document(3, { notes: ["dry"], colour: "grey", kept: { deep: [1] } }) });
  });

  test("runs only the steps that are needed", () => {
    const two = document(2, { note: "dry" });
    expect(migrate(two, "x", steps, 3)).toEqual({ ok: true, value: document(3, { note: "dry", colour: "grey" }) });
    expect(migrate(two, "x", steps, 2)).toEqual({ ok: true, value: two });
  });

  test("does not touch what it was given", () => {
    const old = Object.freeze(document(1, { note: "dry" }));
    migrate(old, "x", steps, 3);
    expect(old).toEqual(document(1, { note: "dry" }));
  });

  const cases: readonly (readonly [unknown, string])[] = [
    [null, "a.json: found nothing, but it takes an edition file (*.edition.json). Choose another file."],
    [[], "a.json: found [], but it takes an edition file (*.edition.json). Choose another file."],
    [
      "saggar edition",
      "a.json: found “saggar edition”, but it takes an edition file (*.edition.json). Choose another file.",
    ],
    [
      { kind: "recipe" },
      'a.json: found {"kind":"recipe"}, but it takes an edition file (*.edition.json). Choose another file.',
    ],
    [document("1"), "a.json, formatVersion: found “1”, but it takes 1 to 1."],
    [document(0), "a.json, formatVersion: found 0, but it takes 1 to 1."],
    [document(1.5), "a.json, formatVersion: found 1.5, but it takes 1 to 1."],
    [
      document(9),
      "a.json: found “format 9”, but it takes formats up to 1. It was written by a newer Saggar: reload this page to update, then open it again. The file was not changed.",
    ],
  ];
  test.each(cases)("refuses %j", (data, message) => {
    const migrated = migrate(data, "a.json", [], 1);
    expect(migrated.ok ? [] : migrated.problems.map((one) => one.message)).toEqual([message]);
  });
});

test("the project's own steps lead to today's format without a gap", () => {
  expect(MIGRATIONS.map(({ to }) => to)).toEqual(Array.from({ length: FORMAT_VERSION - 1 }, (_, at) => at + 2));
});
