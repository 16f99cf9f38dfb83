// The next edition from one that there is: how it is made, with what and for how much carries over; what was done does not.
// What was counted and measured becomes what was seen before.
import { pieceLabels } from "../record/piece-labels";
import { seenUntilNow } from "../steps/seen";
import { type CellName, describeCell, isOverride, rowOf } from "./access";
import { SEEN_MOST } from "./seen-schema";
import { type Meta, type Row, SHEET_KEYS, type SheetKey, type Workbook } from "./workbook";

/** What is asked before the next edition is made. */
export interface NextAnswers {
  readonly title: string;
  readonly wanted: number;
  readonly firstPiece: string;
  /** Today, ISO 8601. */
  readonly started: string;
  /** The id under which the edition is kept that this one comes from. */
  readonly from?: string;
}

/** The next edition, with `starts` blank pieces, and the amounts that were given by hand in computed cells and stay behind. */
export interface NextEdition {
  readonly book: Workbook;
  readonly leftBehind: readonly string[];
}

/** All but what was made. */
const CARRIED = SHEET_KEYS.filter((key) => key !== "firings" && key !== "pieces");

/** Makes the next edition from one; the old one is untouched. */
export function nextEdition(from: Workbook, answers: NextAnswers, starts: number): NextEdition {
  const leftBehind: string[] = [];
  const seen = seenUntilNow(from, answers.from).slice(-SEEN_MOST);
  const sheets = { ...from.sheets, firings: { ...from.sheets.firings, rows: [] } };
  for (const key of CARRIED)
    sheets[key] = { ...sheets[key], rows: sheets[key].rows.map((row) => withoutOverrides(from, key, row, leftBehind)) };
  sheets.edition = { ...sheets.edition, rows: sheets.edition.rows.map((row) => withWanted(row, answers.wanted)) };
  sheets.route = { ...sheets.route, rows: sheets.route.rows.map((row) => withCounts(row, seen)) };
  const labels = pieceLabels(answers.firstPiece, starts);
  const rows = labels.map((label, at): Row => ({ id: `p${at + 1}`, cells: { piece: label, tier: "standard" } }));
  sheets.pieces = { ...sheets.pieces, rows };
  const isThere = (cell: CellName) => rowOf({ ...from, sheets }, cell.sheet, cell.row) !== undefined;
  const { seen: _, ...rest } = from;
  const book: Workbook = {
    ...rest,
    meta: nextMeta(from, answers),
    sheets,
    lists: {
      ...from.lists,
      log: [],
      plans: [],
      packs: [],
      cases: from.lists.cases.filter(({ changes }) =>
        changes.every((cell) => cell.sheet !== "pieces" && isThere(cell)),
      ),
      ranges: from.lists.ranges.filter((cell) => cell.sheet !== "pieces" && isThere(cell)),
    },
    ...(seen.length > 0 ? { seen } : {}),
  };
  return { book, leftBehind };
}

/** Who the maker is and how the studio works stays; what was said of that edition alone does not. */
function nextMeta({ meta }: Workbook, { title, started }: NextAnswers): Meta {
  const { journal: _, calendar, ...rest } = meta;
  const { due: _due, from: _from, ...weeks } = calendar ?? { hours: [], closed: [], people: 1 };
  const studio = calendar ? { calendar: { ...weeks, closed: weeks.closed.filter((day) => day >= started) } } : {};
  return { ...rest, ...studio, title, note: "", started, invented: false };
}

/** A row without what was given by hand where a formula stands: it was said of the run that was. */
function withoutOverrides(book: Workbook, sheet: SheetKey, row: Row, left: string[]): Row {
  const given = book.sheets[sheet].columns.filter((column) => isOverride(column, row)).map(({ key }) => key);
  if (given.length === 0) return row;
  left.push(...given.map((column) => describeCell(book, { sheet, row: row.id, column })));
  return { ...row, cells: Object.fromEntries(Object.entries(row.cells).filter(([key]) => !given.includes(key))) };
}

const withWanted = (row: Row, wanted: number): Row =>
  row.id === "wanted" ? { ...row, cells: { ...row.cells, value: wanted } } : row;

/** A step with the counts of all editions before. */
function withCounts(row: Row, seen: Workbook["seen"] & object): Row {
  const { seen_entered: _, seen_lost: __, ...cells } = row.cells;
  const known = seen.flatMap(({ steps }) => steps.filter(({ step }) => step === row.id));
  const total = (of: "entered" | "lost") => known.reduce((sum, step) => sum + step[of], 0);
  const entered = total("entered");
  return { ...row, cells: entered === 0 ? cells : { ...cells, seen_entered: entered, seen_lost: total("lost") } };
}
