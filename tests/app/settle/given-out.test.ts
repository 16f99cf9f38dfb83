// Books given out, month by month: what goes on from what, what is corrected, what holds them back.
import { describe, expect, test } from "vitest";
import { writeCells } from "../../../src/app/commands/commands";
import { demoEdition } from "../../../src/app/demo/demo";
import { recordPieces } from "../../../src/app/record/record";
import { pricesToPay } from "../../../src/app/record/sales";
import { setAccount } from "../../../src/app/settle/account-terms";
import { accountantPack } from "../../../src/app/settle/accountant-pack";
import { openPeriod } from "../../../src/app/settle/dated-books";
import { giveOut, makePack } from "../../../src/app/settle/give-out";
import { cellOfMove } from "../../../src/app/settle/move-cells";
import { takeDays } from "../../../src/app/settle/settle-commands";
import { undatedGroups } from "../../../src/app/settle/undated-groups";
import { resolveCell } from "../../../src/core/document/access";
import { readDocument } from "../../../src/core/document/document-file";
import { nextEdition } from "../../../src/core/document/next-edition";
import { writeDocument } from "../../../src/core/document/write-document";
import { must } from "../../accounts/results";
import { checkCsvw, readGrid } from "../../csv/csvw";
import { openSession } from "../../tools/open-session";

const FORM = { delimiter: ",", decimal: ".", hasMark: false } as const;
const { session, settled } = openSession(demoEdition());
const type = (row: string, column: string, typed: string) =>
  writeCells(session, [{ cell: { sheet: "pieces", row, column }, typed }], "typed");
const packOf = (from: string, to: string, isDetailed = false) =>
  accountantPack(
    session.book.value,
    (sheet, row, column) => session.value({ sheet, row, column }),
    { from, to, reference: "MAR", isDetailed },
    FORM,
  );
const table = (files: Readonly<Record<string, string>>, name: string) => {
  const [header = [], ...rows] = readGrid(files[name] ?? "", ",", null);
  return rows.map((cells) => Object.fromEntries(header.map((title, at) => [title, cells[at] ?? ""])));
};
const cents = (text: string | undefined) => Math.round(Number(text || "0") * 100);

describe("the demo, three months long", () => {
  test("is sold in November, and three packs go on from each other", async () => {
    await settled();
    const pieces = ["p1", "p2", "p3"];
    const sale = {
      kind: "sale" as const,
      day: "2026-11-24",
      today: "2026-11-25",
      paid: new Map([...pricesToPay(session, pieces, undefined, undefined)].map(([id, { gross }]) => [id, gross])),
    };
    recordPieces(session, pieces, { became: "sold", ...sale, document: "R-1" });
    recordPieces(session, ["p4"], { became: "consigned", ...sale });
    await settled();
    const months: string[] = [];
    for (let month = 0; month < 3; month += 1) {
      const { from, to } = openPeriod(session.book.value);
      months.push(`${from} ${to}`);
      const pack = must(packOf(from, to));
      expect(pack.checks.filter(({ isMet }) => !isMet)).toEqual([]);
      expect(checkCsvw(JSON.parse(pack.files["csv-metadata.json"] ?? "{}"), pack.files)).toEqual([]);
      const made = must(makePack(session, { from, to, reference: "MAR" }, FORM));
      must(giveOut(session, made));
      expect(made.entry.checksum).toMatch(/^[0-9a-f]{64}$/);
    }
    expect(months).toEqual(["2026-09-07 2026-09-30", "2026-10-01 2026-10-31", "2026-11-01 2026-11-30"]);
    const { packs } = session.book.value.lists;
    for (const [at, pack] of packs.entries()) expect(pack.first).toBe((packs[at - 1]?.last ?? 0) + 1);
    expect(packs.map(({ pieces: stood }) => stood !== undefined)).toEqual([false, false, true]);
  });

  test("a pack that does not go on is not listed, though it can be looked at", () => {
    const again = must(makePack(session, { from: "2026-10-01", to: "2026-10-31", reference: "MAR" }, FORM));
    const refused = giveOut(session, again);
    expect(refused.ok ? "" : refused.problems[0]?.message).toContain("one that begins on 2026-12-01");
    expect(session.book.value.lists.packs).toHaveLength(3);
  });

  test("the list is kept with the edition, and no next edition has it", () => {
    const book = session.book.value;
    const opened = readDocument(writeDocument(book), "marram.json");
    expect(opened.ok && opened.value.lists.packs).toEqual(book.lists.packs);
    const next = nextEdition(book, { title: "Next", wanted: 10, firstPiece: "1", started: "2027-01-01" }, 12);
    expect(next.book.lists.packs).toEqual([]);
  });

  test("what is changed in October is posted in December, and the piece is named", async () => {
    const before = must(packOf("2026-12-01", "2026-12-31"));
    expect(before.period.posted).toEqual([]);
    expect(before.files["readme.txt"]).toContain("Nothing moved in it.");
    type("p10", "glaze.coats", "6");
    await settled();
    const after = must(packOf("2026-12-01", "2026-12-31"));
    const [correction] = after.period.posted;
    expect(after.period.posted).toHaveLength(1);
    expect(correction?.memo).toBe("Correction of what was given out to 2026-11-30");
    const readme = after.files["readme.txt"] ?? "";
    expect(readme).toMatch(/010: good; own cost [\d.]+, was [\d.]+/);
    expect(after.checks.filter(({ isMet }) => !isMet)).toEqual([]);
    session.undo();
    await settled();
  });

  test("giving out is one step: undone, the period is open again", () => {
    const to = session.book.value.lists.packs.at(-1)?.to;
    session.undo();
    expect(session.book.value.lists.packs).toHaveLength(2);
    expect(session.book.value.lists.packs.at(-1)?.pieces).toBeDefined();
    expect(openPeriod(session.book.value).to).toBe(to);
    session.redo();
    expect(session.book.value.lists.packs).toHaveLength(3);
  });

  test("every part of every posting leads to a cell that is there", () => {
    const book = session.book.value;
    for (const isDetailed of [false, true])
      for (const { moves } of must(packOf("2026-09-01", "2026-11-30", isDetailed)).period.posted)
        for (const move of moves) {
          const cell = cellOfMove(book, move);
          if (move.element === "rounding") continue;
          expect(cell && resolveCell(book, cell), JSON.stringify(move)).toBeDefined();
        }
  });

  test("tables: the trail adds up to the journal, lost pieces to what was lost, firings and hours to what was put in", () => {
    const { files } = must(packOf("2026-09-01", "2026-11-30", true));
    const journal = new Map<string, number>();
    for (const { reference = "", "account code": code = "", account = "", debit, credit } of table(
      files,
      "journal.csv",
    )) {
      const key = `${reference} ${[code, account].filter(Boolean).join(" ")}`;
      journal.set(key, (journal.get(key) ?? 0) + cents(debit) - cents(credit));
    }
    const trail = new Map<string, number>();
    for (const row of table(files, "audit-trail.csv"))
      for (const [account, sign] of [
        [row["debit account"], 1],
        [row["credit account"], -1],
      ] as const) {
        const key = `${row.reference} ${account}`;
        trail.set(key, (trail.get(key) ?? 0) + sign * cents(row.amount));
      }
    expect(Object.fromEntries([...trail].filter(([, minor]) => minor !== 0))).toEqual(Object.fromEntries(journal));
    const lost = table(files, "lost-pieces.csv");
    expect(lost.map(({ piece }) => piece)).toContain("101");
    for (const row of lost)
      expect(cents(row.cost)).toBe(
        cents(row["clay won back"]) + cents(row.scrap) + cents(row["normal loss"]) + cents(row["abnormal loss"]),
      );
    expect(table(files, "firings.csv")).toHaveLength(11);
    const hours = table(files, "hours.csv").reduce((sum, row) => sum + Number(row.hours), 0);
    expect(hours).toBeCloseTo(Number(session.value({ sheet: "results", row: "hours", column: "value" })), 6);
  });
});

describe("what holds the papers back", () => {
  test("an account without a name, one without a code beside others, and two names for one code", () => {
    const refusal = () => {
      const made = packOf("2026-09-01", "2026-11-30");
      return made.ok ? [] : made.problems.map(({ message }) => message);
    };
    setAccount(session, "labour", "name", "");
    expect(refusal().join()).toContain("Account “Labour applied”");
    session.undo();
    setAccount(session, "labour", "code", "4100");
    expect(refusal().length).toBeGreaterThan(3);
    expect(refusal().join()).toContain("no code");
    session.undo();
    expect(refusal()).toEqual([]);
  });

  test("a day that is missing, until it is taken", async () => {
    type("p141", "fettle.minutes", "12");
    await settled();
    const before = packOf("2026-12-01", "2026-12-31");
    const isUndated = !before.ok;
    expect(isUndated || session.book.value.sheets.pieces.rows.some(({ cells }) => cells["fettle.day"])).toBe(true);
    for (const { undated } of undatedGroups(session)) takeDays(session, undated);
    expect(undatedGroups(session)).toEqual([]);
  });
});
