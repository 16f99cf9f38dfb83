// What has no day, with the day that is nearest to being known: asked for before books are made by the period.
import { counted } from "../counted";
import { describeCell, rowOf } from "../document/access";
import type { Change, Operation } from "../document/change";
import type { Row, Workbook } from "../document/workbook";
import { isFiringStep } from "../sheets/step-kinds";
import { recordedDays } from "../steps/drawn";
import { hasHad } from "../steps/piece-steps";
import { datedColumns } from "./days";

/** Where a proposed day comes from. */
type DayFrom =
  | "the run log"
  | "the firing or step after it"
  | "the firing or step before it"
  | "what was entered before it"
  | "the day the edition was started";

/** A cell for a day that is blank though what it dates was entered. */
export interface Undated {
  readonly sheet: "pieces" | "firings";
  readonly row: string;
  /** The cell for the day. */
  readonly column: string;
  /** What it is the day of, in words: “Fettle”, “Lost”, “Passed”, “Firing”. */
  readonly what: string;
  readonly proposed: string;
  readonly from: DayFrom;
}

type Guess = Pick<Undated, "proposed" | "from">;

/** Everything entered that has no day; `dayOf` says on which day a moment of the run log was where the maker is. */
export function undatedOf(book: Workbook, dayOf: (at: string) => string): readonly Undated[] {
  const log = recordedDays(book, dayOf);
  const start = book.meta.started;
  const firings = undatedFirings(book, log, start);
  const fired = new Map(
    book.sheets.firings.rows.map(({ id, cells }) => [cells.id, textOf(cells.date) ?? firings.get(id)?.proposed]),
  );
  const pieces = book.sheets.pieces.rows.flatMap((piece) => undatedOfPiece(book, piece, { log, start, fired }));
  return [...firings.values(), ...pieces];
}

const textOf = (raw: unknown) => (typeof raw === "string" && raw !== "" ? raw : undefined);

/** Firings that were fired and have no date: theirs is that of the recording that filled them, or of the latest step before. */
function undatedFirings(book: Workbook, log: ReadonlyMap<string, string>, start: string): ReadonlyMap<string, Undated> {
  const steps = book.sheets.route.rows;
  const dated = datedColumns(book);
  const blank = book.sheets.firings.rows.filter(({ cells }) => textOf(cells.date) === undefined);
  return new Map(
    blank.flatMap((firing): [string, Undated][] => {
      let [recorded, before, isFired] = ["", "", firing.cells.meter !== undefined];
      for (const piece of book.sheets.pieces.rows)
        for (const [at, step] of steps.entries()) {
          if (!isFiringStep(step) || piece.cells[`${step.id}.firing`] !== firing.cells.id) continue;
          isFired = true;
          recorded = later(recorded, log.get(`${piece.id} ${step.id}.firing`));
          for (const { step: one, day } of dated)
            if (one && steps.indexOf(one) < at) before = later(before, textOf(piece.cells[day]));
        }
      if (!isFired) return [];
      const guess: Guess =
        recorded !== ""
          ? { proposed: recorded, from: "the run log" }
          : before !== ""
            ? { proposed: before, from: "what was entered before it" }
            : { proposed: start, from: "the day the edition was started" };
      return [[firing.id, { sheet: "firings", row: firing.id, column: "date", what: "Firing", ...guess }]];
    }),
  );
}

const later = (a: string, b: string | undefined) => (b !== undefined && b > a ? b : a);

interface Known {
  readonly log: ReadonlyMap<string, string>;
  readonly start: string;
  /** The day of each firing by its name, given or proposed. */
  readonly fired: ReadonlyMap<unknown, string | undefined>;
}

function undatedOfPiece(book: Workbook, piece: Row, { log, start, fired }: Known): readonly Undated[] {
  const { cells } = piece;
  const dated = datedColumns(book);
  const steps = book.sheets.route.rows.filter((step) => hasHad(piece, step));
  const columnOfStep = new Map(dated.flatMap((one) => (one.step ? [[one.step, one] as const] : [])));
  const known = steps.map((step) =>
    isFiringStep(step) ? fired.get(cells[`${step.id}.firing`]) : textOf(cells[columnOfStep.get(step)?.day ?? ""]),
  );
  const recorded = (column: string): Guess | undefined => {
    const day = log.get(`${piece.id} ${column}`);
    return day === undefined ? undefined : { proposed: day, from: "the run log" };
  };
  const found: Undated[] = [];
  const days = steps.map((step, at) => {
    const given = known[at];
    const column = columnOfStep.get(step);
    if (given !== undefined || !column) return given ?? start;
    const after = known.slice(at + 1).find((day) => day !== undefined);
    const before = known.slice(0, at).findLast((day) => day !== undefined);
    const guess =
      recorded(column.entered) ??
      (after !== undefined
        ? { proposed: after, from: "the firing or step after it" as const }
        : before !== undefined
          ? { proposed: before, from: "the firing or step before it" as const }
          : { proposed: start, from: "the day the edition was started" as const });
    found.push({ sheet: "pieces", row: piece.id, column: column.day, what: String(step.cells.title), ...guess });
    return guess.proposed;
  });
  const last = days.reduce((latest, day) => later(latest, day), "");
  const end = (): Guess =>
    last === ""
      ? { proposed: start, from: "the day the edition was started" }
      : { proposed: last, from: "the firing or step before it" };
  const ask = (entered: string, column: string, what: string, most?: string) => {
    if (cells[entered] === undefined || textOf(cells[column]) !== undefined) return;
    const guess = recorded(entered) ?? end();
    const proposed = most !== undefined && guess.proposed > most ? most : guess.proposed;
    found.push({ sheet: "pieces", row: piece.id, column, what, ...guess, proposed });
  };
  ask("lost_at", "lost_on", "Lost");
  ask("grade", "passed_on", "Passed", textOf(cells.became_on));
  ask("became", "became_on", "Sold, consigned or gone");
  ask("down_by", "down_on", "Written down");
  return found;
}

/** Gives the days as proposed, or all of them one that is given, in one change. */
export function giveDays(book: Workbook, undated: readonly Undated[], day?: string): Change {
  const operations = undated.flatMap(({ sheet, row, column, proposed }): Operation[] => {
    const was = rowOf(book, sheet, row)?.cells[column];
    const is = day ?? proposed;
    return was === is ? [] : [{ kind: "cell", sheet, row, column, was, is }];
  });
  return { label: `Days of ${counted(undated.length, "entry", "entries")}`, operations };
}

/** A day that comes before what it follows from, in words. */
export interface DayOutOfOrder {
  readonly piece: string;
  readonly row: string;
  readonly says: string;
  readonly column: string;
}

/** Pieces sold, consigned or gone on a day before they were passed: books by the day can't hold them. */
export function daysOutOfOrder(book: Workbook): readonly DayOutOfOrder[] {
  return book.sheets.pieces.rows.flatMap(({ id, cells }): DayOutOfOrder[] => {
    const [passed, became] = [textOf(cells.passed_on), textOf(cells.consigned_on) ?? textOf(cells.became_on)];
    if (cells.became === undefined || passed === undefined || became === undefined || became >= passed) return [];
    const piece = describeCell(book, { sheet: "pieces", row: id, column: "became_on" });
    return [
      { piece, row: id, says: `${cells.became} on ${became}, and passed only on ${passed}`, column: "became_on" },
    ];
  });
}
