// Where the parts of a posting stand on the sheets.
import type { PostedPart } from "../../accounts/moves";
import { type CellName, rowLabel, rowOf } from "../../core/document/access";
import type { SheetKey, Workbook } from "../../core/document/workbook";

/** Parts of a posting that stand in one place, together. */
export interface CellOfMoves {
  readonly key: string;
  readonly minor: number;
  /** The first of them. */
  readonly move: PostedPart;
  /** In words: “001, Fettle”. */
  readonly says: (book: Workbook) => string;
}

const FIRED = ["kiln energy", "kiln wear", "loading", "overhead of loading"];
const isFired = ({ element = "" }: PostedPart) => FIRED.includes(element);

/** The moves of a posting by place: a firing, a step of a piece, a piece. */
export function movesByCell(moves: readonly PostedPart[]): readonly CellOfMoves[] {
  const found = new Map<string, CellOfMoves>();
  for (const move of moves) {
    const key = isFired(move)
      ? `firing ${move.firing}`
      : `${move.piece} ${move.step} ${move.piece ? "" : move.element}`;
    const held = found.get(key);
    found.set(key, { key, move, says: (book) => placeOf(book, move), minor: (held?.minor ?? 0) + move.minor });
  }
  return [...found.values()];
}

function placeOf(book: Workbook, move: PostedPart): string {
  if (isFired(move)) return `Firing ${move.firing}`;
  const step = move.step === undefined ? undefined : rowOf(book, "route", move.step);
  const parts = [move.piece, step && rowLabel("route", step)].filter((part) => part !== undefined);
  return parts.length > 0 ? parts.join(", ") : (move.element ?? "");
}

const LINES: Readonly<Record<string, string>> = {
  "overhead that no hour carries": "overhead_idle",
  "left in the moulds": "mould_charged",
};

const COLUMNS: Readonly<Record<string, string>> = {
  "full cost": "full",
  "write-down": "carried",
  "price without tax": "price",
  tax: "price",
  "fees and commission": "sale_cost",
  "packing and postage": "sale_cost",
  "clay won back": "reclaim",
  scrap: "scrap",
};

/** The cell a part comes from; undefined where no single one has it. */
export function cellOfMove(book: Workbook, move: PostedPart): CellName | undefined {
  const row = (sheet: SheetKey, label: string | undefined) =>
    book.sheets[sheet].rows.find((one) => rowLabel(sheet, one) === label)?.id;
  if (isFired(move)) {
    const firing = row("firings", move.firing);
    return firing === undefined ? undefined : { sheet: "firings", row: firing, column: "cost" };
  }
  const line = LINES[move.element ?? ""];
  if (line !== undefined) return { sheet: "results", row: line, column: "value" };
  const piece = row("pieces", move.piece);
  if (piece === undefined) return undefined;
  const named = COLUMNS[move.element ?? ""];
  if (named !== undefined) return { sheet: "pieces", row: piece, column: named };
  const isLoss = /loss/.test(move.element ?? "");
  return { sheet: "pieces", row: piece, column: isLoss || move.step === undefined ? "own" : `${move.step}.cost` };
}
