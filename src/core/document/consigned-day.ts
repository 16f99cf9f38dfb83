// A piece on consignment that is sold, or comes to something else, gets another day: the one on which it was consigned is
// kept beside it, so that what was where on a day between the two can still be said.
import { rowOf } from "./access";
import type { Operation } from "./change";
import type { Raw, Row, Workbook } from "./workbook";

/** The day a piece was consigned, ISO 8601; undefined where it never was, or nobody said when. */
export function consignedOn({ cells }: Row): string | undefined {
  const day = cells.became === "consigned" ? cells.became_on : cells.consigned_on;
  return typeof day === "string" ? day : undefined;
}

/** What the cell `consigned_on` of a piece holds once it has become `is`: nothing of a piece in stock or just consigned. */
export function keptConsignedDay(piece: Row, is: Raw | undefined): Raw | undefined {
  return is === undefined || is === "consigned" ? undefined : consignedOn(piece);
}

/** The operations that keep the day of pieces that some operations, typed or from a file, take out of consignment. */
export function consignedDaysKept(book: Workbook, operations: readonly Operation[]): readonly Operation[] {
  const named = new Set(
    operations.flatMap((one) => (one.kind === "cell" && one.column === "consigned_on" ? [one.row] : [])),
  );
  return operations.flatMap((one): Operation[] => {
    if (one.kind !== "cell" || one.sheet !== "pieces" || one.column !== "became" || named.has(one.row)) return [];
    const piece = one.was === "consigned" ? rowOf(book, "pieces", one.row) : undefined;
    const is = piece && keptConsignedDay(piece, one.is);
    if (!piece || is === undefined) return [];
    const cell = { sheet: "pieces", row: one.row, column: "consigned_on" } as const;
    return [{ kind: "cell", ...cell, was: piece.cells.consigned_on, is }];
  });
}
