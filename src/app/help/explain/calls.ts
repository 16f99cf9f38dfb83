// What a function is given, line by line: its arguments by what they are for, and of a look-up only the rows it took.
import { counted } from "../../../core/counted";
import type { CellName } from "../../../core/document/access";
import { rowLabel } from "../../../core/document/access";
import type { SheetKey } from "../../../core/document/workbook";
import type { Expression } from "../../../core/formula/tree";
import { functionNamed } from "../../../engine/functions/index";
import { columnGiven, evaluate } from "./evaluate";
import type { CellGroup } from "./groups";
import type { ExplainedPart, Joins } from "./part";
import { valueToNumber } from "./scalars";
import { type CellContext, columnValues, rowIndexesOf } from "./view";
import { columnWords, valueWords, whereWords, wholeColumn } from "./words";

/** How lines of each sort are made; given, so that a function's lines and the tree's can contain each other. */
export interface Make {
  readonly cell: (cell: CellName, joins: Joins) => ExplainedPart;
  readonly part: (of: Expression, joins: Joins) => ExplainedPart;
  readonly group: (group: CellGroup, joins: Joins) => ExplainedPart;
  readonly condition: (words: string, open: () => readonly ExplainedPart[]) => ExplainedPart;
}

type Call = Extract<Expression, { kind: "call" }>;

const named = (name: string): Joins => ({ kind: "given", name });

/** The lines of a call. */
export function callParts(of: Call, here: CellContext, make: Make): readonly ExplainedPart[] {
  switch (of.name) {
    case "PICK":
      return pickedParts(of, here, make);
    case "MIN":
    case "MAX":
      return extremeParts(of, here, make);
    case "KEPT_BEFORE":
    case "VALUE_BEFORE":
      return earlierParts(of, here, make);
    default:
      return [...givenParts(of, make), ...readParts(of, here, make)];
  }
}

function givenParts({ name, given }: Call, make: Make): readonly ExplainedPart[] {
  const parameters = functionNamed(name)?.parameters;
  return given.flatMap((one, at) =>
    one.kind === "nothing" ? [] : [make.part(one, named(parameters?.[at]?.what ?? ROUNDED[name] ?? ""))],
  );
}

const ROUNDED: Readonly<Record<string, string>> = {
  ROUND: "rounded",
  ROUNDUP: "rounded up",
  ROUNDDOWN: "rounded down",
  ABS: "without its sign",
};

/** The cell a look-up found; the row it is in, if there is one. */
export function pickedCell({ given }: Call, here: CellContext): CellName | undefined {
  const [keys, values] = [columnGiven(given[1], here), columnGiven(given[2], here)];
  if (!keys || !values || !given[0]) return undefined;
  const at = rowIndexesOf(here.view, keys.sheet, keys.column, evaluate(given[0], here))[0];
  const row = at === undefined ? undefined : here.view.book.sheets[values.sheet].rows[at];
  return row && { sheet: values.sheet, row: row.id, column: values.column };
}

function pickedParts(of: Call, here: CellContext, make: Make): readonly ExplainedPart[] {
  const [key, keys] = of.given;
  const column = columnGiven(keys, here);
  const picked = pickedCell(of, here);
  const lead = make.condition(`Found where ${whereWords(key, keys, here)}`, () => [
    ...(key ? [make.part(key, named("looked for"))] : []),
    ...(picked && column ? [make.cell({ ...picked, column: column.column }, named("found in"))] : []),
  ]);
  return picked ? [make.cell(picked, named("the value found")), lead] : [lead];
}

function extremeParts(of: Call, here: CellContext, make: Make): readonly ExplainedPart[] {
  const value = evaluate(of, here);
  const word = of.name === "MIN" ? "smallest" : "largest";
  return of.given.map((one) => {
    const found = evaluate(one, here);
    const number = found === undefined ? undefined : valueToNumber(found);
    return make.part(one, named(number === value ? `the ${word}` : ""));
  });
}

/** Looks along a route: the step looked from, and the earlier steps that count. */
function earlierParts(of: Call, here: CellContext, make: Make): readonly ExplainedPart[] {
  const [from, second, third] = of.given;
  const [orders, values] = [columnGiven(second, here), columnGiven(third, here)];
  const order = from && evaluate(from, here);
  const lead = from ? [make.part(from, named("looking back from"))] : [];
  if (!orders || !values || typeof order !== "number") return lead;
  const orderOf = columnValues(here.view, orders.sheet, orders.column);
  const list = columnValues(here.view, values.sheet, values.column);
  const before = (at: number) =>
    Number(orderOf[at]) < order && orderOf[at] !== null && list[at] !== "" && list[at] !== null;
  let earlier = [...orderOf.keys()].filter(before);
  if (of.name === "VALUE_BEFORE") {
    const nearest = Math.max(...earlier.map((at) => Number(orderOf[at])));
    earlier = earlier.filter((at) => orderOf[at] === nearest);
  }
  const group: CellGroup = {
    words: `${wholeColumn(here.view.book, values.sheet, values.column)}, before this step`,
    ...values,
    rowIndexes: earlier,
    how: "list",
    value: undefined,
    format: undefined,
    rows: {
      words: `${columnWords(here.view.book, orders.sheet, orders.column)} is less than ${valueWords(order, undefined, here)}`,
      key: undefined,
      column: orders.column,
    },
  };
  return [...lead, make.group(group, named(of.name === "KEPT_BEFORE" ? "what is lost at each" : "the value found"))];
}

/** Which argument names the row that a function reads of a sheet; of other sheets it reads every row. */
const NAMED_BY: Partial<Readonly<Record<SheetKey, number>>> = { kilns: 0, programmes: 1 };

/** What a function reads besides what it is given: the kiln, the programme's ramps, the bands of the tariffs. */
function readParts(of: Call, here: CellContext, make: Make): readonly ExplainedPart[] {
  const { view } = here;
  const reads = functionNamed(of.name)?.reads ?? [];
  const sheets = [...new Set(reads.map(({ sheet }) => sheet))];
  return sheets.flatMap((sheet) => {
    const columns = reads.filter((read) => read.sheet === sheet).map(({ column }) => column);
    const by = NAMED_BY[sheet];
    const key = by === undefined ? undefined : of.given[by];
    const rows = key
      ? rowIndexesOf(view, sheet, columns[0] ?? "", evaluate(key, here))
      : [...view.book.sheets[sheet].rows.keys()];
    return rows.flatMap((at) => rowPart(sheet, at, columns, here, make));
  });
}

function rowPart(
  sheet: SheetKey,
  at: number,
  columns: readonly string[],
  { view }: CellContext,
  make: Make,
): readonly ExplainedPart[] {
  const row = view.book.sheets[sheet].rows[at];
  if (!row) return [];
  const filled = columns.filter((column) => {
    const value = columnValues(view, sheet, column)[at];
    return value !== null && value !== "";
  });
  if (filled.length === 0) return [];
  const words = `${view.book.sheets[sheet].title} ${rowLabel(sheet, row)}: the row it reads`;
  return [
    {
      ...make.condition(words, () => filled.map((column) => make.cell({ sheet, row: row.id, column }, named("read")))),
      key: `row ${sheet} ${row.id}`,
      role: "group",
      joins: named("read besides"),
      notes: [counted(filled.length, "cell")],
    },
  ];
}
