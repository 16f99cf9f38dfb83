// Writing stock down in an open edition: which pieces can be, at what they are carried, and what recording it would do.
import { rowLabel } from "../../core/document/access";
import { ok, type Result } from "../../core/problem";
import type { RecordPlan } from "../../core/record/record-plan";
import { type CarriedPiece, planWriteDown, type WriteDownAsked } from "../../core/record/write-down-edits";
import { STOCK_RULES, type StockRule } from "../../core/sheets/stage-columns";
import { moneyText } from "../edition/money-text";
import type { Session } from "../edition/session";

/** The standard that the edition's books follow where a write-down is told apart. */
export function stockRule(session: Session): StockRule {
  const said = session.value({ sheet: "edition", row: "stock_rule", column: "value" });
  return STOCK_RULES.find((rule) => rule === said) ?? "IAS 2";
}

/** Pieces in stock or in progress with their cost and what they are carried at, by row id. */
export function carriedPieces(session: Session): ReadonlyMap<string, CarriedPiece> {
  return new Map(
    session.book.value.sheets.pieces.rows.flatMap((row): [string, CarriedPiece][] => {
      const [cost, carried] = ["full", "carried"].map((column) =>
        session.value({ sheet: "pieces", row: row.id, column }),
      );
      return typeof cost === "number" && typeof carried === "number" ? [[row.id, { cost, carried }]] : [];
    }),
  );
}

/** Pieces that can be written down, as they are offered to be chosen. */
interface DownGroup {
  readonly name: string;
  readonly pieces: readonly string[];
}

/** Pieces in progress by the step that they have reached, then those in stock; those written down by hand once more apart. */
export function downGroups(session: Session): readonly DownGroup[] {
  const { pieces, route } = session.book.value.sheets;
  const carried = carriedPieces(session);
  const steps = new Map(route.rows.map((row) => [row.cells.order, rowLabel("route", row)]));
  const groups = new Map<string, string[]>(
    [...route.rows.map((row) => `In progress, after ${rowLabel("route", row)}`), "In stock"].map((name) => [name, []]),
  );
  const byHand: string[] = [];
  for (const row of pieces.rows) {
    if (!carried.has(row.id)) continue;
    const reached = session.value({ sheet: "pieces", row: row.id, column: "reached" });
    const isWaiting = row.cells.grade === undefined;
    const step = typeof reached === "number" ? steps.get(reached) : undefined;
    groups.get(isWaiting ? `In progress, after ${step}` : "In stock")?.push(row.id);
    if (row.cells.down_by !== undefined) byHand.push(row.id);
  }
  groups.set("Written down by hand", byHand);
  return [...groups].flatMap(([name, some]) => (some.length > 0 ? [{ name, pieces: some }] : []));
}

/** What writing down would do, and what it costs the period. */
export function planAskedWriteDown(
  session: Session,
  pieces: readonly string[],
  asked: WriteDownAsked,
): Result<RecordPlan> {
  const plan = planWriteDown(session.book.value, pieces, asked);
  if (!plan.ok || plan.value.takes.length === 0) return plan;
  const { says, operations } = plan.value;
  let moved = 0;
  for (const one of operations)
    if (one.kind === "cell" && one.column === "down_by") moved += amountOf(one.is) - amountOf(one.was);
  return ok({
    ...plan.value,
    says: [
      ...says,
      moved >= 0
        ? `Written down by ${moneyText(session, moved)} together, an expense of the period as far as they are not carried below that already`
        : `${moneyText(session, -moved)} together is taken back; no piece is carried above its cost or above what it will fetch`,
    ],
  });
}

const amountOf = (raw: unknown) => (typeof raw === "number" ? raw : 0);
