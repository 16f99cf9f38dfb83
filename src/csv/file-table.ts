// A file as a table: its bytes become text in an encoding, the text becomes rows, and the first of them are shown.

import type { SheetKey, Workbook } from "../core/document/workbook";
import { fail, ok, type Problem, type Result } from "../core/problem";
import {
  decodeBytes,
  type Encoding,
  firstUnreadable,
  HEAD_BYTES,
  refuseBinary,
  type SeenEncoding,
  seeEncoding,
} from "./encoding";
import { nameKnower } from "./headers";
import type { FileReading, ImportQuestion } from "./import-options";
import type { DecimalMark } from "./number-text";
import { readSheetCsv, type SheetTable, type TableRow } from "./read";
import type { Quote } from "./sniff";
import type { Delimiter } from "./write";

/** What was given: bytes of a file, or text pasted or dropped. */
export type FileContent =
  | { readonly name: string; readonly bytes: Uint8Array }
  | { readonly name: string; readonly text: string };

/** How a file was read, and its first rows. */
export interface FilePreview {
  readonly name: string;
  /** Undefined for text that came as text. */
  readonly encoding:
    | (Omit<SeenEncoding, "shownBy"> & { readonly shownBy: SeenEncoding["shownBy"] | "chosen" })
    | undefined;
  readonly delimiter: Delimiter;
  readonly quote: Quote;
  readonly headerLine: number;
  readonly remarks: boolean | undefined;
  readonly beginning: readonly TableRow[];
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
const CELL_SHOWN = 60;

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
): { readonly table: SheetTable; readonly preview: FilePreview; readonly questions: readonly ImportQuestion[] } {
  const seen = "bytes" in content ? encodingOf(content.bytes, reading) : undefined;
  const { text, problems } =
    "bytes" in content
      ? decodeBytes(content.bytes, seen?.encoding ?? "utf-8", content.name)
      : { text: content.text, problems: [] };
  const { encoding: _, ...parting } = reading;
  const table = readSheetCsv(text, { ...parting, where: content.name, isName: nameKnower(book, sheet) });
  const all = [...problems, ...table.problems];
  const questions = "bytes" in content && seen?.shownBy === "rest" ? lettersQuestion(content.bytes, seen.encoding) : [];
  return { table, questions, preview: { ...previewOf(content.name, table, all), encoding: seen } };
}

/** Whether the few bytes that are no UTF-8 are slips, or the whole file is in another encoding: shown, and asked. */
function lettersQuestion(bytes: Uint8Array, encoding: Encoding): ImportQuestion[] {
  const odd = encoding === "utf-8" ? firstUnreadable(bytes) : undefined;
  if (!odd) return [];
  return [
    {
      about: "letters",
      text: "Some letters of the file can't be read as UTF-8. Which is right?",
      examples: [{ line: odd.line, column: "as UTF-8", found: odd.read }],
      answers: [
        { label: `“${odd.western}”: read it as Windows-1252`, options: {}, reading: { encoding: "windows-1252" } },
        {
          label: `“${odd.read}”: UTF-8, and cells with such letters are refused`,
          options: {},
          reading: { encoding: "utf-8" },
        },
      ],
    },
  ];
}

function encodingOf(bytes: Uint8Array, reading: FileReading): FilePreview["encoding"] {
  return reading.encoding === undefined ? seeEncoding(bytes) : { encoding: reading.encoding, shownBy: "chosen" };
}

function previewOf(name: string, table: SheetTable, problems: readonly Problem[]): Omit<FilePreview, "encoding"> {
  const { delimiter, quote, headerLine, remarks, decimal, header, rows, beginning } = table;
  return {
    ...{ name, delimiter, quote, headerLine, remarks, decimal, header },
    rows: rows.slice(0, ROWS_SHOWN).map(shortened),
    beginning: beginning.map(shortened),
    rowCount: rows.length,
    problems: problems.slice(0, PROBLEMS_SHOWN),
    problemCount: problems.length,
  };
}

function shortened(row: TableRow): TableRow {
  return { ...row, cells: row.cells.map((cell) => cell.slice(0, CELL_SHOWN)) };
}
