// The bench sheet: every piece that waits, under the step it waits for, with what the Route says of that step.

import { counted } from "../../core/counted";
import { rowLabel } from "../../core/document/access";
import type { Row } from "../../core/document/workbook";
import { ok, type Result } from "../../core/problem";
import type { Caution } from "../../core/sheets/caution-texts";
import { cautionsOfStep } from "../../core/sheets/cautions";
import type { TimeRule } from "../../core/sheets/kinds/kind";
import { amountOf, isFiringStep, rulesOf } from "../../core/sheets/step-kinds";
import { showNumber } from "../edition/format";
import { nextStep } from "../edition/view";
import { othersIn } from "./others-in-it";
import { programmePeak } from "./programme";
import {
  type Fact,
  factsOf,
  minutesText,
  numberIn,
  type PaperSource,
  stillComputing,
  temperatureText,
  textIn,
  withUnit,
} from "./source";

export interface BenchPiece {
  readonly row: string;
  readonly label: string;
  readonly tier: string;
  /** What was noted of the piece before. */
  readonly note: string;
}

export interface BenchStep {
  /** Row id of the step; `TO_BE_PASSED` for pieces that have had every step. */
  readonly step: string;
  readonly title: string;
  /** The heading under which it is written what a piece had; undefined where pieces are to be passed. */
  readonly entry: string | undefined;
  readonly facts: readonly Fact[];
  readonly cautions: readonly Caution[];
  readonly pieces: readonly BenchPiece[];
}

/** Stands for a step where a piece has had them all and is not passed yet. */
export const TO_BE_PASSED = "-";

const SETTLED_OUTCOMES: readonly unknown[] = ["good", "second", "lost"];

/** The steps that some pieces, or all, wait for, in route order; each waiting piece once. */
export function benchSheet(source: PaperSource, chosen?: ReadonlySet<string>): Result<readonly BenchStep[]> {
  const { book, read } = source;
  const waiting = new Map<string, BenchPiece[]>();
  for (const row of book.sheets.pieces.rows) {
    const outcome = read("pieces", row.id, "outcome");
    if (outcome === undefined) return stillComputing(`Piece ${rowLabel("pieces", row)}`);
    if (SETTLED_OUTCOMES.includes(outcome) || chosen?.has(row.id) === false) continue;
    const step = nextStep(book, row, (piece, column) => read("pieces", piece.id, column)) ?? TO_BE_PASSED;
    const held = waiting.get(step);
    if (held) held.push(benchPiece(row));
    else waiting.set(step, [benchPiece(row)]);
  }
  const steps = book.sheets.route.rows.flatMap((row) => {
    const pieces = waiting.get(row.id);
    return pieces ? [benchStep(source, row, pieces)] : [];
  });
  const done = waiting.get(TO_BE_PASSED);
  return ok(done ? [...steps, toBePassed(done)] : steps);
}

function benchPiece(row: Row): BenchPiece {
  return { row: row.id, label: rowLabel("pieces", row), tier: textIn(row, "tier"), note: textIn(row, "note") };
}

function toBePassed(pieces: readonly BenchPiece[]): BenchStep {
  const facts = [{ label: "What is left", text: "look each over and pass it as good or as a second" }];
  return { step: TO_BE_PASSED, title: "Had every step", entry: undefined, facts, cautions: [], pieces };
}

function benchStep(source: PaperSource, row: Row, pieces: readonly BenchPiece[]): BenchStep {
  const rules = rulesOf(row);
  return {
    step: row.id,
    title: rowLabel("route", row),
    entry: rules && (amountOf(rules)?.onPaper ?? "firing"),
    facts: stepFacts(source, row, pieces.length),
    cautions: cautionsOfStep(source.book.sheets.route.rows, row),
    pieces,
  };
}

/** What the Route says of a step, for one piece and for all that wait. */
function stepFacts(source: PaperSource, row: Row, count: number): readonly Fact[] {
  const rules = rulesOf(row);
  const area = numberIn(source, "route", row.id, "area");
  const rest = numberIn(source, "route", row.id, "rest");
  const amount = rules && typeof rules.time === "object" ? amountOf(rules) : undefined;
  const usual = amount && numberIn(source, "route", row.id, amount.usual);
  return factsOf([
    ["How", textIn(row, "method")],
    ["Material", textIn(row, "material")],
    [amount?.title ?? "", usual === undefined ? undefined : String(usual)],
    ["Area", rules?.ownOfPiece.includes("area") && area !== undefined ? withUnit(source, area, "cm²") : undefined],
    [rules?.material?.title ?? "", rules?.material && materialText(source, row, rules.material.decimals, count)],
    ["Time", timeText(source, row, rules?.time, usual, count)],
    [
      "Then rests",
      rest ? `${counted(rest, "day", "days", showNumber(rest, 0, 2, source.locale))} before the next step` : undefined,
    ],
    ...(isFiringStep(row) ? firingFacts(source, row, count) : []),
  ]);
}

function materialText(source: PaperSource, row: Row, digits: number, count: number): string | undefined {
  const each = numberIn(source, "route", row.id, "grams_each");
  if (each === undefined || each === 0) return undefined;
  return `${withUnit(source, each, "g", digits)} a piece, ${withUnit(source, each * count, "g", digits)} for these ${count}`;
}

/** Minutes of the Route, once a piece or once for each one of its usual amount. */
function timeText(
  source: PaperSource,
  row: Row,
  time: TimeRule | undefined,
  usual: number | undefined,
  count: number,
): string | undefined {
  const minutes = numberIn(source, "route", row.id, "minutes");
  if (minutes === undefined || minutes === 0 || time === undefined) return undefined;
  const each = withUnit(source, minutes, "min");
  const times = typeof time === "object" ? (usual ?? 1) : 1;
  return `${each} a ${typeof time === "object" ? time.each : "piece"}, ${minutesText(minutes * times * count)} for these ${count}`;
}

function firingFacts(
  source: PaperSource,
  row: Row,
  count: number,
): readonly (readonly [label: string, text: string | undefined])[] {
  const room = numberIn(source, "route", row.id, "room");
  const peak = programmePeak(source, textIn(row, "programme"));
  const loads = room ? Math.ceil(count / room) : 0;
  const ahead = source.book.sheets.firings.rows.filter(
    ({ id, cells }) =>
      cells.kiln === row.cells.kiln &&
      cells.programme === row.cells.programme &&
      numberIn(source, "firings", id, "meter") === undefined,
  );
  const others = ahead.flatMap((firing) =>
    othersIn(source, firing).map(({ words }) => `${rowLabel("firings", firing)} holds ${words}`),
  );
  return [
    ["Kiln", textIn(row, "kiln")],
    ["Programme", [textIn(row, "programme"), peak && temperatureText(source, peak)].filter(Boolean).join(", to ")],
    ["Room", room ? `${counted(room, "piece")} a load: these ${count} are ${counted(loads, "load")}` : undefined],
    ["Also in the kiln", others.join("; ")],
  ];
}
