// What an hour and a cast carry, plainly; see independent.ts. The rules: overhead is carried by hours of work on pieces, and
// by hours of loading kilns if the edition says so, at what was paid ÷ normal hours where both are known, otherwise at the
// rate typed, and never at more than was paid ÷ hours worked; what is paid and not carried is a cost of the period
// (IAS 2 §13). A mould loses its cost less what it fetches worn out, a cast at a time over its life, and no more than that;
// what is left is carried on or charged. A firing has been fired once a piece is in it or its meter was read.
import type { Row, Workbook } from "../../src/core/document/workbook";
import { inputsOf, isBlank, typedNumber } from "./independent-cells";

export interface RunRates {
  /** What an hour carries in the plan and in the books. */
  readonly planned: number;
  readonly perHour: number;
  readonly wearPerCast: number;
  readonly loadingCarries: boolean;
  readonly workHours: number;
  readonly loadingHours: number;
  readonly idle: number;
  readonly casts: number;
  readonly moulds: MouldsOfRun;
}

export interface MouldsOfRun {
  readonly perCast: number;
  readonly left: number;
  readonly charged: number;
}

const word = (book: Workbook, id: string) => book.sheets.edition.rows.find((row) => row.id === id)?.cells.value;

/** Whether a piece had a step: something is entered, and it was not lost at an earlier one. */
function hadStep(book: Workbook, piece: Row, step: Row): boolean {
  const lost = book.sheets.route.rows.find((row) => row.id === piece.cells.lost_at);
  if (lost && typedNumber(lost, "order") < typedNumber(step, "order")) return false;
  const entry = { cast: "slip", hand: "minutes", coat: "coats", metal: "coats", firing: "firing" }[
    String(step.cells.kind)
  ];
  return entry !== undefined && !isBlank(piece, `${step.id}.${entry}`);
}

/** Whether a firing was fired at all: "yes" with a piece in it, "empty" if only its meter says so. */
export function firedHow(book: Workbook, firing: Row): "yes" | "empty" | "not yet" {
  const steps = book.sheets.route.rows.filter((step) => step.cells.kind === "firing");
  const holds = book.sheets.pieces.rows.some((piece) =>
    steps.some((step) => hadStep(book, piece, step) && piece.cells[`${step.id}.firing`] === firing.cells.id),
  );
  if (holds) return "yes";
  const isRead = !isBlank(firing, "meter") || !isBlank(firing, "meter_after");
  if (!isRead) return "not yet";
  return bulkOfOthers(book, firing).reduce((sum, one) => sum + one, 0) > 0 ? "yes" : "empty";
}

/** What is in a firing beside this edition's pieces, in what it is shared by: ware of no edition, and other editions' pieces. */
export function bulkOfOthers(book: Workbook, firing: Row): readonly [number, number] {
  const { basis } = firing.cells;
  const count = typedNumber(firing, "other_count", 0);
  if (basis === "count") return [count, typedNumber(firing, "with_count", 0)];
  const { piece_kg: kg = 0, piece_foot: foot = 0 } = inputsOf(book);
  if (basis === "weight") return [typedNumber(firing, "other_kg", count * kg), typedNumber(firing, "with_kg", 0)];
  return [typedNumber(firing, "other_cm2", count * foot), typedNumber(firing, "with_cm2", 0)];
}

/** What a piece counts for in a load: one, its kilograms or its shelf area. */
export function bulkOf(book: Workbook, piece: Row, basis: unknown): number {
  const inputs = inputsOf(book);
  if (basis === "weight") return typedNumber(piece, "kg", inputs.piece_kg);
  if (basis === "shelf area") return typedNumber(piece, "foot", inputs.piece_foot);
  return 1;
}

/** The part of a firing that this edition bears: its pieces of all that is in it; a firing with nothing in it wholly. */
export function partBorne(book: Workbook, firing: Row): number {
  const fired = firedHow(book, firing);
  const others = bulkOfOthers(book, firing).reduce((sum, one) => sum + one, 0);
  if (fired === "not yet" || others === 0) return fired === "not yet" ? 0 : 1;
  let own = 0;
  for (const step of book.sheets.route.rows)
    for (const piece of book.sheets.pieces.rows)
      if (step.cells.kind === "firing" && piece.cells[`${step.id}.firing`] === firing.cells.id)
        own += hadStep(book, piece, step) ? bulkOf(book, piece, firing.cells.basis) : 0;
  return own / (own + others);
}

/** Moulds of a run with so many casts, whole ones bought where nobody says how many. */
export function mouldsOf(book: Workbook, casts: number): MouldsOfRun {
  const { mould_cost: cost = 0, mould_casts: life = 1, mould_salvage: salvage = 0, moulds } = inputsOf(book);
  const loses = Math.max(0, cost - salvage);
  const made = moulds === undefined || Number.isNaN(moulds) ? Math.ceil(casts / life - 1e-12) : moulds;
  let worn = 0;
  // Cast by cast, as long as there is something to wear off; what all wear off is then spread evenly.
  const whole = Math.floor(casts);
  for (let cast = 0; cast < whole; cast += 1) worn += cast < made * life ? loses / life : 0;
  worn += Math.min(casts - whole, Math.max(0, made * life - whole)) * (loses / life);
  return {
    perCast: casts === 0 ? loses / life : worn / casts,
    left: made * cost - worn,
    charged: word(book, "mould_rest") === "charged" ? made * loses - worn : 0,
  };
}

export function runRates(book: Workbook): RunRates {
  const inputs = inputsOf(book);
  let [minutes, casts] = [0, 0];
  for (const step of book.sheets.route.rows)
    for (const piece of book.sheets.pieces.rows) {
      if (step.cells.kind === "firing" || !hadStep(book, piece, step)) continue;
      const usual = typedNumber(step, "minutes");
      if (step.cells.kind === "hand") minutes += typedNumber(piece, `${step.id}.minutes`);
      else if (step.cells.kind === "cast") [minutes, casts] = [minutes + usual, casts + 1];
      else minutes += usual * typedNumber(piece, `${step.id}.coats`);
    }
  const loadingHours = book.sheets.firings.rows.reduce(
    (sum, row) => sum + (partBorne(book, row) * typedNumber(row, "loading", inputs.loading_minutes)) / 60,
    0,
  );
  const loadingCarries = word(book, "overhead_loading") === "yes";
  const hours = minutes / 60 + (loadingCarries ? loadingHours : 0);
  const { overhead_rate: typed = 0, overhead_paid: paid = Number.NaN, normal_hours: normal = Number.NaN } = inputs;
  const planned = Number.isNaN(paid) || Number.isNaN(normal) ? typed : paid / normal;
  const isBusy = !Number.isNaN(paid) && hours > 0 && planned * hours > paid;
  const perHour = isBusy ? paid / hours : planned;
  return {
    ...{ planned, perHour, loadingCarries, workHours: minutes / 60, loadingHours, casts },
    idle: Number.isNaN(paid) || isBusy ? 0 : paid - perHour * hours,
    wearPerCast: mouldsOf(book, casts).perCast,
    moulds: mouldsOf(book, casts),
  };
}
