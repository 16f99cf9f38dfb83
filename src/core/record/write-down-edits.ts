// Writing stock down by hand, for many pieces at once: damaged, out of fashion, its price cut; and taking that back. What is
// kept is by how much a piece is written down, so that what is spent on it afterwards is cost again.
import { rowOf } from "../document/access";
import type { Row, Workbook } from "../document/workbook";
import { isIsoDay } from "../iso-day";
import { roundMoney } from "../money";
import { fail, ok, type Problem, problem, type Result } from "../problem";
import { stepTitle } from "../steps/piece-steps";
import { namePieces } from "./choose-pieces";
import { PlanDraft, type RecordPlan } from "./record-plan";

/** A piece as it is carried before anything is written down anew; money in the edition's currency. */
export interface CarriedPiece {
  readonly cost: number;
  readonly carried: number;
}

/** What is to be done to the value of the chosen pieces. */
export interface WriteDownAsked {
  readonly kind: "write-down";
  /**
   * `by` an amount each, besides what was written down before; `to` a value each; `keep` what they are carried at below cost,
   * as their cost from now on; `back` takes back what was written down by hand.
   */
  readonly down: "by" | "to" | "keep" | "back";
  /** Amount or value each; left out for `keep` and `back`. */
  readonly amount?: number;
  /** ISO 8601. */
  readonly day: string;
  readonly today: string;
  readonly reason: string;
  readonly rule: "IAS 2" | "ASC 330";
  /** Pieces in stock or in progress, by row id. */
  readonly carried: ReadonlyMap<string, CarriedPiece>;
  readonly digits: number;
}

const TITLES: Readonly<Record<WriteDownAsked["down"], string>> = {
  by: "Written down",
  to: "Written down",
  keep: "Kept as written down",
  back: "Write-down taken back",
};

/** What recording it would do, or the problems that stand in its way. */
export function planWriteDown(book: Workbook, ids: readonly string[], asked: WriteDownAsked): Result<RecordPlan> {
  const problems = writeDownProblems(asked);
  if (problems.length > 0) return fail(...problems);
  const draft = new PlanDraft(book);
  for (const piece of ids.flatMap((id) => rowOf(book, "pieces", id) ?? [])) {
    const held = asked.carried.get(piece.id);
    const why = held ? writeDown(draft, piece, held, asked) : notInStock(book, piece);
    if (why !== undefined) draft.leave(piece, why);
  }
  if (asked.day > asked.today) draft.warn(undefined, `the day ${asked.day} is still to come`);
  const why = asked.down === "back" || asked.reason.trim() === "" ? "" : `, ${asked.reason.trim()}`;
  const label = (taken: readonly string[]) => `${TITLES[asked.down]}, ${asked.day}${why}: ${namePieces(book, taken)}`;
  return ok(draft.finish("written down", label));
}

function writeDownProblems({ down, amount, day, reason }: WriteDownAsked): readonly Problem[] {
  const say = (where: string, found: unknown, allowed: string) =>
    problem({ code: "write-down", where, found, allowed });
  const isAmount = amount !== undefined && Number.isFinite(amount) && (down === "by" ? amount > 0 : amount >= 0);
  return [
    ...(isIsoDay(day) ? [] : [say("The day", day, "a day such as 2026-11-28")]),
    ...(down === "keep" || down === "back" || isAmount
      ? []
      : [
          say(
            down === "by" ? "Written down by" : "Written down to",
            Number.isNaN(amount) ? "" : (amount ?? ""),
            down === "by" ? "an amount above 0" : "an amount of 0 or more",
          ),
        ]),
    ...(down === "back" || down === "keep" || (reason.trim() !== "" && reason.length <= 200)
      ? []
      : [say("Why", reason.slice(0, 20), "a reason of 1 to 200 characters, such as chipped, or price cut")]),
  ];
}

function notInStock(book: Workbook, { cells }: Row): string {
  if (typeof cells.lost_at === "string") return `lost at ${stepTitle(book, cells.lost_at)}`;
  return cells.became === undefined ? "not started: it has no cost yet" : `${cells.became}, in stock no more`;
}

/** Writes one piece down or back; gives the reason where that is not done. */
function writeDown(
  draft: PlanDraft,
  piece: Row,
  { cost, carried }: CarriedPiece,
  asked: WriteDownAsked,
): string | undefined {
  const { down, amount = 0, day, digits } = asked;
  const before = typeof piece.cells.down_by === "number" ? piece.cells.down_by : 0;
  const least = roundMoney(Math.max(0, cost - carried), digits);
  const after = roundMoney({ by: before + amount, to: cost - amount, keep: least, back: 0 }[down], digits);
  if (down === "keep" && least <= before) return "carried at its cost, less what was written down";
  if (after < 0) return "costs less than that";
  if (after > roundMoney(cost, digits)) return "costs less than that is written down by";
  const isLess = after < before;
  const closed = isLess ? closedYear(piece, asked) : undefined;
  if (closed) return closed;
  const moved = [
    draft.put(piece, "down_by", after === 0 ? undefined : after),
    ...(after === before ? [] : [draft.put(piece, "down_on", after === 0 ? undefined : day)]),
    draft.put(piece, "down_why", after === 0 ? undefined : reasonOf(asked)),
  ];
  if (!moved.includes(true)) return down === "back" ? "not written down by hand" : "so already";
  if (isLess) draft.warn(piece, "its write-down becomes less: what it will fetch has to have risen since");
  return undefined;
}

const reasonOf = ({ down, reason }: WriteDownAsked) =>
  reason.trim() || (down === "keep" ? "will not fetch its cost" : undefined);

/** Why a write-down can't be taken back: by ASC 330 one of a closed year is the cost of the piece from then on. */
function closedYear({ cells }: Row, { rule, day }: WriteDownAsked): string | undefined {
  const { down_on: on } = cells;
  if (rule !== "ASC 330" || typeof on !== "string" || on.slice(0, 4) >= day.slice(0, 4)) return undefined;
  return `written down on ${on}: by ASC 330 that is its cost once the year is closed (330-10-35-14)`;
}
