// Which changes do no more than give numbers to some inputs.
import { cellKeyOf } from "../../core/document/access";
import type { Operation } from "../../core/document/change";

/** Whether an operation may move a value. */
export function movesValues({ kind }: Operation): boolean {
  return kind !== "list" && kind !== "meta";
}

/** Whether an operation types a number into one of these cells, or clears it. */
export function isNumberOf(
  operation: Operation,
  keys: Pick<ReadonlySet<string>, "has">,
): operation is Extract<Operation, { readonly kind: "cell" }> {
  if (operation.kind !== "cell" || !keys.has(cellKeyOf(operation))) return false;
  return operation.is === undefined || typeof operation.is === "number";
}
