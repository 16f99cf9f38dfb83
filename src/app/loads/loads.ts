// The pieces that wait for a firing, the kilns with their room, and the firings that could take more: read from the
// sheets for the load builder.
import type { FormatAmount, LoadKiln, WaitingPiece } from "../../ceramics/loads/kiln-room";
import { pieceProblem, weighLoad } from "../../ceramics/loads/load";
import { type LoadPlan, type OpenLoad, type Proposal, proposeLoads } from "../../ceramics/loads/propose";
import { rowLabel } from "../../core/document/access";
import type { Row, Workbook } from "../../core/document/workbook";
import type { Problem } from "../../core/problem";
import { isFiringStep } from "../../core/sheets/step-kinds";
import { loadKilnFrom } from "../../engine/kiln-records";
import { shownAmount } from "../edition/display";
import type { Session } from "../edition/session";
import { isUnderWay, nextStep } from "../edition/view";
import { recordsOf } from "../plan/kiln-heat";
import { costOfFiring, type FiringSheets, firingRecords } from "../record/firing-sums";

/** A piece that waits, under its number, with its row and the step it waits for. */
export interface Waiting extends WaitingPiece {
  readonly row: string;
  readonly step: string;
}

/** A firing of the Firings sheet that has not been read off the meter. */
export interface UnreadFiring {
  readonly row: string;
  readonly name: string;
  readonly kiln: string;
  readonly date: string;
  readonly firing: string;
  readonly pieces: readonly WaitingPiece[];
  /** Its day is not past, so that it can still be filled unless the maker says otherwise. */
  readonly isAhead: boolean;
}

/** Everything the load builder is given. */
export interface LoadsRead {
  readonly waiting: readonly Waiting[];
  readonly kilns: readonly LoadKiln[];
  readonly unread: readonly UnreadFiring[];
  readonly sheets: FiringSheets;
  /** Writes lengths and areas in the maker's units. */
  readonly say: FormatAmount;
}

/** A piece that is to be fired once more at a step that is for those that need it. */
export interface Again {
  readonly row: string;
  readonly step: string;
}

const number = (value: unknown) => (typeof value === "number" ? value : undefined);
const text = (value: unknown) => (typeof value === "string" ? value : "");

/** What a firing step is fired by: its programme, or the step alone where it has none. */
function firingKey(step: Row): string {
  const programme = text(step.cells.programme);
  return programme === "" ? `step\n${step.id}` : programme;
}

/** The programme behind a key, if there is one. */
export function programmeOf(key: string): string | undefined {
  return key.startsWith("step\n") ? undefined : key;
}

/** What a key is called on the page. */
export function firingName(book: Workbook, key: string): string {
  const programme = programmeOf(key);
  if (programme !== undefined) return programme;
  const step = book.sheets.route.rows.find((row) => `step\n${row.id}` === key);
  return step ? rowLabel("route", step) : key;
}

/** Firing steps that only some pieces need: for these the maker says which. */
export function stepsFiredAgain(book: Workbook): readonly Row[] {
  return book.sheets.route.rows.filter((row) => isFiringStep(row) && row.cells.who === "as needed");
}

/** Reads what waits and where it could go; nothing while the sizes of pieces are still being computed. */
export function readLoads(session: Session, again: readonly Again[]): LoadsRead | undefined {
  const book = session.book.value;
  const { rows } = book.sheets.pieces;
  const first = rows[0];
  if (first && session.value({ sheet: "pieces", row: first.id, column: "foot" }) === undefined) return undefined;
  const steps = new Map(book.sheets.route.rows.map((row) => [row.id, row]));
  const asked = new Map(again.map(({ row, step }) => [row, step]));
  const waiting = rows.flatMap((row): Waiting[] => {
    const read = (piece: Row, column: string) => session.value({ sheet: "pieces", row: piece.id, column });
    if (!isUnderWay(row, read)) return [];
    const step = steps.get(asked.get(row.id) ?? nextStep(book, row, read) ?? "");
    if (!step || !isFiringStep(step)) return [];
    return [{ ...sizeOf(session, row), firing: firingKey(step), row: row.id, step: step.id }];
  });
  return {
    waiting,
    kilns: loadKilns(session),
    unread: unreadFirings(session),
    sheets: firingRecords(session),
    say: amountFormatter(session),
  };
}

/** Writes lengths and areas in the units the edition is shown in. */
export function amountFormatter(session: Session): FormatAmount {
  return (value, unit) => shownAmount(session, value, unit, 1, 0);
}

/** A piece as it takes up room; sizes not known yet are 0. */
export function sizeOf(session: Session, row: Row) {
  const size = (column: string) => number(session.value({ sheet: "pieces", row: row.id, column })) ?? 0;
  return { id: rowLabel("pieces", row), footCm2: size("foot"), heightCm: size("height"), kg: size("kg") };
}

/** The kilns with the room they have; what is blank is not known. */
export function loadKilns(session: Session): readonly LoadKiln[] {
  const records = recordsOf(session, "kilns");
  return session.book.value.sheets.kilns.rows.flatMap((row) => {
    const kiln = loadKilnFrom(records, rowLabel("kilns", row));
    return kiln.ok ? [kiln.value] : [];
  });
}

/** The pieces that go into a firing at a step; those lost before it do not. */
function piecesIn(book: Workbook, firing: string, step: Row): readonly Row[] {
  const route = book.sheets.route.rows;
  const before = new Set<unknown>(route.slice(0, route.indexOf(step)).map(({ id }) => id));
  return book.sheets.pieces.rows.filter(
    ({ cells }) => cells[`${step.id}.firing`] === firing && !before.has(cells.lost_at),
  );
}

/** What goes into a firing in a book that need not be the open one; sizes are the open one's. Nothing without a known kiln. */
export function firingLoad(session: Session, book: Workbook, firing: string): FiringLoad | undefined {
  const row = book.sheets.firings.rows.find((one) => one.cells.id === firing);
  const kiln = loadKilns(session).find(({ id }) => id === row?.cells.kiln);
  if (!row || !kiln) return undefined;
  const held = book.sheets.route.rows.flatMap((step) => {
    const inIt = isFiringStep(step) ? piecesIn(book, firing, step) : [];
    return inIt.length > 0 ? [{ step, inIt }] : [];
  });
  const rows = held.flatMap(({ inIt }) => inIt);
  const pieces = [...rows.map((piece) => ({ ...sizeOf(session, piece), firing: "" })), ...guestsIn(session, row)];
  return { row, kiln, steps: held.map(({ step }) => step), rows, pieces };
}

/** What keeps the load of a firing from going into its kiln. */
export function problemsOfLoad(session: Session, { kiln, rows, pieces }: FiringLoad): LoadProblems {
  const say = amountFormatter(session);
  const refused = rows.flatMap((piece, at) => {
    const found = pieces[at] && pieceProblem(pieces[at], kiln, say);
    return found ? [{ piece: piece.id, problem: found }] : [];
  });
  return { kiln: kiln.id, refused, together: refused.length > 0 ? [] : weighLoad(pieces, kiln, say).problems };
}

/** Ware of no edition and pieces of other editions in a firing: as many of their mean foot, each as high as the tallest. */
function guestsIn(session: Session, row: Row): readonly WaitingPiece[] {
  return (["other", "with"] as const).flatMap((who) => {
    const said = (column: string) =>
      number(session.value({ sheet: "firings", row: row.id, column: `${who}_${column}` })) ?? 0;
    const footAll = said("cm2");
    if (said("count") === 0 && footAll === 0) return [];
    const count = Math.max(1, said("count"));
    const id = who === "other" ? "other ware" : text(row.cells.with) || "another edition";
    const one = { id, footCm2: footAll / count, heightCm: said("height"), kg: said("kg") / count, firing: "" };
    return Array.from({ length: count }, () => one);
  });
}

/** A firing with its kiln, the steps it does, and all in it: the rows of its pieces and, first and in the same order, their sizes. */
export interface FiringLoad {
  readonly row: Row;
  readonly kiln: LoadKiln;
  readonly steps: readonly Row[];
  readonly rows: readonly Row[];
  readonly pieces: readonly WaitingPiece[];
}

/** Pieces that do not go into a kiln even alone, and what keeps the others from going in together. */
interface LoadProblems {
  readonly kiln: string;
  readonly refused: readonly { readonly piece: string; readonly problem: Problem }[];
  readonly together: readonly Problem[];
}

/** Whether a firing is still to come: not read off a meter, and not of a day gone by. */
export function isAhead(session: Session, row: Row): boolean {
  if (isRead(session, row)) return false;
  const { date } = row.cells;
  return typeof date !== "string" || date >= session.today();
}

function isRead(session: Session, row: Row): boolean {
  return typeof session.value({ sheet: "firings", row: row.id, column: "meter" }) === "number";
}

function unreadFirings(session: Session): readonly UnreadFiring[] {
  const book = session.book.value;
  const steps = book.sheets.route.rows.filter(isFiringStep);
  return book.sheets.firings.rows
    .filter((row) => !isRead(session, row))
    .map((row) => {
      const name = rowLabel("firings", row);
      const inIt = (step: Row) => piecesIn(book, name, step);
      const used = steps.filter((step) => inIt(step).length > 0);
      const programme = text(row.cells.programme);
      const [only] = used;
      return {
        row: row.id,
        name,
        kiln: text(row.cells.kiln),
        date: text(row.cells.date),
        firing: programme === "" ? (only ? firingKey(only) : "") : programme,
        pieces: [
          ...used.flatMap((step) => inIt(step).map((piece) => ({ ...sizeOf(session, piece), firing: programme }))),
          ...guestsIn(session, row),
        ],
        isAhead: isAhead(session, row),
      };
    });
}

/** What is known of firing costs, and why some kilns can't fire by some programmes. */
export interface LoadCosts {
  readonly costOf: LoadPlan["costOf"];
  readonly unable: (kiln: string, firing: string) => readonly Problem[];
}

/** Calculates what firings would cost, each kiln and kind of firing once. */
export function loadCosts(session: Session, { waiting, sheets }: LoadsRead): LoadCosts {
  const first = session.book.value.sheets.route.rows.find(isFiringStep)?.id;
  const known = new Map<string, ReturnType<typeof costOfFiring>>();
  const ask = (kiln: string, firing: string) => {
    const key = `${kiln}\n${firing}`;
    const held = known.get(key);
    if (held) return held;
    const group = waiting.filter((piece) => piece.firing === firing);
    const kgEach = group.reduce((sum, { kg }) => sum + kg, 0) / Math.max(1, group.length);
    const isRaw = group.length > 0 && group.every(({ step }) => step === first);
    const found = costOfFiring(sheets, { kiln, programme: programmeOf(firing), kgEach, isRaw });
    known.set(key, found);
    return found;
  };
  return {
    costOf: (kiln, firing) => {
      const found = ask(kiln, firing);
      return found.ok ? found.cost : undefined;
    },
    unable: (kiln, firing) => {
      const found = ask(kiln, firing);
      return found.ok ? [] : found.problems;
    },
  };
}

/** Proposes loads for what waits, in the kilns that may be used, filling the firings that may take more. */
export function propose(
  read: LoadsRead,
  costs: LoadCosts,
  may: { readonly kilns: ReadonlySet<string>; readonly firings: ReadonlySet<string> },
): Proposal {
  const open = read.unread
    .filter(({ row }) => may.firings.has(row))
    .map(({ row, kiln, firing, pieces }): OpenLoad => ({ id: row, kiln, firing, pieces }));
  return proposeLoads(read.waiting, {
    kilns: read.kilns,
    open,
    say: read.say,
    costOf: (kiln, firing) => (may.kilns.has(kiln) ? costs.costOf(kiln, firing) : undefined),
  });
}
