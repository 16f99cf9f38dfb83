// Purchases and stock-takes written onto the shelf: typed by the rules of the sheet, each one step that can be undone.
import { rowOf } from "../../core/document/access";
import { applyChange, type Change, type Operation } from "../../core/document/change";
import { addRows, editMeta, freshRowId, writeEntries } from "../../core/document/edits";
import type { Row, Workbook } from "../../core/document/workbook";
import { fail, ok, type Problem, problem, type Result } from "../../core/problem";
import { nextName } from "../../core/record/piece-edits";
import { moneyText } from "../edition/money-text";
import type { Session } from "../edition/session";

/** What is typed of a purchase, or of what was found at a stock-take. */
export interface PurchaseTyped {
  readonly sort: "bought" | "counted";
  readonly material: string;
  readonly date: string;
  readonly grams: string;
  readonly paid: string;
  readonly reference: string;
}

/** The change that writes it down, and what is to be said of amounts in other units; or what is wrong with it. */
function planPurchase(
  session: Session,
  typed: PurchaseTyped,
): Result<{ readonly change: Change; readonly messages: readonly string[] }> {
  const book = session.book.value;
  const { sort, material } = typed;
  const name = nextName(book, "purchases", "B");
  const id = freshRowId(book.sheets.purchases.rows, "b");
  const label = `${sort === "bought" ? "Purchase" : "Stock-take"} ${name}: ${material}`;
  const blank: Row = { id, cells: { id: name, sort } };
  const after = applyChange(book, addRows(book, "purchases", [blank], label));
  const columns = ["date", "material", "grams", ...(sort === "bought" ? ["paid"] : []), "reference"] as const;
  const entries = columns.map((column) => ({
    cell: { sheet: "purchases", row: id, column } as const,
    typed: typed[column as keyof PurchaseTyped],
  }));
  const { change, refused, messages } = writeEntries(after, entries, { label, marks: session.marks, override: false });
  const row = rowOf(applyChange(after, change), "purchases", id) ?? blank;
  const problems = refused.length > 0 ? refused : ownProblems(row, session.today());
  if (problems.length > 0) return fail(...problems);
  const repriced = sort === "bought" ? newPackPrice(session, book, row) : undefined;
  return ok({
    change: {
      label,
      operations: [...addRows(book, "purchases", [row], label).operations, ...(repriced ? [repriced.operation] : [])],
    },
    messages: [...messages, ...(repriced ? [repriced.says] : [])],
  });
}

/** What the columns alone do not say: something was bought, and not tomorrow. */
function ownProblems({ cells }: Row, today: string): readonly Problem[] {
  const where = `Purchase ${cells.id}`;
  const problems: Problem[] = [];
  if (typeof cells.date === "string" && cells.date > today)
    problems.push(
      problem({ code: "stock.day", where: `${where}, date`, found: cells.date, allowed: "today or before" }),
    );
  if (cells.sort === "counted") return problems;
  if (!(Number(cells.grams) > 0))
    problems.push(
      problem({ code: "stock.grams", where: `${where}, quantity`, found: cells.grams, allowed: "more than 0" }),
    );
  if (cells.paid === undefined)
    problems.push(
      problem({
        code: "stock.paid",
        where: `${where}, paid`,
        found: "",
        allowed: "what was paid for it; 0 for a gift",
      }),
    );
  return problems;
}

/** The price of a pack goes by the newest purchase: plans are made with what one costs now. */
function newPackPrice(session: Session, book: Workbook, { cells }: Row) {
  const isLater = book.sheets.purchases.rows.some(
    (row) =>
      row.cells.sort === "bought" &&
      row.cells.material === cells.material &&
      String(row.cells.date) > String(cells.date),
  );
  const material = book.sheets.materials.rows.find((row) => row.cells.id === cells.material);
  const [pack, was] = [material?.cells.pack_grams, material?.cells.pack_price];
  if (isLater || !material || typeof pack !== "number") return undefined;
  const is = Number(((Number(cells.paid) / Number(cells.grams)) * pack).toPrecision(12));
  if (is === was) return undefined;
  const operation: Operation = { kind: "cell", sheet: "materials", row: material.id, column: "pack_price", was, is };
  const before = typeof was === "number" ? `, it was ${moneyText(session, was)}` : "";
  return { operation, says: `A pack of ${cells.material} now costs ${moneyText(session, is)}${before}.` };
}

/** Writes a purchase or a stock-take down; what is wrong is given back, and nothing is written. */
export function addPurchase(session: Session, typed: PurchaseTyped): readonly Problem[] {
  const planned = planPurchase(session, typed);
  if (!planned.ok) return planned.problems;
  const { change, messages } = planned.value;
  if (session.commit(change)) session.notifyDone(`${change.label}.`, messages);
  return [];
}

/** Says how the shelf prices what is used. */
export function chooseMethod(session: Session, stock: NonNullable<Workbook["meta"]["stock"]>): void {
  session.commit(editMeta(session.book.value, { stock }, `Priced by ${stock}`));
}
