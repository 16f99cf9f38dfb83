// The page on work in progress: pieces by stage with what they cost, still take and will fetch, what stock is written down and
// why, and what process costing would say beside it.
import type { InventoryLine } from "../../accounts/inventory";
import { type PieceStage, type ProcessReport, processReports } from "../../accounts/stages";
import type { ToFinish } from "../../accounts/to-finish";
import { counted, listed } from "../../core/counted";
import { rowLabel, rowOf } from "../../core/document/access";
import type { Workbook } from "../../core/document/workbook";
import { roundMoney } from "../../core/money";
import type { Problem } from "../../core/problem";
import { stepsToCome, stepTitle } from "../../core/steps/piece-steps";
import type { ReadCell } from "./cell-reader";
import { plannedStepsOf } from "./planned-steps";
import type { Settled } from "./settle";

/** A piece in stock or in progress with the row that it stands in. */
export interface ValuedPiece extends InventoryLine {
  readonly row: string;
  /** What the maker wrote down by hand was written down on this day; ISO 8601. */
  readonly day: string | undefined;
  readonly stage: PieceStage | undefined;
}

/** Pieces of one tier that have reached the same step. */
export interface StageGroup {
  readonly key: string;
  /** Route row of the step, and its title. */
  readonly step: string;
  readonly title: string;
  readonly isSpecial: boolean;
  readonly pieces: readonly ValuedPiece[];
  /** What one of them still takes. */
  readonly toFinish: ToFinish;
  /** The step that comes next for most of them; undefined where they wait to be passed. */
  readonly next: string | undefined;
}

export interface WorkInProgress {
  readonly stages: readonly StageGroup[];
  /** Everything in stock or in progress that is carried below cost. */
  readonly writtenDown: readonly ValuedPiece[];
  /** What is not in these amounts, in words. */
  readonly notes: readonly string[];
  readonly processes: readonly ProcessReport[];
  /** Why a tier can't be shown by process costing. */
  readonly refused: readonly Problem[];
}

/** Everything on the page, from the settled edition. */
export function workInProgress(book: Workbook, read: ReadCell, settled: Settled): WorkInProgress {
  const rows = new Map(book.sheets.pieces.rows.map((row) => [rowLabel("pieces", row), row]));
  const stageOf = new Map(settled.stages.map((stage) => [stage.piece, stage]));
  const valued = settled.inventory.lines.map((line): ValuedPiece => {
    const row = rows.get(line.piece);
    const day = row?.cells.down_on;
    return {
      ...line,
      row: row?.id ?? "",
      day: line.byHandMinor > 0 && typeof day === "string" ? day : undefined,
      stage: stageOf.get(line.piece),
    };
  });
  const waiting = valued.filter(({ group }) => group === "inProgress");
  return {
    stages: stageGroups(book, waiting),
    writtenDown: valued.filter(({ writeDownMinor }) => writeDownMinor > 0),
    notes: notesOf(book, waiting),
    ...processReports(plannedStepsOf(book, read), settled.costs),
  };
}

function stageGroups(book: Workbook, waiting: readonly ValuedPiece[]): readonly StageGroup[] {
  const groups = new Map<string, StageGroup & { readonly pieces: ValuedPiece[] }>();
  for (const piece of waiting) {
    const { stage } = piece;
    if (!stage) continue;
    const key = `${stage.step} ${stage.isSpecial}`;
    const held = groups.get(key);
    if (held) {
      held.pieces.push(piece);
      continue;
    }
    const row = rowOf(book, "pieces", piece.row);
    const [next] = row ? stepsToCome(book, row) : [];
    groups.set(key, {
      ...{ key, step: stage.step, title: stepTitle(book, stage.step), isSpecial: stage.isSpecial },
      ...{ pieces: [piece], toFinish: stage.toFinish, next: next && rowLabel("route", next) },
    });
  }
  const order = new Map(book.sheets.route.rows.map(({ id }, at) => [id, at]));
  return [...groups.values()].sort(
    (a, b) => (order.get(a.step) ?? 0) - (order.get(b.step) ?? 0) || Number(a.isSpecial) - Number(b.isSpecial),
  );
}

/** What the amounts leave out, so that nobody has to find it out. */
function notesOf(book: Workbook, waiting: readonly ValuedPiece[]): readonly string[] {
  const unpriced = new Set(waiting.flatMap(({ stage }) => stage?.toFinish.unpriced ?? []));
  const priceless = waiting.filter(({ stage }) => stage && stage.fetches === undefined);
  const again = waiting.filter(({ row }) => rowOf(book, "pieces", row)?.cells.to_have !== undefined);
  const names = (pieces: readonly ValuedPiece[]) => listed(pieces.slice(0, 8).map(({ piece }) => piece));
  return [
    ...(unpriced.size === 0
      ? []
      : [
          `Not in what they still take: ${listed([...unpriced].map((id) => stepTitle(book, id)))}. The plan has no cost for it; name its kiln on Route, and say on Edition how many pieces are wanted.`,
        ]),
    ...(priceless.length === 0
      ? []
      : [
          `${counted(priceless.length, "piece")} carried at cost, since ${priceless.length === 1 ? "its" : "their"} price is 0: ${names(priceless)}${priceless.length > 8 ? " and more" : ""}.`,
        ]),
    ...(again.length === 0
      ? []
      : [
          `A step as needed counts with the share of pieces expected to need it; ${names(again)}${again.length > 8 ? " and more" : ""} will have one for certain, and so take more than is said here.`,
        ]),
  ];
}

/** The sum of an amount over pieces, in minor units. */
export const sumMinor = (pieces: readonly ValuedPiece[], of: (piece: ValuedPiece) => number): number =>
  pieces.reduce((sum, piece) => sum + of(piece), 0);

/** What pieces still take together, in minor units: rounded once. */
export function finishMinor(pieces: readonly ValuedPiece[], digits: number): number {
  const exact = pieces.reduce((sum, { stage }) => sum + (stage?.toFinish.cost ?? 0), 0);
  return Math.round(roundMoney(exact, digits) * 10 ** digits);
}
