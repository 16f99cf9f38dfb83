// What `edition.json` in a zip of tables holds, checked and completed before the tables are put into it.
import { readBoundedJson, readDocument } from "../core/document/document-file";
import type { Workbook } from "../core/document/workbook";
import { fail, ok, problem, type Result } from "../core/problem";
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
  const held = readBoundedJson(text);
  if ("found" in held) return refuse(held.found);
  const { data } = held;
  if (!isObject(data) || !isObject(data.csv)) return refuse("nothing about the tables");
  const { csv, edition } = data;
  const isKnown = DELIMITERS.includes(csv.delimiter as Delimiter) && (csv.decimal === "." || csv.decimal === ",");
  if (!isKnown) return refuse("tables parted in a way that is not known here");
  // The checker completes it: tables are put into today's columns and lines.
  const read = readDocument(JSON.stringify(edition) ?? "", `${where}, ${name}`);
  return read.ok ? ok({ csv: csv as unknown as ZipShape["csv"], edition: read.value }) : read;
}

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);
