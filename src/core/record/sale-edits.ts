// What becomes of finished pieces, recorded for many at once: sold, consigned, given away, kept, broken, or back in stock.

import { rowOf } from "../document/access";
import type { Operation } from "../document/change";
import { keptConsignedDay } from "../document/consigned-day";
import { addRows, freshRowId } from "../document/edits";
import type { Row, Workbook } from "../document/workbook";
import { isIsoDay } from "../iso-day";
import { fail, ok, type Problem, problem, type Result } from "../problem";
import type { Became } from "../sheets/pieces-sheet";
import { isFiringStep } from "../sheets/step-kinds";
import { stepTitle } from "../steps/piece-steps";
import { namePieces } from "./choose-pieces";
import { PlanDraft, type RecordPlan } from "./record-plan";

/** Where a sale took place: a channel of the sheet, or a new one, made in the same change. */
interface ChannelWish {
  readonly kind: "there" | "new";
  readonly name: string;
}

/** What became of the chosen pieces. */
export interface SaleAsked {
  readonly kind: "sale";
  readonly became: Became | "in stock";
  /** ISO 8601. */
  readonly day: string;
  /** Today, ISO 8601: a day that is still to come is asked about. */
  readonly today: string;
  readonly channel?: ChannelWish;
  /** What was paid for each piece, tax included, by row id. */
  readonly paid: ReadonlyMap<string, number>;
  readonly document?: string;
}

const TITLES: Readonly<Record<SaleAsked["became"], string>> = {
  sold: "Sold",
  consigned: "Consigned",
  "given away": "Given away",
  kept: "Kept",
  broken: "Broken after finishing",
  "in stock": "Back in stock",
};

/** The columns that say what became of a piece. */
const COLUMNS = ["became", "became_on", "channel", "paid", "document", "consigned_on"] as const;

/** What recording it would do, or the problems that stand in its way. */
export function planSale(book: Workbook, ids: readonly string[], asked: SaleAsked): Result<RecordPlan> {
  const problems = saleProblems(book, asked);
  if (problems.length > 0) return fail(...problems);
  const pieces = ids.flatMap((id) => rowOf(book, "pieces", id) ?? []);
  const draft = new PlanDraft(book);
  for (const piece of pieces) {
    const not = notFinished(book, piece);
    if (asked.became === "in stock") takeBackInto(draft, piece);
    else if (not) draft.leave(piece, not);
    else sell(book, draft, piece, asked);
  }
  const where = takesChannel(asked) && asked.channel ? `, ${asked.channel.name.trim()}` : "";
  const when = asked.became === "in stock" ? "" : `, ${asked.day}`;
  const label = (taken: readonly string[]) => `${TITLES[asked.became]}${where}${when}: ${namePieces(book, taken)}`;
  const plan = draft.finish(asked.became, label, draft.taken.length === 0 ? [] : newChannel(book, asked));
  return ok(plan);
}

/** Only what is sold or consigned has a channel and a document. */
const takesChannel = ({ became }: SaleAsked) => became === "sold" || became === "consigned";

function saleProblems(book: Workbook, asked: SaleAsked): readonly Problem[] {
  const { became, day, paid, channel } = asked;
  const price = [...paid.values()].find((one) => !(Number.isFinite(one) && one >= 0));
  const name = channel?.name.trim() ?? "";
  const isThere = book.sheets.channels.rows.some((row) => String(row.cells.id).toLowerCase() === name.toLowerCase());
  const say = (code: string, where: string, found: unknown, allowed: string) =>
    problem({ code, where, found, allowed });
  return [
    ...(became === "in stock" || isIsoDay(day) ? [] : [say("sale.day", "The day", day, "a day such as 2026-11-28")]),
    ...(became !== "sold" || price === undefined
      ? []
      : [say("sale.price", "Price", Number.isNaN(price) ? "" : price, "an amount of 0 or more")]),
    ...(!takesChannel(asked) || !channel
      ? []
      : channel.kind === "there"
        ? isThere
          ? []
          : [say("sale.channel", "Channel", name, "a channel of the Channels sheet")]
        : isThere || name === "" || name.length > 60
          ? [say("sale.channel", "New channel", name, "a name of 1 to 60 characters that no other channel has")]
          : []),
    ...((asked.document ?? "").length > 200 ? [say("sale.document", "Document", "", "up to 200 characters")] : []),
  ];
}

/** Why a piece can't be sold yet; undefined where it is finished. */
function notFinished(book: Workbook, piece: Row): string | undefined {
  const { lost_at: lostAt, grade } = piece.cells;
  if (typeof lostAt === "string") return `lost at ${stepTitle(book, lostAt)}`;
  return grade === undefined ? "not finished: pass it as good or second on Record first" : undefined;
}

function takeBackInto(draft: PlanDraft, piece: Row): void {
  const cleared = COLUMNS.filter((column) => draft.put(piece, column, undefined));
  if (cleared.length === 0) draft.leave(piece, "in stock already");
}

function sell(book: Workbook, draft: PlanDraft, piece: Row, asked: SaleAsked): void {
  const { became, day } = asked;
  const was = piece.cells.became;
  const isSold = became === "sold";
  const keptChannel = was === "consigned" ? piece.cells.channel : undefined;
  const channel = takesChannel(asked) ? (asked.channel?.name.trim() ?? (isSold ? keptChannel : undefined)) : undefined;
  const document = takesChannel(asked) ? asked.document?.trim() || undefined : undefined;
  const moved = [
    draft.put(piece, "became", became),
    draft.put(piece, "became_on", day),
    draft.put(piece, "channel", channel),
    draft.put(piece, "paid", isSold ? asked.paid.get(piece.id) : undefined),
    draft.put(piece, "document", document),
    draft.put(piece, "consigned_on", keptConsignedDay(piece, became)),
  ];
  if (!moved.includes(true)) {
    draft.leave(piece, "so already");
    return;
  }
  if (was !== undefined && was !== "consigned") {
    const when = piece.cells.became_on === undefined ? "" : ` on ${piece.cells.became_on}`;
    draft.warn(piece, `was ${was}${when}; that is replaced`);
  }
  if (day > asked.today) draft.warn(piece, `the day ${day} is still to come`);
  const later = laterFiring(book, piece, day);
  if (later) draft.warn(piece, `was in firing ${later} after that day`);
  if (was === "consigned" && typeof piece.cells.became_on === "string" && day < piece.cells.became_on)
    draft.warn(piece, `was consigned only on ${piece.cells.became_on}`);
}

/** A firing of the piece that is dated after a day, and its date. */
function laterFiring(book: Workbook, piece: Row, day: string): string | undefined {
  const names = book.sheets.route.rows.filter(isFiringStep).map((step) => piece.cells[`${step.id}.firing`]);
  const later = book.sheets.firings.rows.find(
    ({ cells }) => names.includes(cells.id) && typeof cells.date === "string" && cells.date > day,
  );
  return later && `${later.cells.id}, ${later.cells.date},`;
}

function newChannel(book: Workbook, asked: SaleAsked): readonly Operation[] {
  if (asked.channel?.kind !== "new" || !takesChannel(asked)) return [];
  const row = { id: freshRowId(book.sheets.channels.rows, "c"), cells: { id: asked.channel.name.trim() } };
  return addRows(book, "channels", [row], "").operations;
}

/** Whether what became of a piece stands in the way of losing it or of passing it anew; said where it does. */
export function goneAlready(piece: Row): string | undefined {
  const { became, became_on: day } = piece.cells;
  if (became === undefined) return undefined;
  return `${became}${day === undefined ? "" : ` on ${day}`}: put it back in stock on Sales first`;
}
