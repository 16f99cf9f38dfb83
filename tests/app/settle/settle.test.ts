// What leaves the sheets, from the invented edition and from small ones built for the purpose.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { accountTermsOf } from "../../../src/app/settle/account-terms";
import { periodOf } from "../../../src/app/settle/dated-books";
import { journalReferenceOf, type Settled, settle } from "../../../src/app/settle/settle";
import { applyChange } from "../../../src/core/document/change";
import { editMeta, writeEntries } from "../../../src/core/document/edits";
import type { Workbook } from "../../../src/core/document/workbook";
import { loseAt } from "../../../src/core/record/piece-edits";
import { evaluate } from "../../tools/evaluate";
import { passAs } from "../../tools/piece-changes";
import { afterTyping, smallEdition, type Typed } from "../../tools/small-edition";
import { journalOf } from "../../tools/whole-journal";

function settled(book: Workbook): Settled {
  const result = settle(book, evaluate(book));
  if (!result.ok) throw new Error(result.problems[0]?.message);
  return result.value;
}

const book = demoEdition();
const read = evaluate(book);
const value = (id: string) => Number(read("results", id, "value"));
const marram = settled(book);

describe("Marram, settled", () => {
  test("every reference balances, and lines say where each cent went", () => {
    const byReference = new Map<string, number>();
    for (const line of journalOf(marram))
      byReference.set(line.reference, (byReference.get(line.reference) ?? 0) + line.debitMinor - line.creditMinor);
    expect(byReference.size).toBeGreaterThan(4);
    expect([...byReference.values()].every((sum) => sum === 0)).toBe(true);
  });

  test("the ledger is the sheet, rounded once", () => {
    const { ledger } = marram;
    expect(Math.abs(ledger.putInTotal - value("put_in") * 100)).toBeLessThan(0.51);
    expect(Math.abs(ledger.abnormal - value("abnormal") * 100)).toBeLessThan(1.01);
    expect(ledger.good).toHaveLength(value("good"));
    const outs = ledger.goodTotal + ledger.secondsTotal + ledger.inProgressTotal;
    expect(outs + ledger.abnormal + ledger.unsharedNormal + ledger.reclaimed + ledger.scrap).toBe(ledger.putInTotal);
  });

  test("the second is not carried above what it fetches", () => {
    const second = marram.inventory.lines.find((line) => line.group === "seconds");
    expect(second?.piece).toBe("042");
    expect(second?.carriedMinor).toBe(Math.round(value("second_worth") * 100));
    expect(second?.writeDownMinor).toBeGreaterThan(0);
    expect(value("write_down")).toBeCloseTo((second?.writeDownMinor ?? 0) / 100, 1);
  });

  test("materials of the statement add up to what was put in", () => {
    const { ledger, statement } = marram;
    const ofMetal = statement.find((row) => row.label === "Platinum lustre");
    expect(ofMetal?.minor).toBe(ledger.putIn.metal);
    expect(ofMetal?.fineGrams).toBeCloseTo(value("fine"), 9);
  });

  test("what is borne at a step is that step's normal loss, and each tier takes off what its own lost pieces had cost", () => {
    const [lost] = book.sheets.pieces.rows.filter(({ cells }) => cells.lost_at === "dry");
    const mixed = settled(
      afterTyping(book, [
        ["pieces", lost?.id ?? "", "tier", "special"],
        ["pieces", lost?.id ?? "", "fettle.minutes", "95"],
      ]),
    );
    const lostAt = new Map(mixed.edition.pieces.map((piece) => [piece.id, piece.lostAt]));
    // Each piece is rounded by itself, so that a step of 141 pieces may be off by some cents.
    for (const step of mixed.costs.steps) {
      const rows = mixed.flows.flatMap(({ tier, rows: own }) => own.map((row) => ({ ...row, tier })));
      const at = rows.filter((row) => row.step === step.id);
      expect(Math.abs(at.reduce((sum, { borne }) => sum + borne, 0) - step.normal * 100), step.id).toBeLessThan(30);
      for (const row of at) {
        const its = mixed.costs.pieces.filter(({ id, tier }) => lostAt.get(id) === step.id && tier === row.tier);
        const own = its.reduce((sum, piece) => sum + piece.own, 0);
        expect(Math.abs(row.takenOff - own * 100), `${step.id}, ${row.tier}`).toBeLessThan(1.01);
      }
    }
  });

  test("step by step: tiers apart, each row adds across, and together they end in the ledger", () => {
    const { flows, ledger, costs } = marram;
    const rows = flows.flatMap((flow) => flow.rows);
    const sum = (of: (row: (typeof rows)[number]) => number) => rows.reduce((all, row) => all + of(row), 0);
    expect(flows.map(({ tier }) => tier)).toEqual(["standard", "special"]);
    for (const row of rows) {
      expect(row.inPieces - row.lost - row.waiting).toBe(row.onPieces);
      expect(row.carriedIn + row.added - row.takenOff + row.borne - row.waits).toBe(row.on);
    }
    for (const { rows: own } of flows)
      for (const [at, row] of own.slice(1).entries())
        expect([row.inPieces, row.carriedIn]).toEqual([own[at]?.onPieces, own[at]?.on]);
    expect(sum(({ added }) => added)).toBe(ledger.putInTotal);
    expect(sum(({ borne }) => borne)).toBe(ledger.normalInPieces);
    expect(sum(({ waits }) => waits)).toBe(ledger.inProgressTotal);
    expect(sum(({ takenOff }) => takenOff)).toBe(
      ledger.normalInPieces + ledger.abnormal + ledger.unsharedNormal + ledger.reclaimed + ledger.scrap,
    );
    expect(flows.reduce((all, { good }) => all + good, 0)).toBe(ledger.goodTotal);
    expect(flows.reduce((all, { seconds }) => all + seconds, 0)).toBe(ledger.secondsTotal);
    expect(sum(({ lost }) => lost)).toBe(costs.totals.count.lost);
    expect(sum(({ waiting }) => waiting)).toBe(costs.totals.count["in progress"]);
  });

  test("a rescued piece carries its own extra firing and no one else's", () => {
    const costs = new Map(marram.costs.pieces.map((piece) => [piece.id, piece]));
    const alone = Number(read("firings", "f7", "cost"));
    expect(costs.get("017")?.steps.refire?.cost).toBeCloseTo(alone, 9);
    expect([...costs.values()].filter((piece) => piece.steps.refire !== undefined).map(({ id }) => id)).toEqual([
      "017",
      "042",
    ]);
  });
});

describe("account names and the journal's references", () => {
  test("the maker's own stand in the books, the usual ones otherwise", () => {
    const named = applyChange(book, editMeta(book, { accounts: { energy: "6100 Power" } }, "names"));
    expect(accountTermsOf(named).energy.name).toBe("6100 Power");
    expect(accountTermsOf(named).metal.name).toBe("Precious metal");
  });

  test("reference as it was set, otherwise the title", () => {
    expect(journalReferenceOf(book)).toBe("Marram");
    const set = applyChange(book, editMeta(book, { journal: { date: "2026-10-31", reference: "OCT" } }, "head"));
    expect(journalReferenceOf(set)).toBe("OCT");
  });

  test("a day that is none is refused by name", () => {
    const bad = periodOf(book, read, { from: "2026-01-01", to: "25.11.2026", reference: "M" });
    expect(bad.ok ? "" : bad.problems[0]?.message).toContain("a day such as 2026-12-31");
  });
});

describe("what does not add up is refused, and where is said", () => {
  test("a cost written over by hand", () => {
    const entries = [{ cell: { sheet: "pieces", row: "p1", column: "glaze.cost" } as const, typed: "99" }];
    const { change } = writeEntries(book, entries, { label: "o", marks: { decimal: "." }, override: true });
    const over = applyChange(book, change);
    const result = settle(over, evaluate(over));
    const messages = result.ok ? [] : result.problems.map(({ message }) => message);
    expect(messages[0]).toContain("does not add up");
    expect(messages[0]).toContain("Pieces 001, Glaze: cost");
    expect(messages.some((message) => message.startsWith("Piece 001, own cost: found"))).toBe(true);
  });

  test("a cost with an error", () => {
    const bad = shortRun([["edition", "wage", "value", "=1/0"]]);
    const result = settle(bad, evaluate(bad));
    expect(result.ok ? "" : result.problems[0]?.message).toMatch(/divides/);
  });
});

/** Five pieces cast and bisque fired, one of them lost in that firing, one green; the rest passed. */
function shortRun(typed: readonly Typed[] = []): Workbook {
  let run = smallEdition(5);
  const all = run.sheets.pieces.rows.map((row) => row.id);
  run = afterTyping(
    run,
    all.flatMap((row): Typed[] => [["pieces", row, "cast.slip", "900"]]),
  );
  run = applyChange(run, loseAt(run, ["p1"], "fettle", "cracked"));
  run = afterTyping(
    run,
    all.slice(1).map((row): Typed => ["pieces", row, "bisque.firing", "F1"]),
  );
  run = applyChange(run, loseAt(run, ["p2"], "bisque", "dunted"));
  run = applyChange(run, passAs(run, ["p3", "p4"], "good"));
  run = applyChange(run, passAs(run, ["p5"], "second"));
  return typed.length === 0 ? run : afterTyping(run, typed);
}

describe("what the period bears besides losses", () => {
  const postings = (of: Settled, account: string) =>
    journalOf(of)
      .filter((line) => line.account === account)
      .map((line) => line.debitMinor - line.creditMinor);

  test("overhead that no hour carries, taken off the same account that the work is charged from", () => {
    // Hours of five casts and nothing else carry overhead: 0.5 h at 10 ÷ 2 h a normal run leaves 7.50 of 10.
    const plain = settled(shortRun());
    const hours = plain.costs.totals.overheadHours;
    const paid = settled(
      shortRun([
        ["edition", "overhead_paid", "value", "10"],
        ["edition", "normal_hours", "value", String(hours * 4)],
      ]),
    );
    expect(postings(paid, "Overhead not carried")).toEqual([750]);
    expect(postings(paid, "Overhead applied")).toEqual([-250, -750]);
    expect(postings(plain, "Overhead not carried")).toEqual([]);
  });

  test("what is left in the moulds, if it is charged; carried, it is told and not booked", () => {
    // 30 a mould that fetches 2 after 60 casts; five casts wear off 2.33 and leave 27.67, of which 25.67 beyond the 2.
    const terms: Typed[] = [["edition", "mould_salvage", "value", "2"]];
    const carried = settled(shortRun(terms));
    const charged = settled(shortRun([...terms, ["edition", "mould_rest", "value", "charged"]]));
    const leftInMoulds = ({ statement }: Settled) =>
      statement.find(({ label }) => label === "Left in the moulds")?.minor;
    expect([leftInMoulds(carried), leftInMoulds(charged)]).toEqual([2767, 2767]);
    expect(postings(carried, "Moulds charged")).toEqual([]);
    expect(postings(charged, "Moulds charged")).toEqual([2567]);
  });

  test("a firing with neither a piece nor a reading has not been fired, and costs nobody anything", () => {
    const run = shortRun();
    const value = (book: Workbook, id: string) => evaluate(book)("results", id, "value");
    expect(evaluate(run)("firings", "f2", "fired")).toBe("not yet");
    expect(evaluate(run)("firings", "f2", "cost")).toBe("");
    expect(value(run, "empty_kiln")).toBe(0);
    const read = afterTyping(run, [["firings", "f2", "meter", "12"]]);
    expect(evaluate(read)("firings", "f2", "fired")).toBe("empty");
    expect(value(read, "empty_kiln")).toBeGreaterThan(0);
    expect(postings(settled(read), "Firings with nothing in them")[0]).toBeGreaterThan(0);
  });
});

describe("scrap, seconds and other digits", () => {
  test("scrap of the fired piece lessens its loss and is booked apart", () => {
    const plain = settled(shortRun());
    const scrapped = settled(shortRun([["edition", "scrap_value", "value", "0.4"]]));
    expect(plain.ledger.scrap).toBe(0);
    expect(scrapped.ledger.scrap).toBe(40);
    expect(journalOf(scrapped).find((line) => line.account === "Scrap sold")?.debitMinor).toBe(40);
    expect(scrapped.ledger.putInTotal).toBe(plain.ledger.putInTotal);
    const losses = ({ costs }: Settled) => costs.totals.normal + costs.totals.abnormal;
    expect(losses(plain) - losses(scrapped)).toBeCloseTo(0.4, 9);
  });

  test("with only seconds left, what they cannot bear is a cost of the period and nothing vanishes", () => {
    let run = shortRun([["edition", "price_second", "value", "1"]]);
    run = applyChange(run, passAs(run, ["p3", "p4"], "second"));
    const sheet = evaluate(run);
    expect(Number(sheet("results", "unshared", "value"))).toBeGreaterThan(0);
    expect(Math.abs(Number(sheet("results", "settled_up", "value")))).toBeLessThan(1e-9);
    const { ledger } = settled(run);
    expect(ledger.unsharedNormal).toBeGreaterThan(0);
    expect(ledger.unsharedNormal / 100).toBeCloseTo(Number(sheet("results", "unshared", "value")), 1);
  });

  // ISO 4217: the yen has no minor unit, the Kuwaiti dinar a thousandth.
  test.each([
    ["JPY", 0],
    ["KWD", 3],
  ] as const)("%s is settled in its own digits", (currency, digits) => {
    const run = shortRun();
    const priced = applyChange(run, editMeta(run, { currency }, "currency"));
    const { ledger } = settled(priced);
    const journal = journalOf(settled(priced));
    expect(ledger.digits).toBe(digits);
    const put = Number(evaluate(priced)("results", "put_in", "value"));
    expect(ledger.putInTotal).toBe(Math.round(put * 10 ** digits));
    expect(journal.every((line) => Number.isInteger(line.debitMinor) && Number.isInteger(line.creditMinor))).toBe(true);
  });
});
