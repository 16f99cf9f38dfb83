// What `edition.json` in a zip of tables holds, looked at before the tables are put into it: enough that filling it in can't
// stumble. Whether it is an edition is the checker's to say, once it is whole.
import { isTooDeep } from "../core/document-file";
import { fail, ok, problem, type Result } from "../core/problem";
import { SHEET_KEYS, type Workbook } from "../core/workbook";
import { DELIMITERS, type Delimiter } from "./write";

/** How the tables are written, and the edition without what stands in them. */
export interface ZipShape {
  readonly csv: { readonly delimiter: Delimiter; readonly decimal: "." | "," };
  readonly edition: Workbook;
}

/** Reads the text of `edition.json`; `name` is what the file is called. */
export function readShape(text: string, name: string, where: string): Result<ZipShape> {
  const refuse = (found: string) =>
    fail(problem({ code: "zip.shape", where: `${where}, ${name}`, found, allowed: "the file as it was saved here" }));
  if (isTooDeep(text)) return refuse("entries within entries without end");
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch {
    return refuse("a file that breaks off, or is no JSON");
  }
  if (!isObject(data) || !isObject(data.csv)) return refuse("nothing about the tables");
  const { csv, edition } = data;
  const isKnown = DELIMITERS.includes(csv.delimiter as Delimiter) && (csv.decimal === "." || csv.decimal === ",");
  if (!isKnown) return refuse("tables parted in a way that is not known here");
  const odd = oddPart(edition);
  return odd === undefined ? ok(data as unknown as ZipShape) : refuse(odd);
}

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);
const isText = (value: unknown) => typeof value === "string";
const isTextOrNothing = (value: unknown) => value === undefined || isText(value);
const isRaw = (value: unknown) =>
  isText(value) || typeof value === "number" || typeof value === "boolean" || (isObject(value) && isText(value.f));
const isLine = (value: unknown) =>
  value === undefined || (isObject(value) && isText(value.kind) && isText(value.type) && hasSpecTexts(value));

function hasSpecTexts(spec: Readonly<Record<string, unknown>>): boolean {
  const { choices } = spec;
  return (
    [spec.formula, spec.from, spec.words, spec.format].every(isTextOrNothing) &&
    (choices === undefined || (Array.isArray(choices) && choices.every(isText)))
  );
}

function isColumn(value: unknown): boolean {
  if (!isObject(value)) return false;
  const texts = [value.key, value.title, value.unit, value.kind, value.type];
  return texts.every(isText) && isTextOrNothing(value.step) && hasSpecTexts(value);
}

function isRow(value: unknown): boolean {
  return (
    isObject(value) &&
    isText(value.id) &&
    isObject(value.cells) &&
    Object.values(value.cells).every(isRaw) &&
    isLine(value.line)
  );
}

/** The first part that is not what it should be, in words. */
function oddPart(edition: unknown): string | undefined {
  if (!isObject(edition) || !isObject(edition.sheets)) return "no sheets";
  if (!isObject(edition.meta) || !isText(edition.meta.title) || !isText(edition.meta.currency))
    return "no title, or no currency";
  for (const key of SHEET_KEYS) {
    const sheet = edition.sheets[key];
    if (!isObject(sheet) || !isText(sheet.title) || !Array.isArray(sheet.columns) || !Array.isArray(sheet.rows))
      return `no sheet “${key}”`;
    const column = sheet.columns.findIndex((one) => !isColumn(one));
    if (column >= 0) return `column ${column + 1} of the sheet “${key}”, which is none`;
    const row = sheet.rows.findIndex((one) => !isRow(one));
    if (row >= 0) return `row ${row + 1} of the sheet “${key}”, which is none`;
  }
  return undefined;
}
