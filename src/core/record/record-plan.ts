// What a recording will do, worked out before it is done: for how many, who is left out and why, what is out of order.
import { counted, listed } from "../counted";
import { currencyDigits } from "../currency";
import { rowLabel } from "../document/access";
import { applyChange, type Operation, sameRaw } from "../document/change";
import type { Raw, Row, Workbook } from "../document/workbook";
import { AMOUNTS } from "../sheets/step-kinds";
import { stepTitle } from "../steps/piece-steps";

/** Something said of some pieces; no pieces where it is said of all. */
export interface PieceNote {
  readonly says: string;
  readonly pieces: readonly string[];
}

/** A recording that has not been made yet. */
export interface RecordPlan {
  readonly act: string;
  readonly label: string;
  /** Pieces to which something happens. */
  readonly takes: readonly string[];
  /** Pieces to which nothing happens, and why. */
  readonly leftOut: readonly PieceNote[];
  /** What is out of order, and may be done all the same. */
  readonly warnings: readonly PieceNote[];
  /** What will happen, in words. */
  readonly says: readonly string[];
  readonly operations: readonly Operation[];
}

/** A plan being drawn up, piece by piece. */
export class PlanDraft {
  readonly operations: Operation[] = [];
  private readonly book: Workbook;
  private readonly takes = new Set<string>();
  private readonly out = new Map<string, string[]>();
  private readonly odd = new Map<string, string[]>();

  constructor(book: Workbook) {
    this.book = book;
  }

  /** Leaves a piece out and says why. */
  leave(piece: Row, why: string): void {
    this.named(this.out, why).push(piece.id);
  }

  /** Says what is out of order about a piece, or about all of them. */
  warn(piece: Row | undefined, what: string): void {
    const pieces = this.named(this.odd, what);
    if (piece) pieces.push(piece.id);
  }

  /** Lets a cell of a piece hold something else; false where it holds that already. */
  put(piece: Row, column: string, is: Raw | undefined): boolean {
    const was = piece.cells[column];
    if (sameRaw(was, is)) return false;
    this.operations.push({ kind: "cell", sheet: "pieces", row: piece.id, column, was, is });
    this.takes.add(piece.id);
    return true;
  }

  private named(map: Map<string, string[]>, says: string): string[] {
    const held = map.get(says) ?? [];
    map.set(says, held);
    return held;
  }

  get taken(): readonly string[] {
    return [...this.takes];
  }

  /** The plan; `before` is what has to be done first, such as making a firing, and is left undone where no piece takes part. */
  finish(act: string, label: (pieces: readonly string[]) => string, before: readonly Operation[] = []): RecordPlan {
    const notes = (map: ReadonlyMap<string, readonly string[]>) =>
      [...map].map(([says, pieces]): PieceNote => ({ says, pieces }));
    const operations = this.operations.length === 0 ? [] : [...before, ...this.operations];
    return {
      act,
      label: label(this.taken),
      takes: this.taken,
      leftOut: notes(this.out),
      warnings: this.operations.length === 0 ? [] : notes(this.odd),
      // New steps have their titles only in the book that has them.
      says: sayOperations(applyChange(this.book, { label: "", operations: before }), operations),
      operations,
    };
  }
}

/** An amount of money in a sentence: the digits of its currency, and the code. */
function amountIn(currency: string, is: Raw): string {
  const digits = currencyDigits(currency);
  return `${typeof is === "number" ? is.toFixed(digits.ok ? digits.value : 2) : is} ${currency}`;
}

const PLAIN: Readonly<Record<string, (is: Raw, currency: string) => string>> = {
  reason: (is) => `because: ${is}`,
  grade: (is) => `passed as ${is}`,
  tier: (is) => `tier: ${is}`,
  note: (is) => `note: ${is}`,
  own_price: (is, currency) => `at a price of its own, ${amountIn(currency, is)}`,
  became: (is) => `${is}`,
  became_on: (is) => `on ${is}`,
  channel: (is) => `channel: ${is}`,
  paid: (is, currency) => `price paid: ${amountIn(currency, is)}`,
  document: (is) => `document: ${is}`,
  consigned_on: (is) => `consigned since ${is} until then`,
  down_by: (is, currency) => `written down by ${amountIn(currency, is)}`,
  down_on: (is) => `on ${is}`,
  down_why: (is) => `because: ${is}`,
};

const UNSAID: Readonly<Record<string, string>> = {
  grade: "no longer passed",
  own_price: "no price of its own any more",
  became: "back in stock",
  became_on: "without the day it had",
  paid: "without the price that was paid",
  consigned_on: "never consigned before that",
  down_by: "not written down by hand any more",
  down_on: "without the day it was written down",
  down_why: "without its reason",
};

/** What operations come to, in words, alike ones together: “Glaze: 3 coats, for 12 pieces”. */
function sayOperations(book: Workbook, operations: readonly Operation[]): readonly string[] {
  const counts = new Map<string, { count: number; changed: number }>();
  for (const operation of operations) {
    if (operation.kind === "add rows") {
      for (const row of operation.rows) counts.set(sayRow(operation.sheet, row), { count: 0, changed: 0 });
      continue;
    }
    if (operation.kind !== "cell" || operation.sheet !== "pieces") continue;
    const says = sayCell(book, operation.column, operation.is);
    const held = counts.get(says) ?? { count: 0, changed: 0 };
    counts.set(says, {
      count: held.count + 1,
      changed: held.changed + (operation.was === undefined || operation.is === undefined ? 0 : 1),
    });
  }
  return [...counts].map(([says, { count, changed }]) => {
    if (count === 0) return says;
    const pieces = counted(count, "piece");
    return `${says}, for ${pieces}${changed > 0 ? `; ${changed} had another value` : ""}`;
  });
}

function sayRow(sheet: string, row: Row): string {
  if (sheet === "channels")
    return `A new channel, ${rowLabel("channels", row)}, with the fees and tax of the Edition sheet`;
  if (sheet === "route") return `A new step, as needed: ${rowLabel("route", row)}`;
  return `A new firing, ${rowLabel("firings", row)}, in the ${row.cells.kiln}`;
}

function sayCell(book: Workbook, column: string, is: Raw | undefined): string {
  const plain = PLAIN[column];
  if (plain && is === undefined) return UNSAID[column] ?? `no ${column}`;
  if (plain && is !== undefined) return plain(is, book.meta.currency);
  if (column === "to_have" && is !== undefined)
    return `then waits for ${listed(
      String(is)
        .split(" ")
        .map((step) => stepTitle(book, step)),
    )}`;
  if (column === "lost_at") return is === undefined ? "not lost after all" : `lost at ${stepTitle(book, String(is))}`;
  const [step = "", what = ""] = column.split(".");
  const title = stepTitle(book, step);
  if (is === undefined) return `${title}: blank`;
  const shown = typeof is === "object" ? is.f : String(is);
  return `${title}: ${withUnit(what, shown)}`;
}

const UNITS: Readonly<Record<string, (shown: string) => string>> = {
  ...Object.fromEntries(AMOUNTS.map(({ column, inWords }) => [column, (shown: string) => inWords(shown, "g")])),
  firing: (shown) => `into ${shown}`,
  area: (shown) => `area ${shown} cm²`,
};
const withUnit = (what: string, shown: string) => UNITS[what]?.(shown) ?? `${what} ${shown}`;
