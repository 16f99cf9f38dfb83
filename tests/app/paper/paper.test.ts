// What stands on paper: every waiting piece once, every load as it was, money that adds up to the last cent.

import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { dayText } from "../../../src/app/edition/written-days";
import { type BenchStep, benchSheet, TO_BE_PASSED } from "../../../src/app/paper/bench-sheet";
import { namedRows, usualPaper } from "../../../src/app/paper/choice";
import { editionStatement } from "../../../src/app/paper/edition-statement";
import { cautionsOfFiring } from "../../../src/app/paper/firing-cautions";
import { firingSheets } from "../../../src/app/paper/firing-sheet";
import { type PieceCard, pieceCards } from "../../../src/app/paper/piece-card";
import { rampLines } from "../../../src/app/paper/programme";
import { minutesText, type PaperSource, rateText, temperatureText } from "../../../src/app/paper/source";
import { settle } from "../../../src/app/settle/settle";
import { rowLabel, rowOf } from "../../../src/core/document/access";
import { applyChange } from "../../../src/core/document/change";
import { editMeta } from "../../../src/core/document/edits";
import type { Row, Workbook } from "../../../src/core/document/workbook";
import type { Result } from "../../../src/core/problem";
import { loseAt } from "../../../src/core/record/piece-edits";
import { enteredColumn, isStepKind, STEP_KIND_RULES } from "../../../src/core/sheets/step-kinds";
import { evaluate } from "../../tools/evaluate";
import { passAs } from "../../tools/piece-changes";
import { afterTyping, smallEdition, type Typed } from "../../tools/small-edition";

const sourceOf = (book: Workbook): PaperSource => ({ book, read: evaluate(book), locale: "en-GB" });

function must<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.problems[0]?.message);
  return result.value;
}

const marram = demoEdition();
const source = sourceOf(marram);
const books = must(settle(marram, source.read));

const textOf = (facts: readonly { readonly label: string; readonly text: string }[], label: string) =>
  facts.find((fact) => fact.label === label)?.text.replace(/[\u00a0\u202f]/g, " ");
const labelsOf = (steps: readonly BenchStep[]) => steps.flatMap(({ pieces }) => pieces.map(({ label }) => label));

/** What a piece waits for, from its entries alone: no computed value is asked. */
function waitsFor(book: Workbook, row: Row): string | undefined {
  const { lost_at: lost, grade, tier } = row.cells;
  if (lost !== undefined || grade !== undefined) return undefined;
  const steps = book.sheets.route.rows;
  let next = 0;
  steps.forEach((step, at) => {
    const { kind } = step.cells;
    if (isStepKind(kind) && row.cells[`${step.id}.${enteredColumn(STEP_KIND_RULES[kind])}`] !== undefined)
      next = at + 1;
  });
  const mine = steps.slice(next).find(({ cells: { who } }) => {
    if (who === "special") return tier === "special";
    return who !== "as needed";
  });
  return mine?.id ?? TO_BE_PASSED;
}

describe("the bench sheet", () => {
  test("has every waiting piece exactly once, under the step it waits for", () => {
    const steps = must(benchSheet(source));
    const found = steps.flatMap(({ step, pieces }) => pieces.map(({ row }) => `${row} ${step}`)).sort();
    const expected = marram.sheets.pieces.rows
      .flatMap((row) => waitsFor(marram, row) ?? [])
      .map((step, at) => `${open(marram)[at]?.id} ${step}`);
    expect(found).toEqual(expected.sort());
    expect(found.length).toBe(Number(source.read("results", "in_progress", "value")));
  });

  const open = (book: Workbook) => book.sheets.pieces.rows.filter((row) => waitsFor(book, row) !== undefined);

  test("follows the route, and no step without a piece is on it", () => {
    const steps = must(benchSheet(source));
    const route = marram.sheets.route.rows.map(({ id }) => id);
    const places = steps.map(({ step }) => route.indexOf(step));
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(steps.every(({ pieces }) => pieces.length > 0)).toBe(true);
  });

  test("says of a step what the Route says, for one piece and for all that wait", () => {
    // Area 500 cm² × 2 coats × 0.02 g/cm² ÷ transfer 0.5 = 40 g a piece; 2 min × 2 coats × 4 pieces = 16 min.
    let book = smallEdition(5);
    const all = book.sheets.pieces.rows.map(({ id }) => id);
    book = afterTyping(
      book,
      all.slice(0, 4).flatMap((row): Typed[] => [
        ["pieces", row, "cast.slip", "900"],
        ["pieces", row, "fettle.minutes", "10"],
        ["pieces", row, "bisque.firing", "F1"],
      ]),
    );
    book = afterTyping(book, [
      ["route", "glaze", "rest", "1.5"],
      ["pieces", "p2", "note", "thin at the rim"],
    ]);
    const [cast, glaze] = must(benchSheet(sourceOf(book)));
    expect(cast?.title).toBe("Cast");
    expect(textOf(cast?.facts ?? [], "Slip kept")).toBe("900 g a piece, 900 g for these 1");
    expect(glaze?.title).toBe("Glaze");
    expect(textOf(glaze?.facts ?? [], "Uses")).toBe("40 g a piece, 160 g for these 4");
    expect(textOf(glaze?.facts ?? [], "Time")).toBe("2 min a coat, 16 min for these 4");
    expect(textOf(glaze?.facts ?? [], "Coats")).toBe("2");
    expect(textOf(glaze?.facts ?? [], "Then rests")).toBe("1.5 days before the next step");
    expect(glaze?.pieces[1]).toEqual({ row: "p2", label: "02", tier: "standard", note: "thin at the rim" });
    expect(glaze?.cautions.map(({ id }) => id)).toEqual(["silica", "food"]);
  });

  test("says how many loads wait for a kiln", () => {
    const firing = must(benchSheet(source)).find(({ step }) => step === "glaze_firing");
    expect(textOf(firing?.facts ?? [], "Room")).toBe(`48 pieces a load: these ${firing?.pieces.length} are 1 load`);
    expect(textOf(firing?.facts ?? [], "Programme")).toMatch(/^glaze, middle fire, to 1\s229\s°C · 2\s243\s°F$/);
  });

  test("a piece that has had every step waits to be passed", () => {
    const run = afterTyping(smallEdition(2), [
      ["pieces", "p1", "band.coats", "1"],
      ["pieces", "p2", "cast.slip", "900"],
    ]);
    const steps = must(benchSheet(sourceOf(run)));
    expect(steps.map(({ step, pieces }) => `${step} ${pieces.length}`)).toEqual(["fettle 1", `${TO_BE_PASSED} 1`]);
    const passed = applyChange(run, passAs(run, ["p1"], "second"));
    expect(labelsOf(must(benchSheet(sourceOf(passed))))).toEqual(["02"]);
  });

  test("costs with errors leave no piece out and send none back", () => {
    const run = afterTyping(smallEdition(3), [["pieces", "p1", "cast.slip", "900"]]);
    const bad = afterTyping(run, [["edition", "wage", "value", "=1/0"]]);
    const steps = must(benchSheet(sourceOf(bad)));
    expect(steps.map(({ step, pieces }) => `${step} ${pieces.length}`)).toEqual(["cast 2", "fettle 1"]);
  });

  test("pieces are chosen by number, and a number that is none is named", () => {
    const chosen = must(namedRows(marram, "pieces", "129-131, 141"));
    expect(labelsOf(must(benchSheet(source, chosen)))).toEqual(["129", "131", "141"]);
    expect(must(namedRows(marram, "pieces", " "))).toBeUndefined();
    const none = namedRows(marram, "pieces", "12, 999");
    expect(none.ok ? "" : none.problems[0]?.message).toContain("found “999”");
  });

  test("while a value is still being computed there is no sheet, rather than half of one", () => {
    const early = benchSheet({ ...source, read: () => undefined });
    expect(early.ok ? "" : early.problems[0]?.code).toBe("paper.waiting");
  });
});

describe("the firing sheet", () => {
  test("has the pieces that were really in the load, each once", () => {
    const order = new Map(marram.sheets.route.rows.map(({ id }, at) => [id, at]));
    for (const firing of must(firingSheets(source))) {
      const expected = marram.sheets.route.rows.flatMap((step) =>
        marram.sheets.pieces.rows
          .filter((row) => row.cells[`${step.id}.firing`] === firing.name)
          .filter((row) => (order.get(String(row.cells.lost_at)) ?? 99) >= (order.get(step.id) ?? 0))
          .map((row) => `${rowLabel("pieces", row)} ${step.id}`),
      );
      expect(firing.load.map(({ label, step }) => `${label} ${step}`)).toEqual(expected);
      expect(firing.load.length).toBe(source.read("firings", firing.row, "pieces"));
      expect(firing.kg).toBeCloseTo(Number(source.read("firings", firing.row, "load_kg")), 9);
      expect(firing.footCm2).toBeCloseTo(Number(source.read("firings", firing.row, "load_cm2")), 9);
    }
  });

  test("lustre is minded where it burns off, whatever the firing is called", () => {
    const firings = must(firingSheets(source));
    const ids = (name: string) => firings.find((one) => one.name === name)?.cautions.map(({ id }) => id);
    expect(ids("L9")).toEqual(["lustre", "kiln", "fumes"]);
    expect(ids("B1")).toEqual(["kiln", "fumes"]);
    const renamed = afterTyping(marram, [
      ["route", "low_firing", "title", "Third"],
      ["route", "low_firing", "method", "gentle"],
    ]);
    const l9 = must(firingSheets({ ...source, book: renamed })).find(({ name }) => name === "L9");
    expect(l9?.cautions[0]?.id).toBe("lustre");
    const row = rowOf(marram, "firings", "f9");
    expect(row && cautionsOfFiring(source, row).map(({ id }) => id)).toEqual(["lustre", "kiln", "fumes"]);
  });

  test("a load that does not fit is said, and an empty one is a sheet too", () => {
    const tall = afterTyping(smallEdition(2), [
      ["edition", "piece_height", "value", "40"],
      ["kilns", "k1", "height", "32"],
      ["pieces", "p1", "bisque.firing", "F2"],
    ]);
    const [f1, f2] = must(firingSheets(sourceOf(tall)));
    expect(f2?.warning).toBe("a piece is taller than the chamber");
    expect(f1?.load).toEqual([]);
    expect(f1?.cautions.map(({ id }) => id)).toEqual(["kiln", "fumes"]);
    expect(textOf(f1?.facts ?? [], "Pieces")).toBe("0 of 40");
    // 12 kW × 10 h × 60 %.
    expect(textOf(f1?.facts ?? [], "Expected")).toBe("72 kWh, 10 h by rated power × hours × duty");
  });

  test("what was read off the meter stands on its line, the others are blank", () => {
    const run = afterTyping(smallEdition(1), [
      ["firings", "f1", "meter_before", "1204.5"],
      ["firings", "f1", "meter_after", "1290"],
    ]);
    const [f1] = must(firingSheets(sourceOf(run)));
    expect(f1?.readings.slice(0, 3).map(({ text }) => text)).toEqual(["1\u202f204.5", "1\u202f290", "85.5"]);
    expect(f1?.readings.slice(3).every(({ text }) => text === "")).toBe(true);
    expect(textOf(f1?.facts ?? [], "Expected")).toBeUndefined();
  });

  test("ramps in order and in both scales", () => {
    const book = smallEdition(1);
    const ramps = rampLines(sourceOf(book), "slow");
    expect(ramps.map(({ ramp }) => ramp)).toEqual(["1", "2"]);
    // 600 °C × 1.8 + 32 = 1112 °F; a rate has no offset: 80 × 1.8 = 144.
    expect(ramps[0]?.to).toBe("600\u00a0°C · 1\u202f112\u00a0°F");
    expect(ramps[0]?.rate).toBe("80\u00a0°C/h · 144\u00a0°F/h");
    expect(ramps[1]?.cone).toBe("06");
    expect(rampLines(sourceOf(book), "")).toEqual([]);
    const fahrenheit = applyChange(book, editMeta(book, { temperature: "F" }, "F"));
    expect(temperatureText({ book: fahrenheit, locale: "en" }, 100)).toBe("212\u00a0°F · 100\u00a0°C");
    expect(rateText({ book: fahrenheit, locale: "en" }, 100)).toBe("180\u00a0°F/h · 100\u00a0°C/h");
  });

  test("firings are chosen by number too", () => {
    const chosen = must(namedRows(marram, "firings", "G4, 10-"));
    expect(must(firingSheets(source, chosen)).map(({ name }) => name)).toEqual(["G4", "L10", "L11"]);
    const none = namedRows(marram, "firings", "Q77");
    expect(none.ok ? "" : none.problems[0]?.message).toContain("firings that are on the sheet");
  });
});

describe("the piece card", () => {
  const cardsWith = () => must(pieceCards(source, undefined, books));
  const sumOf = (card: PieceCard) =>
    card.steps.reduce((sum, step) => sum + (step.minor ?? 0), 0) + (card.cost?.lossShare ?? 0);

  test("what a piece cost is what the books say, and its parts add up to it", () => {
    const { ledger } = books;
    const known = new Map([...ledger.good, ...ledger.seconds, ...ledger.inProgress].map((one) => [one.piece, one]));
    for (const card of cardsWith()) {
      expect(sumOf(card), card.label).toBe(card.cost?.total);
      const lost = rowOf(marram, "pieces", card.row)?.cells.lost_at !== undefined;
      const own = Number(source.read("pieces", card.row, "own")) * 100;
      if (lost) expect(Math.abs((card.cost?.total ?? 0) - own), card.label).toBeLessThan(0.501);
      else expect(card.cost?.total, card.label).toBe(known.get(card.label)?.minor);
    }
  });

  test("notes go with the costs", () => {
    expect(cardsWith().find(({ label }) => label === "017")?.note).toBe("pinholes on the shoulder; clean after G7");
  });

  test("all cards of finished pieces together are the finished pieces of the books", () => {
    const finished = cardsWith().filter(({ facts }) => ["good", "second"].includes(textOf(facts, "Is") ?? ""));
    const sum = finished.reduce((total, card) => total + (card.cost?.total ?? 0), 0);
    expect(sum).toBe(books.ledger.goodTotal + books.ledger.secondsTotal);
  });

  test("without the switch no amount is on it", () => {
    for (const card of must(pieceCards(source))) {
      expect(card.cost).toBeUndefined();
      expect(card.steps.every((step) => step.minor === undefined)).toBe(true);
      expect(JSON.stringify(card)).not.toMatch(/€|EUR/);
      expect(card.note).toBe("");
    }
  });

  test("only what a piece has had is on it, nothing after it was lost", () => {
    const [first] = must(pieceCards(source, must(namedRows(marram, "pieces", "17"))));
    expect(first?.steps.map(({ step }) => step)).toContain("refire");
    expect(first?.steps.find(({ step }) => step === "refire")?.what).toMatch(/^G7, 29 Oct 2026, glaze, middle fire, /);
    const [lost] = must(pieceCards(source, must(namedRows(marram, "pieces", "38"))));
    expect(lost?.steps.map(({ step }) => step)).toEqual(["cast"]);
    expect(textOf(lost?.facts ?? [], "Lost at")).toBe("Cast: tore leaving the mould");
    const [fresh] = must(pieceCards(sourceOf(smallEdition(1))));
    expect(fresh?.steps).toEqual([]);
    expect(textOf(fresh?.facts ?? [], "Waits for")).toBe("Cast");
  });
});

describe("the edition statement", () => {
  const made = () => must(editionStatement(source, books));

  test("pieces add up, tiers add up, and cost is the books' to the cent", () => {
    const { counts, started, tiers, allTiers } = made();
    expect(counts.reduce((sum, { pieces }) => sum + pieces, 0)).toBe(started);
    expect(allTiers.cost).toBe(books.ledger.goodTotal + books.ledger.secondsTotal);
    for (const line of [...tiers, allTiers]) expect(line.bringsIn - line.cost).toBe(line.leaves);
    for (const column of ["pieces", "bringsIn", "cost", "leaves"] as const)
      expect(tiers.reduce((sum, line) => sum + line[column], 0)).toBe(allTiers[column]);
  });

  test("what a tier brings in is price without tax, fees and packing", () => {
    const input = (id: string) => Number(source.read("edition", id, "value"));
    for (const { tier, pieces, bringsIn } of made().tiers) {
      const price = input(`price_${tier}`);
      const each = price / (1 + input("tax_rate")) - price * input("fee_rate") - input("fee_fixed") - input("packing");
      expect(Math.abs(bringsIn - each * pieces * 100)).toBeLessThan(0.501);
    }
  });

  test("losses by step add up to what the journal calls normal and abnormal", () => {
    const { losses, allLosses } = made();
    const sum = (column: "lost" | "normal" | "abnormal" | "together") =>
      losses.reduce((total, line) => total + line[column], 0);
    for (const column of ["lost", "normal", "abnormal", "together"] as const)
      expect(sum(column)).toBe(allLosses[column]);
    expect(allLosses.abnormal).toBe(books.ledger.abnormal);
    expect(allLosses.normal).toBe(books.ledger.normalInPieces + books.ledger.unsharedNormal);
    expect(allLosses.lost).toBe(source.read("results", "lost", "value"));
  });

  test("an odd cent of abnormal loss falls where the ledger put it", () => {
    // As if every step's loss were half abnormal: more of an odd cent than the demo, which has no abnormal loss.
    const steps = books.costs.steps.map((step) => ({ ...step, normal: step.normal / 2, abnormal: step.normal / 2 }));
    const whole = Math.round(steps.reduce((sum, step) => sum + step.abnormal, 0) * 100);
    for (const odd of [-1, 1]) {
      const abnormal = whole + odd;
      const costs = { ...books.costs, steps };
      const { losses } = must(editionStatement(source, { ...books, costs, ledger: { ...books.ledger, abnormal } }));
      expect(losses.reduce((sum, line) => sum + line.abnormal, 0)).toBe(abnormal);
    }
  });

  test("everything put in is what became of it, and whether it paid follows", () => {
    const { statement, pays } = made();
    const total = statement.find(({ label }) => label === "Everything put in")?.minor ?? 0;
    const parts = statement.filter(({ kind }) => kind === "part");
    expect(parts.reduce((sum, { minor }) => sum + minor, 0)).toBe(total);
    // Nothing is sold in the demo: what the stock may bring stands below what was made so far, never in it.
    let running = 0;
    const totals: number[] = [];
    for (const { kind, minor } of pays)
      if (kind === "total") {
        expect(minor).toBe(running);
        totals.push(minor);
      } else running += kind === "deduction" ? -minor : minor;
    expect(pays[0]).toMatchObject({ label: "Sales leave: nothing is sold yet", minor: 0 });
    // Each amount is rounded by itself, so the last digit may differ from the sheet's.
    const shown = ["earned", "pays"].map((id) => Number(source.read("results", id, "value")) * 100);
    expect(totals.length).toBe(2);
    for (const [at, minor] of totals.entries()) expect(Math.abs(minor - (shown[at] ?? 0))).toBeLessThan(5);
  });

  // ISO 4217: the yen has no minor unit, the Kuwaiti dinar a thousandth.
  test.each([
    ["JPY", 0],
    ["KWD", 3],
  ] as const)("adds up in %s", (currency, digits) => {
    let run = smallEdition(7);
    const all = run.sheets.pieces.rows.map(({ id }) => id);
    run = applyChange(run, editMeta(run, { currency }, "currency"));
    run = afterTyping(
      run,
      all.flatMap((row, at): Typed[] => [
        ["pieces", row, "cast.slip", String(871 + at * 13)],
        ["pieces", row, "fettle.minutes", String(7 + at)],
        ["pieces", row, "bisque.firing", "F1"],
      ]),
    );
    run = applyChange(run, loseAt(run, ["p1", "p2"], "bisque", "dunted"));
    run = applyChange(run, passAs(run, ["p3", "p4", "p5"], "good"));
    const read = evaluate(run);
    const settled = must(settle(run, read));
    const statement = must(editionStatement({ book: run, read, locale: "en-GB" }, settled));
    expect(statement.digits).toBe(digits);
    expect(statement.allTiers.cost).toBe(settled.ledger.goodTotal + settled.ledger.secondsTotal);
    expect(statement.allLosses.abnormal).toBe(settled.ledger.abnormal);
    for (const card of must(pieceCards({ book: run, read, locale: "en-GB" }, undefined, settled)))
      expect(sumOfCard(card)).toBe(card.cost?.total);
  });

  const sumOfCard = (card: PieceCard) =>
    card.steps.reduce((sum, step) => sum + (step.minor ?? 0), 0) + (card.cost?.lossShare ?? 0);
});

describe("ten thousand pieces", () => {
  // Values as the sheets give them for pieces that were cast, every second one fettled, every fourth fired.
  const book = smallEdition(10_000);
  const at = (row: string) => Number(row.slice(1));
  const had = (row: string, step: string) =>
    step === "cast" || (step === "fettle" && at(row) % 2 === 0) || (step === "bisque" && at(row) % 4 === 0);
  const large: PaperSource = {
    book,
    locale: "en-GB",
    read: (sheet, row, column) => {
      if (sheet !== "pieces") return null;
      const [step = "", what] = column.split(".");
      if (column === "outcome") return "in progress";
      if (what === "cost") return had(row, step) ? 1 : "";
      if (what === "load") return step === "bisque" && had(row, step) ? "F1" : "";
      return null;
    },
  };

  test("are all on the bench sheet, once", () => {
    const steps = must(benchSheet(large));
    const counts = steps.map(({ step, pieces }) => `${step} ${pieces.length}`);
    expect(counts).toEqual(["fettle 5000", "bisque 2500", "glaze 2500"]);
    expect(new Set(labelsOf(steps)).size).toBe(10_000);
  });

  test("are all in their load and have a card", () => {
    const [f1, f2] = must(firingSheets(large));
    expect(f1?.load.length).toBe(2500);
    expect(f2?.load.length).toBe(0);
    const cards = must(pieceCards(large));
    expect(cards.length).toBe(10_000);
    expect(cards[3]?.steps.map(({ step }) => step)).toEqual(["cast", "fettle", "bisque"]);
  });
});

describe("how things are written", () => {
  test("days, times", () => {
    // Day 46351 after 30 December 1899 is 25 November 2026.
    expect(dayText(46_351, "en-GB")).toBe("25 Nov 2026");
    expect(dayText("2026-11-25", "en-GB")).toBe("25 Nov 2026");
    expect(dayText("", "en-GB")).toBe("");
    expect(dayText(undefined, "en-GB")).toBe("");
    expect(minutesText(59.4)).toBe("59\u00a0min");
    expect(minutesText(125)).toBe("2\u00a0h 05\u00a0min");
  });

  // Unicode CLDR, supplemental measurement data: paper size US-Letter for these, A4 for the rest of the world (from memory).
  test.each([
    ["en-US", "Letter"],
    ["fr-CA", "Letter"],
    ["es-MX", "Letter"],
    ["en-GB", "A4"],
    ["de", "A4"],
    ["ja-JP", "A4"],
    ["", "A4"],
  ])("the paper of %s is %s", (locale, size) => {
    expect(usualPaper(locale).size).toBe(size);
  });
});
