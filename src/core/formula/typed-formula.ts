// A formula as a maker types it: titles are accepted in braces, and every name is checked before it is kept.
import { columnOf, rowLabel, rowOf } from "../document/access";
import type { Column, Sheet, SheetKey, Workbook } from "../document/workbook";
import { fail, ok, type Problem, problem, type Result } from "../problem";
import { didYouMean, formulaText, type Part, parseFormula } from "./formula";

const logical = new Set(["TRUE", "FALSE"]);

/** Checks a typed formula for a cell of `sheet` and gives it back in the form in which it is kept. */
export function checkTypedFormula(book: Workbook, sheet: SheetKey, typed: string): Result<string> {
  const inputs = new Set(book.sheets.edition.rows.map((row) => row.id));
  const named = typed.replace(
    /\{([^{}]*)\}/g,
    (whole, inside: string) => keyForTitle(book, sheet, inside.trim()) ?? whole,
  );
  const parsed = parseFormula(named, (word) => inputs.has(word));
  if (!parsed.ok) return parsed;
  const problems = parsed.value.flatMap((part) => checkPart(book, sheet, part, inputs));
  return problems.length > 0 ? fail(...problems) : ok(formulaText(parsed.value));
}

/** `{Glaze: coats}`, `{Coats}` or `{own}` as the key it stands for; undefined where it is a key already or unknown. */
function keyForTitle(book: Workbook, sheet: SheetKey, inside: string): string | undefined {
  const at = book.sheets[sheet];
  if (columnOf(book, sheet, inside)) return undefined;
  const wanted = inside.toLowerCase().replace(/\s*:\s*/, ": ");
  const hits = at.columns.filter((column) => titlesOf(book, column).includes(wanted));
  return hits.length === 1 && hits[0] ? `{${hits[0].key}}` : undefined;
}

function titlesOf(book: Workbook, column: Column): string[] {
  const step = column.step ? rowOf(book, "route", column.step) : undefined;
  const title = column.title.toLowerCase();
  return step ? [title, `${rowLabel("route", step).toLowerCase()}: ${title}`] : [title];
}

function checkPart(book: Workbook, sheet: SheetKey, part: Part, inputs: ReadonlySet<string>): Problem[] {
  if (part.is === "own") return checkColumn(book.sheets[sheet], part.column);
  if (part.is === "range") return checkColumn(book.sheets[part.sheet], part.column);
  if (part.is === "fixed") {
    if (rowOf(book, part.sheet, part.row)) return checkColumn(book.sheets[part.sheet], part.column);
    const known = book.sheets[part.sheet].rows.map((row) => row.id);
    return [
      unknown(
        "formula.row",
        `{${part.sheet}[${part.row}]…}`,
        `a row of ${book.sheets[part.sheet].title}`,
        part.row,
        known,
      ),
    ];
  }
  if (part.is === "name" && !inputs.has(part.name) && !logical.has(part.name.toUpperCase()))
    return [unknown("formula.name", part.name, "the name of an input on the Edition sheet", part.name, inputs)];
  return [];
}

function checkColumn(sheet: Sheet, key: string): Problem[] {
  if (key.startsWith("@") || sheet.columns.some((column) => column.key === key)) return [];
  const known = sheet.columns.map((column) => column.key);
  return [unknown("formula.column", `{${key}}`, `a column of ${sheet.title}`, key, known)];
}

function unknown(code: string, found: string, allowed: string, word: string, known: Iterable<string>): Problem {
  const near = didYouMean(word, known);
  return problem({ code, where: "The formula", found, allowed, ...(near ? { fix: `Did you mean ${near}?` } : {}) });
}

/** A formula in words: titles for columns, labels for inputs, × and ÷ for operators. */
export function readableFormula(book: Workbook, sheet: SheetKey, formula: string): string {
  const parsed = parseFormula(formula.replace(/^=/, ""));
  if (!parsed.ok) return formula;
  return parsed.value.map((part) => readablePart(book, sheet, part)).join("");
}

function readablePart(book: Workbook, sheet: SheetKey, part: Part): string {
  switch (part.is) {
    case "own":
      return columnOf(book, sheet, part.column)?.title ?? part.column;
    case "range":
      return `${book.sheets[part.sheet].title} › ${columnOf(book, part.sheet, part.column)?.title ?? part.column}`;
    case "fixed": {
      const row = rowOf(book, part.sheet, part.row);
      const column = columnOf(book, part.sheet, part.column);
      const title = part.column === "value" ? "" : ` › ${column?.title ?? part.column}`;
      return `${row ? rowLabel(part.sheet, row) : part.row}${title}`;
    }
    case "name": {
      const row = rowOf(book, "edition", part.name);
      return row ? rowLabel("edition", row) : part.name;
    }
    case "function":
      return part.name;
    case "text":
      return part.text.replaceAll("*", " × ").replaceAll("/", " ÷ ");
  }
}
