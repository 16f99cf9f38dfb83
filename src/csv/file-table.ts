// A file as a table: its bytes become text in an encoding, the text becomes rows, and the first of them are shown.
import { fail, ok, type Problem, type Result } from "../core/problem";
import type { SheetKey, Workbook } from "../core/workbook";
import { decodeBytes, type Encoding, HEAD_BYTES, refuseBinary, type SeenEncoding, seeEncoding } from "./encoding";
import { matchHeaders } from "./headers";
import type { DecimalMark } from "./number-text";
import { readSheetCsv, type SheetTable, type TableRow } from "./read";
import type { Quote } from "./sniff";
import type { Delimiter } from "./write";

/** How a file is to be read; what is left out is found in the file. */
export interface FileReading {
  readonly encoding?: Encoding;
  readonly delimiter?: Delimiter;
  readonly quote?: Quote;
  readonly hasHeader?: boolean;
}

/** What was given: bytes of a file, or text pasted or dropped. */
export type FileContent =
  | { readonly name: string; readonly bytes: Uint8Array }
  | { readonly name: string; readonly text: string };

/** How a file was read, and its first rows. */
export interface FilePreview {
  readonly name: string;
  /** Undefined for text that came as text. */
  readonly encoding:
    | (Omit<SeenEncoding, "shownBy"> & { readonly shownBy: SeenEncoding["shownBy"] | "told" })
    | undefined;
  readonly delimiter: Delimiter;
  readonly quote: Quote;
  readonly hasHeader: boolean;
  readonly decimal: DecimalMark | undefined;
  readonly header: readonly string[];
  readonly rows: readonly TableRow[];
  readonly rowCount: number;
  /** The first of them, and how many there are. */
  readonly problems: readonly Problem[];
  readonly problemCount: number;
}

const ROWS_SHOWN = 6;
const PROBLEMS_SHOWN = 20;

/** The bytes of a file, unless its beginning shows that it is no text; then the rest is not read. */
export async function readFileBytes(file: Blob, name: string): Promise<Result<Uint8Array>> {
  const head = new Uint8Array(await file.slice(0, HEAD_BYTES).arrayBuffer());
  const problems = refuseBinary(head, name);
  if (problems.length > 0) return fail(...problems);
  return ok(new Uint8Array(await file.arrayBuffer()));
}

/** Reads a file for a sheet, whose column names tell a header from data. */
export function readFileTable(
  content: FileContent,
  reading: FileReading,
  book: Workbook,
  sheet: SheetKey,
): { readonly table: SheetTable; readonly preview: FilePreview } {
  const seen = "bytes" in content ? encodingOf(content.bytes, reading) : undefined;
  const { text, problems } =
    "bytes" in content
      ? decodeBytes(content.bytes, seen?.encoding ?? "utf-8", content.name)
      : { text: content.text, problems: [] };
  const { encoding: _, ...parting } = reading;
  const isName = (name: string) =>
    /[^\d.,\s]/.test(name) && matchHeaders(book, sheet, [name.trim()]).some(({ use }) => use !== "unknown");
  const table = readSheetCsv(text, { ...parting, where: content.name, isName });
  const all = [...problems, ...table.problems];
  return { table, preview: { ...previewOf(content.name, table, all), encoding: seen } };
}

function encodingOf(bytes: Uint8Array, reading: FileReading): FilePreview["encoding"] {
  return reading.encoding === undefined ? seeEncoding(bytes) : { encoding: reading.encoding, shownBy: "told" };
}

function previewOf(name: string, table: SheetTable, problems: readonly Problem[]): Omit<FilePreview, "encoding"> {
  const { delimiter, quote, hasHeader, decimal, header, rows } = table;
  return {
    ...{ name, delimiter, quote, hasHeader, decimal, header },
    rows: rows.slice(0, ROWS_SHOWN),
    rowCount: rows.length,
    problems: problems.slice(0, PROBLEMS_SHOWN),
    problemCount: problems.length,
  };
}
