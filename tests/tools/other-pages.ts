// What the pages beside the sheets and the books say of figures that stand elsewhere too: what waits, the plan, papers, loads.
import { readCalendar } from "../../src/app/calendar/calendar";
import { figuresOf, riverOf } from "../../src/app/edition/figures";
import type { Session } from "../../src/app/edition/session";
import { readLoads } from "../../src/app/loads/loads";
import { benchSheet } from "../../src/app/paper/bench-sheet";
import { editionStatement } from "../../src/app/paper/edition-statement";
import { firingSheets } from "../../src/app/paper/firing-sheet";
import { pieceCards } from "../../src/app/paper/piece-card";
import type { PaperSource } from "../../src/app/paper/source";
import { waitingGroups } from "../../src/app/record/record";
import type { Settled } from "../../src/app/settle/settle";
import { WhatIfDesk } from "../../src/app/whatif/whatif-desk";
import { rowLabel } from "../../src/core/document/access";
import type { SheetKey } from "../../src/core/document/workbook";
import { must } from "../accounts/results";
import { answerHere } from "./worker-here";

/** Takes down what a page says of a figure: whole numbers, such as minor units; nothing where it does not say. */
export type Says = (figure: string, page: string, minor: number | undefined) => void;

const MILLIONTHS = 1e6;
const numberIn = (text: string) => Number(/[\d\u202f.,]+/.exec(text)?.[0].replace(/[\u202f,]/g, ""));

/** Pieces that wait for each step, by every page that tells of them. */
export function saysWhatWaits(session: Session, source: PaperSource, says: Says): void {
  const groups = new Map(waitingGroups(session).map(({ step, pieces }) => [step, pieces.length]));
  const bench = new Map(must(benchSheet(source)).map(({ step, pieces }) => [step, pieces.length]));
  const { waiting = [] } = readLoads(session, []) ?? {};
  const calendar = readCalendar(session);
  const ahead = calendar ? must(calendar).input.pieces.filter(({ id }) => !id.startsWith("to start")) : [];
  const river = new Map(
    riverOf(session, (step) => groups.get(step) ?? 0).map(({ step, waiting: count }) => [step, count]),
  );
  const { rows } = session.book.value.sheets.pieces;
  const unstarted = new Set(
    rows
      .filter((row) => session.value({ sheet: "pieces", row: row.id, column: "outcome" }) === "not started")
      .map((row) => rowLabel("pieces", row)),
  );
  for (const step of session.book.value.sheets.route.rows) {
    const figure = `waits for ${step.id}`;
    says(figure, "Record", groups.get(step.id) ?? 0);
    says(figure, "bench sheet", bench.get(step.id) ?? 0);
    says(figure, "river", river.get(step.id));
    const isNext = ({ id, ahead: steps, planned }: (typeof ahead)[number]) =>
      steps[0] === step.id && planned === undefined && !unstarted.has(id);
    const begun = waitingGroups(session).find((group) => group.step === step.id)?.pieces ?? [];
    const labels = rows.filter(({ id }) => begun.includes(id)).map((row) => rowLabel("pieces", row));
    const stillUnstarted = labels.filter((label) => unstarted.has(label)).length;
    says(figure, "Ready when", ahead.filter(isNext).length + stillUnstarted);
    if (step.cells.kind === "firing") says(figure, "Loads", waiting.filter((piece) => piece.step === step.id).length);
  }
}

/** The plan, on the Edition sheet, in the strip and wherever a what-if begins. */
export async function saysThePlan(session: Session, says: Says): Promise<void> {
  const line = (id: string) => Number(session.result(id, "edition"));
  const strip = new Map(figuresOf(session).map(({ id, text }) => [id, text]));
  says("starts", "Edition", line("starts"));
  // The strip shows what is of use as the edition stands.
  const inStrip = strip.get("starts");
  if (inStrip !== undefined) says("starts", "figures strip", numberIn(inStrip));
  const calendar = readCalendar(session);
  if (calendar && session.book.value.sheets.pieces.rows.length <= line("starts"))
    says("starts", "Ready when", session.book.value.sheets.pieces.rows.length + must(calendar).toStart);
  const breathe = () => new Promise<void>((resolve) => setImmediate(resolve));
  const desk = new WhatIfDesk(session, { startClient: (of) => answerHere(of.engineClient), breathe });
  const asked = async (question: "losses" | "cases" | "chance") => {
    desk.change({ question });
    await new Promise((resolve) => setTimeout(resolve));
    while (desk.state.value.kind === "working") await new Promise((resolve) => setTimeout(resolve, 1));
    const found = desk.answer.value;
    if (found?.kind !== question) throw new Error(`not answered: ${question}, ${JSON.stringify(desk.state.value)}`);
    return found;
  };
  desk.open();
  for (const question of ["losses", "cases"] as const) {
    const { results, today, tried } = await asked(question);
    for (const [at, { cell, title }] of results.entries()) {
      const figure = cell.row === "starts" ? "starts" : `plan: ${title}`;
      const scale = cell.row === "starts" ? 1 : MILLIONTHS;
      says(figure, "Edition", Math.round(Number(session.value(cell)) * scale));
      says(figure, `What if, ${question}`, Math.round((today[at] ?? Number.NaN) * scale));
      says(figure, `What if, ${question}, tried`, Math.round((tried[at] ?? Number.NaN) * scale));
    }
  }
  const found = await asked("chance");
  if (found.kind !== "chance") throw new Error("not answered");
  const { chance } = found;
  says("starts", "Chance", chance.starts);
  says("wanted", "Edition", line("wanted"));
  says("wanted", "Chance", chance.wanted);
  says("chance of delivering", "Edition", Math.round(line("starts_chance") * MILLIONTHS));
  says("chance of delivering", "Chance", Math.round((1 - chance.chance.short) * MILLIONTHS));
  const weighed = chance.weighed.find(({ starts }) => starts === chance.starts);
  if (weighed) says("chance of delivering", "Chance, weighed", Math.round(weighed.chance * MILLIONTHS));
  desk.close();
}

/** What single pieces cost, and what is in each firing, on sheets, in the books and on paper. */
export function saysPiecesAndFirings(session: Session, source: PaperSource, settled: Settled, says: Says): void {
  const { book } = source;
  const read = (sheet: SheetKey, row: string, column: string) => session.value({ sheet, row, column });
  const minor = (value: unknown) => (typeof value === "number" ? Math.round(value * 100) : undefined);
  const { ledger, inventory } = settled;
  const booked = [...ledger.good, ...ledger.seconds, ...ledger.inProgress];
  const cards = new Map(must(pieceCards(source, undefined, settled)).map(({ label, cost }) => [label, cost]));
  for (const row of book.sheets.pieces.rows) {
    const label = rowLabel("pieces", row);
    const figure = `piece ${label}`;
    const held = booked.find(({ piece }) => piece === label);
    if (!held) continue;
    says(figure, "Results", minor(read("pieces", row.id, "full")));
    says(figure, "ledger", held.minor);
    says(figure, "stock", inventory.lines.find(({ piece }) => piece === label)?.costMinor);
    says(figure, "card", cards.get(label)?.total);
  }
  const papers = new Map(must(firingSheets(source)).map((sheet) => [sheet.row, sheet]));
  const { unread = [] } = readLoads(session, []) ?? {};
  for (const { id } of book.sheets.firings.rows) {
    const count = Number(read("firings", id, "pieces"));
    says(`pieces in ${id}`, "Firings", count);
    says(`pieces in ${id}`, "firing sheet", papers.get(id)?.load.length);
    says(`pieces in ${id}`, "Loads", unread.find(({ row }) => row === id)?.pieces.length);
    says(`kg in ${id}`, "Firings", minor(read("firings", id, "load_kg")));
    says(`kg in ${id}`, "firing sheet", minor(papers.get(id)?.kg));
    // Shares of the pieces really in a firing are its cost.
    const shares = book.sheets.pieces.rows.flatMap((piece) =>
      book.sheets.route.rows
        .filter(
          (step) =>
            step.cells.kind === "firing" && read("pieces", piece.id, `${step.id}.load`) === read("firings", id, "id"),
        )
        .map((step) => Number(read("pieces", piece.id, `${step.id}.cost`) || 0)),
    );
    if (count > 0) {
      says(`cost of ${id}`, "Firings", minor(read("firings", id, "cost")));
      says(`cost of ${id}`, "Pieces", minor(shares.reduce((sum, share) => sum + share, 0)));
    }
  }
}

/** Counts and quantities: on Results, in the strip, on the printed statement and in its parts. */
export function saysQuantities(session: Session, source: PaperSource, settled: Settled, says: Says): void {
  const read = (sheet: SheetKey, row: string, column: string) => session.value({ sheet, row, column });
  const line = (id: string) => {
    const value = session.result(id);
    if (value === null) throw new Error(`no line of Results: ${id}`);
    return Number(value || 0);
  };
  const printed = must(editionStatement(source, settled));
  const counts = new Map(printed.counts.map(({ label, pieces }) => [label, pieces]));
  const lines = {
    Good: "good",
    Seconds: "seconds",
    "In progress": "in_progress",
    "Not started": "not_started",
    Lost: "lost",
  };
  for (const [label, id] of Object.entries(lines)) {
    says(`count, ${label}`, "Results", line(id));
    says(`count, ${label}`, "printed", counts.get(label) ?? 0);
  }
  says("count, all", "Results", line("started") + line("not_started"));
  says("count, all", "printed", printed.started);
  const strip = new Map(figuresOf(session).map(({ id, text }) => [id, text]));
  const quantity = (label: string) => numberIn(printed.quantities.find((fact) => fact.label === label)?.text ?? "0");
  const kwh = session.book.value.sheets.firings.rows.map((row) => Number(read("firings", row.id, "kwh") || 0));
  says("kWh", "Results", Math.round(line("kwh")));
  says("kWh", "Firings", Math.round(kwh.reduce((sum, one) => sum + one, 0)));
  const energy = strip.get("kwh");
  if (energy !== undefined) says("kWh", "figures strip", numberIn(energy));
  says("kWh", "printed", quantity("Kiln energy"));
  const metal = settled.statement.filter(({ fineGrams }) => fineGrams !== undefined);
  const grams = metal.reduce((sum, row) => sum + (row.grams ?? 0), 0);
  says("lustre", "Results", Math.round(line("lustre") * 100));
  says("lustre", "cost statement", Math.round(grams * 100));
  const lustre = strip.get("lustre");
  if (lustre !== undefined) says("lustre", "figures strip", Math.round(numberIn(lustre) * 100));
  says("lustre", "printed", Math.round(quantity("Lustre used") * 100));
  const price = (part: "contribution" | "full") =>
    session.book.value.sheets.pieces.rows
      .filter((row) => typeof read("pieces", row.id, "contribution") === "number")
      .reduce((sum, row) => sum + Number(read("pieces", row.id, part)), 0);
  says("finished pieces leave", "Results", Math.round(line("margin") * 100));
  says("finished pieces leave", "results panel", Math.round(price("contribution") * 100));
  says("finished pieces leave", "printed", printed.allTiers.leaves);
  says("finished pieces bring in", "results panel", Math.round((price("contribution") + price("full")) * 100));
  says("finished pieces bring in", "printed", printed.allTiers.bringsIn);
}
