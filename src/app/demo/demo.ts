// The invented edition “Marram”, half way through its run, built through the same edits as a maker's own.
import lustre from "../../../templates/lustre/template.json";
import { rowOf } from "../../core/document/access";
import { applyChange, type Change } from "../../core/document/change";
import { addRows, type CellEntry, editMeta, writeEntries } from "../../core/document/edits";
import { startEdition } from "../../core/document/start-edition";
import type { Template } from "../../core/document/template-schema";
import type { Row, SheetKey, Workbook } from "../../core/document/workbook";
import type { Result } from "../../core/problem";
import { type KeptPlan, keepPlan } from "../../core/record/kept-plan";
import { loseAt } from "../../core/record/piece-edits";
import { keepRecipe } from "../../core/record/recipes";
import { type Recording, record } from "../../core/record/record-edits";
import { giveDays, undatedOf } from "../../core/record/undated";
import { addStep } from "../../core/steps/step-edits";
import {
  CHANNELS,
  DEMO_FIRINGS,
  GLAZED,
  INPUTS,
  KILNS,
  LOSSES,
  LOST_BEFORE_GLAZE,
  LOST_LAST,
  LUSTRED,
  LUSTRED_TWICE,
  ODD_COATS,
  PACKED,
  REASONS,
  RECIPES,
  REFIRED,
  ROUTE,
  SECONDS,
  SPECIAL,
  type Span,
} from "./demo-data";
// What the sheets plan is calculated by the engine: it is kept ready, and held to it by a test.
import keptPlan from "./kept-plan.json";

// As it is: the checker that reads templates is not needed for one that the tests have read.
const STARTS = 141;
const NOTE =
  "An invented example: Marram, 120 slip-cast stoneware lanterns, 24 of them with a platinum-lustre band. Every name and number in it is made up.";

/** The demo edition: 141 lanterns started, most of them glazed and fired, some waiting, some packed, some lost. */
export function demoEdition(): Workbook {
  const demo = new Demo(plannedDemo());
  demo.run({ label: "Plan kept", operations: [keepPlan(demo.book, keptPlan as KeptPlan)] });
  demo.type("pieces", allPieces.flatMap(makingOf));
  for (const [piece, step, reason] of LOSSES) demo.run(loseAt(demo.book, [idOf(piece)], step, reason));
  demo.type("pieces", glazing(demo));
  fire(demo);
  demo.type("pieces", finishing(demo));
  passing(demo);
  demo.run(editMeta(demo.book, { reasons: REASONS }, "Reasons"));
  const channels = CHANNELS.map((cells, at): Row => ({ id: `c${at + 1}`, cells }));
  demo.run(addRows(demo.book, "channels", channels, "Channels"));
  for (const recipe of RECIPES) demo.run(must(keepRecipe(demo.book, recipe)));
  demo.run(giveDays(demo.book, undatedOf(demo.book, dayOfDemo)));
  return demo.book;
}

/** The demo as it was planned, before anything was made; its kept plan is what the sheets said then. */
export function plannedDemo(): Workbook {
  const answers = { title: "Marram", wanted: 120, currency: "EUR", firstPiece: "001", started: "2026-09-07" };
  const demo = new Demo(startEdition(lustre as unknown as Template, answers, STARTS));
  demo.run(editMeta(demo.book, { note: NOTE, invented: true }, "Mark as invented"));
  plan(demo);
  return demo.book;
}

/** The last days before the edition is opened were recorded at the bench, and stand in its run log. */
function passing(demo: Demo): void {
  const packed = among(PACKED, demo, "pack").filter((piece) => !SECONDS.includes(piece));
  const good = packed.filter((piece) => piece !== LOST_LAST);
  demo.record(good, { kind: "passed", grade: "good" }, "2026-11-23T15:20:00Z");
  demo.record(SECONDS, { kind: "passed", grade: "second" }, "2026-11-23T15:25:00Z");
  demo.record([LOST_LAST], { kind: "lost", step: "pack", reason: "chipped on the bench" }, "2026-11-24T10:05:00Z");
}

/** The invented bench is at Greenwich. */
const dayOfDemo = (at: string) => at.slice(0, 10);

type Typed = readonly [row: string, column: string, typed: string];

/** A workbook under way. Whatever is refused is a mistake in the data above. */
class Demo {
  book: Workbook;

  constructor(book: Workbook) {
    this.book = book;
  }

  run(change: Change): void {
    this.book = applyChange(this.book, change);
  }

  type(sheet: SheetKey, typed: readonly Typed[]): void {
    const entries = typed.map(([row, column, text]): CellEntry => ({ cell: { sheet, row, column }, typed: text }));
    const marks = { decimal: "." } as const;
    const { change, refused } = writeEntries(this.book, entries, { label: "Demo", marks, override: false });
    if (refused[0]) throw new Error(`the demo is refused: ${refused[0].message}`);
    this.run(change);
  }

  record(pieces: readonly number[], recording: Recording, at: string): void {
    this.book = must(record(this.book, pieces.map(idOf), recording, at));
  }

  /** Whether a piece was still there when a step was done. */
  reached(piece: number, step: string): boolean {
    const lostAt = rowOf(this.book, "pieces", idOf(piece))?.cells.lost_at;
    if (typeof lostAt !== "string") return true;
    const steps = this.book.sheets.route.rows.map((row) => row.id);
    return steps.indexOf(lostAt) >= steps.indexOf(step);
  }
}

function must<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(`the demo is refused: ${result.problems[0]?.message}`);
  return result.value;
}

const allPieces = Array.from({ length: STARTS }, (_, at) => at + 1);
const idOf = (piece: number) => `p${piece}`;

const isIn = (piece: number, spans: readonly Span[]) =>
  spans.some((span) => (typeof span === "number" ? piece === span : piece >= span[0] && piece <= span[1]));

/** The pieces of some spans that were still there when a step was done. */
function among(spans: readonly Span[], demo: Demo, step: string): number[] {
  return allPieces.filter((piece) => isIn(piece, spans) && demo.reached(piece, step));
}

function plan(demo: Demo): void {
  demo.type(
    "edition",
    Object.entries(INPUTS).map(([row, typed]): Typed => [row, "value", typed]),
  );
  demo.type("kilns", KILNS);
  demo.type("route", ROUTE);
  const cells = {
    kiln: "Large kiln",
    method: "cone 6, for pinholes and thin glaze",
    programme: "glaze, middle fire",
    who: "as needed",
    needed: 0.02,
  };
  demo.run(must(addStep(demo.book, { kind: "firing", title: "Refire", cells }, "glaze_firing")));
}

/** What casting, fettling and drying took of a piece: a little more or less each time. */
function makingOf(piece: number): Typed[] {
  const row = idOf(piece);
  const mould = "ABCD"[piece % 4] ?? "A";
  const slip = 1860 + ((piece * 37) % 11) * 8 + (mould === "D" ? 90 : 0);
  const made: Typed[] = [
    [row, "cast.slip", String(slip)],
    [row, "cast.mould", mould],
    [row, "tier", isIn(piece, SPECIAL) ? "special" : "standard"],
  ];
  if (mould === "D") made.push([row, "kg", "1.47"]);
  const lost = LOSSES.find(([number]) => number === piece)?.[1];
  if (lost === "cast") return made;
  made.push([row, "fettle.minutes", String(12 + ((piece * 7) % 6))]);
  if (lost !== "fettle") made.push([row, "dry.minutes", "1"]);
  return made;
}

function glazing(demo: Demo): Typed[] {
  return among([GLAZED], demo, "glaze")
    .filter((piece) => piece !== LOST_BEFORE_GLAZE)
    .map((piece): Typed => [idOf(piece), "glaze.coats", String(ODD_COATS[piece] ?? 3)]);
}

function fire(demo: Demo): void {
  DEMO_FIRINGS.forEach(({ name, date, programme, cells, load }, at) => {
    const row = `f${at + 1}`;
    const blank: Row = { id: row, cells: { basis: "count" } };
    demo.run(addRows(demo.book, "firings", [blank], name));
    const typed = {
      id: name,
      kiln: "Large kiln",
      date,
      programme,
      ...(name.startsWith("B") ? { ware: "raw" } : {}),
      ...cells,
    };
    demo.type(
      "firings",
      Object.entries(typed).map(([column, text]): Typed => [row, column, text]),
    );
    for (const [step, spans] of Object.entries(load)) {
      const isLustre = step.startsWith("low_firing");
      const pieces = among(spans, demo, step).filter((piece) => !isLustre || isIn(piece, SPECIAL));
      demo.type(
        "pieces",
        pieces.map((piece): Typed => [idOf(piece), `${step}.firing`, name]),
      );
    }
  });
}

/** Lustre, packing and the notes of the bench. */
function finishing(demo: Demo): Typed[] {
  const special = (spans: readonly Span[], step: string) =>
    among(spans, demo, step).filter((piece) => isIn(piece, SPECIAL));
  return [
    ...special(LUSTRED, "lustre").map((piece): Typed => [idOf(piece), "lustre.coats", "1"]),
    ...special(LUSTRED_TWICE, "lustre_2").map((piece): Typed => [idOf(piece), "lustre_2.coats", "1"]),
    ...among(PACKED, demo, "pack").map((piece): Typed => [idOf(piece), "pack.minutes", String(7 + (piece % 3))]),
    ...REFIRED.map(([piece, note]): Typed => [idOf(piece), "note", note]),
  ];
}
