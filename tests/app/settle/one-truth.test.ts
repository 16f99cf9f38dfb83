// Every figure that stands on more than one page, collected from all of them and compared: the demo taken to its end, an
// edition of two tiers with everything the period can bear, and one that lost nothing.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { figuresOf } from "../../../src/app/edition/figures";
import { loadsBoard, makeTheseFirings } from "../../../src/app/loads/loads-board";
import { editionStatement } from "../../../src/app/paper/edition-statement";
import { listTemplates } from "../../../src/app/plan/templates";
import { accountantPack } from "../../../src/app/settle/accountant-pack";
import { settle } from "../../../src/app/settle/settle";
import { takeDays } from "../../../src/app/settle/settle-commands";
import { STATEMENT_LINES, statementCell } from "../../../src/app/settle/statement-cells";
import { lossesOf, tiersOf } from "../../../src/app/settle/story";
import { undatedGroups } from "../../../src/app/settle/undated-groups";
import { rowLabel } from "../../../src/core/document/access";
import { startEdition } from "../../../src/core/document/start-edition";
import type { SheetKey, Workbook } from "../../../src/core/document/workbook";
import { type Recording, record } from "../../../src/core/record/record-edits";
import { must } from "../../accounts/results";
import { readGrid } from "../../csv/csvw";
import { openSession } from "../../tools/open-session";
import { saysPiecesAndFirings, saysQuantities, saysThePlan, saysWhatWaits } from "../../tools/other-pages";
import { afterTyping, type Typed } from "../../tools/small-edition";
import { journalOf } from "../../tools/whole-journal";

const AT = "2026-11-25T09:00:00Z";
const TERMS = { from: "2026-09-01", to: "2026-11-25", reference: "ONE" };

/** Records for pieces that can have it; a mistake in the data above throws. */
function recorded(book: Workbook, ids: readonly string[], ...recordings: readonly Recording[]): Workbook {
  return recordings.reduce((at, recording) => must(record(at, ids, recording, AT)), book);
}

/** Everything that a piece still has to do, in new firings, and then it is passed. */
function toItsEnd(book: Workbook, ids: readonly string[], prefix: string): Workbook {
  let after = book;
  for (const { id, cells } of book.sheets.route.rows) {
    if (cells.who === "as needed") continue;
    const firing = { kind: "new", name: `${prefix}${id}`.slice(0, 40), kiln: String(cells.kiln) } as const;
    const wish = cells.kind === "firing" ? { [id]: firing } : {};
    const able = ids.filter((piece) => {
      const row = after.sheets.pieces.rows.find((one) => one.id === piece);
      return row?.cells.lost_at === undefined && (cells.who !== "special" || row?.cells.tier === "special");
    });
    after = recorded(after, able, { kind: "done", step: id, firings: wish });
  }
  return recorded(after, ids, { kind: "passed", grade: "good" });
}

function template(folder: string) {
  const found = listTemplates().find((one) => one.folder === folder)?.template;
  if (!found?.ok) throw new Error(`no template ${folder}`);
  return found.value;
}

const started = (folder: string, pieces: number) =>
  startEdition(
    template(folder),
    { title: folder, wanted: pieces, currency: "EUR", firstPiece: "01", started: "2026-03-02" },
    pieces,
  );

function demoAtItsEnd(): Workbook {
  const book = demoEdition();
  const open = book.sheets.pieces.rows.filter(({ cells }) => cells.lost_at === undefined && cells.grade === undefined);
  return toItsEnd(
    book,
    open.map(({ id }) => id),
    "Z",
  );
}

function twoTiers(): Workbook {
  const special = ["p2", "p5", "p9", "p11"];
  let book = started("lustre", 24);
  const typed: readonly Typed[] = [
    ["edition", "overhead_loading", "value", "yes"],
    ["edition", "overhead_paid", "value", "311.11"],
    ["edition", "normal_hours", "value", "61"],
    ["edition", "mould_rest", "value", "charged"],
    ["edition", "mould_salvage", "value", "1.37"],
    ["edition", "scrap_value", "value", "0.73"],
    ["edition", "loss_runs", "value", ""],
    ["edition", "fixed_costs", "value", "123.45"],
  ];
  book = recorded(afterTyping(book, typed), special, { kind: "tier", tier: "special" });
  book = recorded(book, ["p1", "p3"], { kind: "done", step: "fettle", firings: {} });
  book = recorded(book, ["p1", "p11"], { kind: "lost", step: "fettle", reason: "cracked" });
  book = recorded(book, ["p4", "p9"], { kind: "lost", step: "glaze_firing", reason: "bloated" });
  const some = book.sheets.pieces.rows
    .map(({ id }) => id)
    .filter((id) => !["p1", "p3", "p4", "p9", "p11", "p20"].includes(id));
  book = toItsEnd(book, some, "Y");
  book = recorded(book, ["p7"], { kind: "passed", grade: "second" });
  book = afterTyping(book, [
    ["pieces", "p6", "own_price", "141.41"],
    ["pieces", "p7", "own_price", "31.31"],
  ]);
  // One firing that ran empty and one that nobody has fired yet.
  const firings = ["E1", "E2"].map((id) => ({
    id: id.toLowerCase(),
    cells: { id, kiln: "Large kiln", basis: "count" },
  }));
  const { rows } = book.sheets.firings;
  book = { ...book, sheets: { ...book.sheets, firings: { ...book.sheets.firings, rows: [...rows, ...firings] } } };
  return afterTyping(book, [["firings", "e1", "meter", "41.3"]]);
}

function withoutLosses(): Workbook {
  const book = started("two-firing", 12);
  return toItsEnd(
    book,
    book.sheets.pieces.rows.map(({ id }) => id),
    "X",
  );
}

type Figures = Map<string, { readonly page: string; readonly minor: number }[]>;

/** What every page says of each figure, in minor units. */
async function collect(book: Workbook): Promise<Figures> {
  const { session, settled } = openSession(book);
  await settled();
  for (const { undated } of undatedGroups(session)) takeDays(session, undated);
  await settled();
  const read = (sheet: SheetKey, row: string, column: string) => session.value({ sheet, row, column });
  const all: Figures = new Map();
  const says = (figure: string, page: string, minor: number | undefined) => {
    if (minor !== undefined) all.set(figure, [...(all.get(figure) ?? []), { page, minor: minor + 0 }]);
  };
  const line = (id: string) => {
    const value = read("results", id, "value");
    return typeof value === "number" ? Math.round(value * 100 + Math.sign(value) * 1e-7) : undefined;
  };
  const paper = (text: string) => Math.round(Number(text.replace(/[^\d.−]/g, "").replace("−", "-")) * 100);
  const books = must(settle(session.book.value, read));
  const { ledger, inventory, statement, flows } = books;
  const journal = journalOf(books);
  const printed = must(editionStatement({ book: session.book.value, read, locale: "en-GB" }, books));
  const files = must(
    accountantPack(session.book.value, read, TERMS, { delimiter: ",", decimal: ".", hasMark: false }),
  ).files;
  const table = (name: string) => {
    const [header = [], ...rows] = readGrid(files[name] ?? "", ",", null);
    return rows.map((cells) => Object.fromEntries(header.map((title, at) => [title, cells[at] ?? ""])));
  };
  const cents = (text: string | undefined) => Math.round(Number(text || "0") * 100);
  const sum = (name: string, column: string) => table(name).reduce((total, row) => total + cents(row[column]), 0);
  const strip = new Map(figuresOf(session).map((figure) => [figure.id, figure.text]));

  // The figures strip shows its Results lines.
  for (const id of ["put_in", "own_lost", "pays", "per_good"]) {
    says(id, "Results", line(id));
    if (line(id) !== undefined) says(id, "figures strip", paper(strip.get(id) ?? ""));
  }
  const inPack = table("cost-statement.csv");
  // Each row of the cost statement leads to a cell, and that cell shows it.
  for (const row of statement) {
    const cell = statementCell(session.book.value, row.label);
    const id = Object.entries(STATEMENT_LINES).find(([label]) => label === row.label)?.[1] ?? row.label;
    if (cell?.sheet === "materials") says(id, "Results", Math.round(Number(session.value(cell)) * 100));
    else if (id !== "put_in") says(id, "Results", cell && line(cell.row));
    says(id, "cost statement", row.minor);
    const packed = inPack.find((one) => one.line === row.label);
    says(id, "pack, cost statement", packed && cents(packed.amount));
  }
  const posted = (account: string) =>
    journal
      .filter((one) => one.account === account)
      .reduce((total, one) => total + one.debitMinor - one.creditMinor, 0);
  const writeDowns = inventory.costMinor - inventory.carriedMinor;
  says("full_finished", "journal", posted("Finished pieces") + posted("Seconds") + posted("Write-down of stock"));
  says(
    "put_in",
    "journal",
    journal.filter(({ memo }) => memo === "Put into the edition").reduce((all_, one) => all_ + one.debitMinor, 0),
  );
  says("abnormal and unshared", "journal", posted("Abnormal loss"));
  says("abnormal and unshared", "ledger", ledger.abnormal + ledger.unsharedNormal);
  says("overhead_idle", "journal", posted("Overhead not carried"));
  says("mould_charged", "journal", posted("Moulds charged"));
  says("empty_kiln", "journal", posted("Firings with nothing in them"));
  says("scrap", "journal", posted("Scrap sold"));
  says("write_down", "journal", posted("Write-down of stock"));
  says("write_down", "stock", writeDowns);
  says("write_down", "Results", line("write_down"));
  says("write_down", "pack, stock", sum("inventory.csv", "write-down"));
  says("stock", "stock", inventory.costMinor);
  says("stock", "ledger", ledger.goodTotal + ledger.secondsTotal + ledger.inProgressTotal);
  says("stock", "pack, stock", sum("inventory.csv", "cost"));
  // Step by step.
  const rows = flows.flatMap((flow) => flow.rows);
  says(
    "put_in",
    "step by step",
    rows.reduce((total, row) => total + row.added, 0),
  );
  says(
    "normal_borne",
    "step by step",
    rows.reduce((total, row) => total + row.borne, 0),
  );
  says(
    "full_progress",
    "step by step",
    rows.reduce((total, row) => total + row.waits, 0),
  );
  says(
    "full_finished",
    "step by step",
    flows.reduce((total, flow) => total + (flow.rows.at(-1)?.on ?? 0), 0),
  );
  for (const { tier, rows: of } of flows) {
    const pieces = session.book.value.sheets.pieces.rows.filter(
      ({ cells }) => (cells.tier === "special") === (tier === "special"),
    );
    const lost = pieces.filter(({ cells }) => cells.lost_at !== undefined);
    const onSheet = (some: typeof pieces, column: string) =>
      Math.round(some.reduce((total, { id }) => total + Number(read("pieces", id, column) || 0), 0) * 100);
    says(
      `lost, ${tier}`,
      "step by step",
      of.reduce((total, row) => total + row.takenOff, 0),
    );
    says(`lost, ${tier}`, "results panel", onSheet(lost, "own"));
    says(
      `borne, ${tier}`,
      "step by step",
      of.reduce((total, row) => total + row.borne, 0),
    );
    says(`borne, ${tier}`, "results panel", onSheet(pieces, "loss_share"));
  }
  // Losses, on three pages.
  says("abnormal", "pack, losses", sum("losses.csv", "abnormal loss"));
  says("abnormal", "printed losses", printed.allLosses.abnormal);
  says("normal", "Results", line("normal"));
  says("normal", "pack, losses", sum("losses.csv", "normal loss"));
  says("normal", "printed losses", printed.allLosses.normal);
  says(
    "normal and abnormal",
    "results panel",
    Math.round(lossesOf(session).reduce((total, { money }) => total + money, 0) * 100),
  );
  says("normal and abnormal", "printed losses", printed.allLosses.together);
  // Tiers, and whether it paid.
  for (const tier of tiersOf(session)) {
    const own = printed.tiers.find((one) => one.tier === tier.tier);
    says(`leaves ${tier.tier}`, "Results", line(`leaves_${tier.tier}`));
    says(`leaves ${tier.tier}`, "results panel", Math.round(tier.leaves * 100));
    says(`leaves ${tier.tier}`, "printed", own?.leaves);
    says(`cost each ${tier.tier}`, "Results", line(`cost_${tier.tier}`));
    says(`cost each ${tier.tier}`, "results panel", Math.round(tier.cost * 100));
    says(`count ${tier.tier}`, "results panel", tier.count);
    says(`count ${tier.tier}`, "printed", own?.pieces);
  }
  says("pays", "printed", printed.pays.at(-1)?.minor);
  for (const row of table("losses.csv")) {
    const parts = ["clay won back", "scrap sold", "normal loss", "abnormal loss"].map((part) => cents(row[part]));
    const title = row.step ?? "";
    const step = session.book.value.sheets.route.rows.find((one) => rowLabel("route", one) === title)?.id;
    const taken = rows.filter((one) => one.step === step).reduce((total, one) => total + one.takenOff, 0);
    says(`losses at ${title}`, "step by step", taken);
    says(`losses at ${title}`, "cost", cents(row["cost of what was lost"]));
    says(
      `losses at ${row.step}`,
      "its parts",
      parts.reduce((total, part) => total + part, 0),
    );
  }
  const source = { book: session.book.value, read, locale: "en-GB" };
  saysWhatWaits(session, source, says);
  saysPiecesAndFirings(session, source, books, says);
  saysQuantities(session, source, books, says);
  await saysThePlan(session, says);
  session.close();
  return all;
}

/** Rounded alone and rounded together differ by a coin for each part; what the books say of one thing is one number. */
const ON_SHEETS = ["Results", "figures strip", "results panel"];
const COINS: Readonly<Record<string, number>> = { pays: 6 };

function apart(figures: Figures): string[] {
  return [...figures].flatMap(([figure, said]) => {
    const books = said.filter(({ page }) => !ON_SHEETS.includes(page));
    const sheets = said.filter(({ page }) => ON_SHEETS.includes(page));
    const spread = (list: typeof said) =>
      list.length === 0 ? 0 : Math.max(...list.map(({ minor }) => minor)) - Math.min(...list.map(({ minor }) => minor));
    const isOne = spread(books) === 0 && spread(sheets) === 0 && spread(said) <= (COINS[figure] ?? 3);
    return isOne ? [] : [`${figure}: ${said.map(({ page, minor }) => `${page} ${minor}`).join(", ")}`];
  });
}

describe.each([
  ["the demo as it stands", demoEdition],
  ["the demo at its end", demoAtItsEnd],
  ["two tiers, and everything the period can bear", twoTiers],
  ["nothing lost", withoutLosses],
] as const)("%s", (_, made) => {
  test("every figure is the same wherever it stands", async () => {
    const figures = await collect(made());
    expect(apart(figures)).toEqual([]);
    const twice = [...figures.values()].filter((said) => said.length > 1);
    expect(twice.length).toBeGreaterThan(80);
  });
});

test("loads cost on Firings what Loads said before they were made, as they are and filled", async () => {
  const { session, settled } = openSession(demoEdition());
  await settled();
  const board = loadsBoard(session);
  if (!board) throw new Error("not computed yet");
  const said = board.views.map(({ load, pieces, cost, company }) => ({
    name: load.name,
    pieces: pieces.length,
    cost,
    company,
  }));
  expect(said.length).toBeGreaterThan(1);
  expect(makeTheseFirings(session, board)).toBe(true);
  await settled();
  for (const { name, pieces, cost, company } of said) {
    const row = session.book.value.sheets.firings.rows.find(({ cells }) => cells.id === name)?.id ?? "";
    const read = (column: string) => Number(session.value({ sheet: "firings", row, column }));
    expect([name, read("pieces"), read("full")]).toEqual([name, pieces, company?.pieces]);
    // Loads takes the heat for each piece more as a straight line between none and a full load: less than half a coin off.
    expect(Math.abs(read("cost") - (cost ?? Number.NaN))).toBeLessThan(0.005);
    expect(Math.abs(read("each") - (company?.here ?? Number.NaN))).toBeLessThan(0.005);
    expect(read("each_full")).toBeCloseTo(company?.full ?? Number.NaN, 9);
  }
});
