// The studio's shelf: what all editions share, as a document of the same kind with no way and no piece in it. An edition
// keeps a copy of its own; here the two are held against each other, item by item, and items go from one to the other.
import { fail, ok, type Problem, problem, type Result } from "../problem";
import { type NewRecipe, recipeProblems } from "../record/recipes";
import { standardSheets } from "../sheets/standard";
import { type CellName, rawAt } from "./access";
import { applyChange, type Change, type Operation } from "./change";
import { isSame } from "./difference";
import { freshRowId } from "./edits";
import { addEntry, changeEntry, freshEntryId } from "./list-edits";
import { isShelf, SHELF, STUDIO_LINES } from "./shelf-kind";
import { FORMAT_VERSION, type Meta, type Raw, type Row, type Workbook } from "./workbook";

/** Sheets whose rows have one name each. */
const NAMED = ["materials", "kilns", "tariffs", "channels"] as const;

/** An empty shelf in the currency and units of an edition; `started` is today, ISO 8601. */
export function emptyShelf({ meta }: Workbook, started: string): Workbook {
  const { currency, temperature, units } = meta;
  const sheets = standardSheets([]);
  const edition = sheets.edition.rows.map((row) => {
    if (row.line?.kind !== "input" || !isStudioLine(row.id)) return row;
    const { value: _, ...cells } = row.cells;
    return row.line.required ? row : { ...row, cells };
  });
  return {
    kind: "saggar edition",
    formatVersion: FORMAT_VERSION,
    meta: {
      ...{ title: "The studio’s shelf", note: "", currency, temperature, started, invented: false },
      ...(units ? { units } : {}),
    },
    template: { id: SHELF, version: 1 },
    sheets: { ...sheets, edition: { ...sheets.edition, rows: edition } },
    lists: { log: [], cases: [], recipes: [], ranges: [], plans: [], packs: [] },
  };
}

const isStudioLine = (id: string) => STUDIO_LINES.includes(id);

/** What an item is: a line of the Edition sheet, a row of a sheet, a programme, a recipe, names of accounts, the days worked. */
export type ShelfKind = "line" | (typeof NAMED)[number] | "programmes" | "recipe" | "accounts" | "days";

/** One value of an item, in a cell where it has one. */
export interface ShelfField {
  readonly key: string;
  readonly cell?: CellName;
  readonly value: unknown;
}

/** Something that editions share. */
export interface ShelfItem {
  /** The same for the same thing in another document. */
  readonly id: string;
  readonly kind: ShelfKind;
  readonly title: string;
  readonly fields: readonly ShelfField[];
}

/** Everything in a document that editions share. */
export function shelfItems(book: Workbook): readonly ShelfItem[] {
  const { accounts, calendar } = book.meta;
  const whole = (kind: ShelfKind, title: string, value: unknown): ShelfItem => ({
    ...{ id: `${kind} ${title.toLowerCase()}`, kind, title },
    fields: [{ key: "whole", value }],
  });
  return [
    ...book.sheets.edition.rows.filter(({ id }) => isStudioLine(id)).flatMap(lineItem),
    ...NAMED.flatMap((sheet) => book.sheets[sheet].rows.map((row) => rowItem(book, sheet, row))),
    ...programmesOf(book).map(([name, ramps]) => whole("programmes", name, ramps)),
    ...book.lists.recipes.map(({ id: _, ...recipe }) => whole("recipe", recipe.title, recipe)),
    ...(accounts ? [whole("accounts", "Names of accounts", accounts)] : []),
    ...(calendar ? [whole("days", "Hours and days off", studioDays(calendar))] : []),
  ];
}

function lineItem({ id, cells }: Row): readonly ShelfItem[] {
  if (cells.value === undefined) return [];
  const cell = { sheet: "edition", row: id, column: "value" } as const;
  const fields = [{ key: "value", cell, value: cells.value }];
  return [{ id: `line ${id}`, kind: "line", title: String(cells.label ?? id), fields }];
}

function rowItem(book: Workbook, sheet: (typeof NAMED)[number], row: Row): ShelfItem {
  const title = String(row.cells.id ?? row.id);
  const keys = inputsOf(book, sheet).filter((key) => key !== "id" && row.cells[key] !== undefined);
  const fields = keys.map((key): ShelfField => {
    return { key, cell: { sheet, row: row.id, column: key }, value: row.cells[key] };
  });
  return { id: `${sheet} ${title.toLowerCase()}`, kind: sheet, title, fields };
}

/** Columns that every edition has and that take entries. */
const inputsOf = (book: Workbook, sheet: (typeof NAMED)[number] | "programmes"): readonly string[] =>
  book.sheets[sheet].columns.filter(({ kind, own }) => kind === "input" && !own).map(({ key }) => key);

/** The programmes by name, each with its ramps in order. */
function programmesOf(book: Workbook): readonly (readonly [string, readonly Row["cells"][]])[] {
  const keys = inputsOf(book, "programmes").filter((key) => key !== "programme");
  const found = new Map<string, Row["cells"][]>();
  for (const { cells } of book.sheets.programmes.rows) {
    const name = String(cells.programme ?? "");
    const ramp = Object.fromEntries(keys.flatMap((key) => (cells[key] === undefined ? [] : [[key, cells[key]]])));
    found.set(name, [...(found.get(name) ?? []), ramp as Row["cells"]]);
  }
  return [...found].map(([name, ramps]) => [name, ramps.toSorted((a, b) => Number(a.ramp) - Number(b.ramp))]);
}

/** Hours a week, days off and hands; when an edition is due is its own. */
function studioDays({ hours, closed, people }: NonNullable<Meta["calendar"]>) {
  return { hours, closed, people };
}

/** A value that two documents have otherwise. */
export interface ShelfDifference {
  readonly here: ShelfItem;
  readonly there: ShelfItem;
  readonly key: string;
  readonly value: { readonly here: ShelfField | undefined; readonly there: ShelfField | undefined };
}

/** Two documents held against each other. */
export interface ShelfComparison {
  readonly differences: readonly ShelfDifference[];
  readonly onlyHere: readonly ShelfItem[];
  readonly onlyThere: readonly ShelfItem[];
}

/** What is otherwise in two documents, and what only one of them has. */
export function compareShelf(here: Workbook, there: Workbook): ShelfComparison {
  const byId = (book: Workbook) => new Map(shelfItems(book).map((item) => [item.id, item]));
  const [mine, theirs] = [byId(here), byId(there)];
  return {
    differences: [...mine.values()].flatMap((item) => {
      const other = theirs.get(item.id);
      return other ? differencesOf(item, other) : [];
    }),
    onlyHere: [...mine.values()].filter(({ id }) => !theirs.has(id)),
    onlyThere: [...theirs.values()].filter(({ id }) => !mine.has(id)),
  };
}

function differencesOf(here: ShelfItem, there: ShelfItem): readonly ShelfDifference[] {
  const keys = new Set([...here.fields, ...there.fields].map(({ key }) => key));
  return [...keys].flatMap((key) => {
    const [a, b] = [here, there].map(({ fields }) => fields.find((field) => field.key === key));
    return isSame(a?.value, b?.value) ? [] : [{ here, there, key, value: { here: a, there: b } }];
  });
}

/** An item to bring over: whole, or one value of it. */
export interface Wanted {
  readonly item: ShelfItem;
  readonly key?: string;
}

/** What came of bringing items over: the change, and what stands in the way of those left out. */
export interface Brought {
  readonly change: Change;
  readonly refused: readonly Problem[];
}

/** The change that brings items of one document into another; recipes come last, when what they name is there. */
export function bringItems(into: Workbook, wanted: readonly Wanted[], label: string): Brought {
  const able = wanted.filter(({ item, key }) => !hasFormula(item, key));
  const refused = wanted.filter((one) => !able.includes(one)).map(({ item }) => formulaProblem(item));
  const known = new Map(shelfItems(into).map((item) => [item.id, item]));
  const of = (kind: ShelfKind) => able.flatMap(({ item }) => (item.kind === kind ? [item] : []));
  const operations: Operation[] = able.flatMap(({ item, key }) => {
    const there = item.kind === "line" ? item : known.get(item.id);
    return item.fields[0]?.cell && there ? cellsOf(into, item, there, key) : [];
  });
  for (const sheet of NAMED) {
    const rows = rowsFor(
      into,
      sheet,
      of(sheet).filter(({ id }) => !known.has(id)),
    );
    if (rows.length > 0) operations.push({ kind: "add rows", sheet, at: into.sheets[sheet].rows.length, rows });
  }
  operations.push(
    ...programmeOperations(into, of("programmes")),
    ...metaOperations(into, [...of("accounts"), ...of("days")]),
  );
  for (const item of of("recipe")) {
    const brought = bringRecipe(applyChange(into, { label, operations }), wholeOf(item) as NewRecipe);
    if (brought.ok) operations.push(...brought.value);
    else refused.push(...brought.problems);
  }
  return { change: { label, operations }, refused };
}

const wholeOf = ({ fields }: ShelfItem) => fields[0]?.value;
const isFormula = (value: unknown) => typeof value === "object" && value !== null && "f" in value;

/** Whether what is to be brought over is a formula, which may name what only its own document has. */
const hasFormula = ({ fields }: ShelfItem, key: string | undefined) =>
  fields.some(
    (field) => (key === undefined || field.key === key) && field.cell !== undefined && isFormula(field.value),
  );

const formulaProblem = ({ title }: ShelfItem): Problem =>
  problem({
    code: "shelf.formula",
    where: title,
    found: "a formula",
    allowed: "amounts, since a formula may name what only its own edition has",
    fix: "Type the amount in its place first.",
  });

/** Writes the values of an item into the cells of the same one; `key` picks one of them. */
function cellsOf(into: Workbook, item: ShelfItem, there: ShelfItem, key: string | undefined): readonly Operation[] {
  const at = there.fields[0]?.cell;
  if (!at) return [];
  const keys = key === undefined ? new Set([...item.fields, ...there.fields].map((field) => field.key)) : [key];
  return [...keys].flatMap((column): Operation[] => {
    const cell = { ...at, column };
    const was = rawAt(into, cell);
    const is = item.fields.find((field) => field.key === column)?.value as Raw | undefined;
    return isSame(was, is) ? [] : [{ kind: "cell", ...cell, was, is }];
  });
}

/** Rows for items that a sheet does not have yet. */
function rowsFor(into: Workbook, sheet: (typeof NAMED)[number], items: readonly ShelfItem[]): readonly Row[] {
  const rows: Row[] = [];
  for (const { title, fields } of items) {
    const values = Object.fromEntries(fields.map(({ key, value }) => [key, value as Raw]));
    const id = freshRowId([...into.sheets[sheet].rows, ...rows], sheet.charAt(0));
    rows.push({ id, cells: { id: title, ...values } });
  }
  return rows;
}

/** Puts programmes in, each in the place of the one of its name. */
function programmeOperations(into: Workbook, items: readonly ShelfItem[]): readonly Operation[] {
  if (items.length === 0) return [];
  const held = into.sheets.programmes.rows;
  const names = new Set(items.map(({ title }) => title.toLowerCase()));
  const removed = held
    .flatMap((row, at) => (names.has(String(row.cells.programme).toLowerCase()) ? [{ row, at }] : []))
    .reverse();
  const rows: Row[] = [];
  for (const item of items)
    for (const cells of wholeOf(item) as readonly Row["cells"][])
      rows.push({ id: freshRowId([...held, ...rows], "r"), cells: { programme: item.title, ...cells } });
  return [
    ...removed.map(({ row, at }): Operation => ({ kind: "remove rows", sheet: "programmes", at, rows: [row] })),
    { kind: "add rows", sheet: "programmes", at: held.length - removed.length, rows },
  ];
}

function metaOperations({ meta }: Workbook, items: readonly ShelfItem[]): readonly Operation[] {
  let is = meta;
  for (const { kind, fields } of items) {
    const value = fields[0]?.value;
    if (kind === "accounts") is = { ...is, accounts: value as NonNullable<Meta["accounts"]> };
    else is = { ...is, calendar: { ...is.calendar, ...(value as ReturnType<typeof studioDays>) } };
  }
  return is === meta ? [] : [{ kind: "meta", was: meta, is }];
}

/** A recipe in the place of the one of its name. The shelf has no way to hold it against. */
function bringRecipe(into: Workbook, recipe: NewRecipe): Result<readonly Operation[]> {
  const held = into.lists.recipes.find(({ title }) => title.toLowerCase() === recipe.title.toLowerCase());
  const id = held?.id ?? freshEntryId(into, "recipes");
  const problems = isShelf(into) ? [] : recipeProblems(into, { ...recipe, id });
  if (problems.length > 0) return fail(...problems);
  return ok(held ? changeEntry(into, "recipes", { ...recipe, id }) : [addEntry(into, "recipes", { ...recipe, id })]);
}
