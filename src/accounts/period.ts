// The books of a period: what moved in it, posting by posting, from what the last books given out closed with to its last day.
// What has been changed in a period that was given out is posted in the open one, as a correction.
import { dayBefore } from "../core/iso-day";
import { fail, ok, type Result } from "../core/problem";
import { comparePieceNumbers } from "./allocate";
import { ACCOUNT_KEYS, type Balances, type BooksAsOf, booksAsOf, type DatedBooks } from "./as-of";
import { type AccountKey, checkJournal, ENTRY_MEMOS, type JournalLine } from "./journal";
import { type PostedPart, partsBetween } from "./moves";

/** A piece as the books given out had it. */
export interface PieceStood {
  readonly piece: string;
  /** Own cost in minor units. */
  readonly own: number;
  /** `in progress`, `good`, `lost`, `sold`, … */
  readonly state: string;
}

/** What books given out closed with. */
export interface ClosedWith {
  /** Their last day, ISO 8601. */
  readonly to: string;
  readonly balances: Balances;
  readonly pieces?: readonly PieceStood[];
}

/** What is asked of the books of a period; days are ISO 8601, both included. */
export interface PeriodTerms {
  readonly from: string;
  readonly to: string;
  /** What the books before it were given out with, if they end the day before. */
  readonly closed?: ClosedWith;
  /** References are this and a number, from `first` on. */
  readonly reference: string;
  readonly first: number;
  /** A posting for each day and document; otherwise one for each sort of entry, on the last day. */
  readonly isDetailed: boolean;
}

/** A line of a posting: a debit above 0, a credit below. */
export interface PostedLine {
  readonly account: AccountKey;
  readonly minor: number;
}

/** One reference of the journal with all that it is made of; its lines add up to 0. */
export interface Posted {
  readonly reference: string;
  readonly day: string;
  readonly memo: string;
  readonly document?: string;
  readonly lines: readonly PostedLine[];
  readonly moves: readonly PostedPart[];
}

/** How a piece stands otherwise than in the books given out. */
interface PieceMoved {
  readonly piece: string;
  readonly was: PieceStood | undefined;
  readonly is: PieceStood | undefined;
}

export interface PeriodBooks {
  readonly terms: PeriodTerms;
  readonly opening: Balances;
  /** As of the day before the first, as it stands now. */
  readonly before: BooksAsOf;
  readonly after: BooksAsOf;
  readonly posted: readonly Posted[];
  /** Pieces of the correction; empty where nothing was changed, or nobody kept how they stood. */
  readonly moved: readonly PieceMoved[];
  readonly closing: Balances;
}

/** What a correction is called. */
const CORRECTION = "Correction of what was given out";
/** What a write-down that is no longer needed is called (IAS 2 §33). */
const TAKEN_BACK = "Write-down taken back";

/** The books of a period; refused where a reference of its journal does not balance. */
export function periodBooks(books: DatedBooks, terms: PeriodTerms): Result<PeriodBooks> {
  const before = booksAsOf(books, dayBefore(terms.from));
  if (!before.ok) return before;
  const after = booksAsOf(books, terms.to);
  if (!after.ok) return after;
  const opening = terms.closed?.balances ?? before.value.balances;
  const corrected = correction(opening, before.value.balances);
  const moves = partsBetween(books, before.value, after.value);
  const unnumbered = [...(corrected.length > 0 ? [correcting(terms, corrected)] : []), ...postings(moves, terms)];
  const posted = unnumbered.map((one, at) => ({ ...one, reference: `${terms.reference}-${terms.first + at}` }));
  const problems = checkJournal(posted.flatMap(journalLines), books.digits);
  if (problems.length > 0) return fail(...problems);
  return ok({
    ...{ terms, opening, before: before.value, after: after.value, posted },
    moved: corrected.length === 0 ? [] : piecesMoved(terms.closed?.pieces, before.value),
    closing: after.value.balances,
  });
}

const journalLines = ({ reference, day, memo, lines }: Posted): readonly JournalLine[] =>
  lines.map(({ account, minor }) => ({
    ...{ date: day, reference, account, memo },
    ...{ debitMinor: Math.max(0, minor), creditMinor: Math.max(0, -minor) },
  }));

type Unnumbered = Omit<Posted, "reference">;

function correction(was: Balances, is: Balances): readonly PostedLine[] {
  return ACCOUNT_KEYS.flatMap((account) => {
    const minor = (is[account] ?? 0) - (was[account] ?? 0);
    return minor === 0 ? [] : [{ account, minor }];
  });
}

/** Its moves go through the account that moved most, so that the trail adds up to it as well. */
function correcting({ from, closed }: PeriodTerms, lines: readonly PostedLine[]): Unnumbered {
  const [hub] = [...lines].sort((a, b) => Math.abs(b.minor) - Math.abs(a.minor));
  const memo = `${CORRECTION} to ${closed?.to}`;
  const moves = lines.flatMap(({ account, minor }): PostedPart[] =>
    !hub || account === hub.account
      ? []
      : [{ memo, debit: hub.account, credit: account, minor: -minor, element: "correction" }],
  );
  return { day: from, memo, lines, moves };
}

const ORDER: ReadonlyMap<string, number> = new Map(Object.values(ENTRY_MEMOS).map((memo, at) => [memo, at]));

function postings(moves: readonly PostedPart[], { from, to, isDetailed }: PeriodTerms): readonly Unnumbered[] {
  const groups = new Map<string, { day: string; memo: string; document: string; moves: PostedPart[] }>();
  for (const move of moves) {
    const happened = move.day !== undefined && move.day >= from && move.day <= to ? move.day : to;
    const day = isDetailed ? happened : to;
    const document = isDetailed ? (move.document ?? "") : "";
    const memo = move.memo === ENTRY_MEMOS.writeDown && move.minor < 0 ? TAKEN_BACK : move.memo;
    const key = `${day}|${memo}|${document}`;
    const held = groups.get(key) ?? { day, memo, document, moves: [] };
    held.moves.push(move);
    groups.set(key, held);
  }
  const rank = (memo: string) => ORDER.get(memo === TAKEN_BACK ? ENTRY_MEMOS.writeDown : memo) ?? 0;
  const inOrder = [...groups.values()].sort(
    (a, b) =>
      compare(a.day, b.day) ||
      rank(a.memo) - rank(b.memo) ||
      compare(a.memo, b.memo) ||
      compare(a.document, b.document),
  );
  return inOrder.flatMap(({ document, ...group }): Unnumbered[] => {
    const lines = linesOfMoves(group.moves);
    return lines.length === 0 ? [] : [{ ...group, lines, ...(document === "" ? {} : { document }) }];
  });
}

const compare = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);

/** The moves summed by account, in the order of the table; accounts that come to nothing are left out. */
export function linesOfMoves(moves: readonly PostedPart[]): readonly PostedLine[] {
  const sums = new Map<AccountKey, number>();
  for (const { debit, credit, minor } of moves) {
    sums.set(debit, (sums.get(debit) ?? 0) + minor);
    sums.set(credit, (sums.get(credit) ?? 0) - minor);
  }
  return ACCOUNT_KEYS.flatMap((account) => {
    const minor = sums.get(account) ?? 0;
    return minor === 0 ? [] : [{ account, minor }];
  });
}

/** How each piece stands in some books: to be kept with books given out, so that a correction can name its pieces. */
export function piecesStood({ costs, sales, ledger }: BooksAsOf): readonly PieceStood[] {
  const became = new Map(sales.map((sale) => [sale.piece, sale.became]));
  return costs.pieces.flatMap(({ id, outcome, own }): PieceStood[] =>
    outcome === "not started"
      ? []
      : [{ piece: id, own: Math.round(own * 10 ** ledger.digits), state: became.get(id) ?? outcome }],
  );
}

function piecesMoved(stood: readonly PieceStood[] | undefined, now: BooksAsOf): readonly PieceMoved[] {
  if (!stood) return [];
  const was = new Map(stood.map((one) => [one.piece, one]));
  const is = new Map(piecesStood(now).map((one) => [one.piece, one]));
  return [...new Set([...was.keys(), ...is.keys()])].sort(comparePieceNumbers).flatMap((piece): PieceMoved[] => {
    const [before, after] = [was.get(piece), is.get(piece)];
    const isSame = before?.own === after?.own && before?.state === after?.state;
    return isSame ? [] : [{ piece, was: before, is: after }];
  });
}

/** A line of the trial balance, debits above 0; `closing` = `opening` + `debits` − `credits`. */
export interface TrialLine {
  readonly account: AccountKey;
  readonly opening: number;
  readonly debits: number;
  readonly credits: number;
  readonly closing: number;
}

/** Every account that holds or moved anything. */
export function trialBalance({ opening, posted, closing }: PeriodBooks): readonly TrialLine[] {
  return ACCOUNT_KEYS.flatMap((account): TrialLine[] => {
    const moved = posted.flatMap(({ lines }) => lines.filter((line) => line.account === account));
    const debits = moved.reduce((sum, { minor }) => sum + Math.max(0, minor), 0);
    const credits = moved.reduce((sum, { minor }) => sum + Math.max(0, -minor), 0);
    const line = { account, opening: opening[account] ?? 0, debits, credits, closing: closing[account] ?? 0 };
    return line.opening === 0 && line.closing === 0 && moved.length === 0 ? [] : [line];
  });
}

/** A line of how a stock account came from opening to closing. */
export interface StockMovement {
  readonly account: AccountKey;
  readonly what: string;
  readonly minor: number;
}

export const STOCK_ACCOUNTS = [
  "inProgress",
  "finished",
  "seconds",
  "consigned",
] as const satisfies readonly AccountKey[];

/** Work in progress and stock from opening to closing: what was put in, lost, finished, sold, written down. */
export function stockMovements({ opening, posted, closing }: PeriodBooks): readonly StockMovement[] {
  return STOCK_ACCOUNTS.flatMap((account): StockMovement[] => {
    const sums = new Map<string, number>();
    for (const { memo, lines } of posted)
      for (const line of lines) if (line.account === account) sums.set(memo, (sums.get(memo) ?? 0) + line.minor);
    const [first, last] = [opening[account] ?? 0, closing[account] ?? 0];
    if (first === 0 && last === 0 && sums.size === 0) return [];
    const between = [...sums].map(([what, minor]) => ({ account, what, minor }));
    return [{ account, what: "Opening", minor: first }, ...between, { account, what: "Closing", minor: last }];
  });
}
