// What leaves the open edition as CSV: one sheet, or all of them in a zip, with a description of the columns.
import type { CellName } from "../../core/document/access";
import { SHEET_KEYS, type SheetKey } from "../../core/document/workbook";
import type { CellValue } from "../../csv/cell-text";
import { describeSheet, describeTables } from "../../csv/metadata";
import { writeWorkbookZip } from "../../csv/workbook-zip";
import { BYTE_ORDER_MARK, type CsvWriteOptions, type Delimiter, writeSheetCsv } from "../../csv/write";
import { zipTexts } from "../../csv/zip";
import { isCellError } from "../../engine/values";
import { CSV_FILE, type FileKind, fileNameFor, saveTextFile, ZIP_FILE } from "../../storage/files";
import type { Session } from "../edition/session";

/** For whom a file is written. */
export type CsvForm = "standard" | "semicolon" | "tab";

/** What each form is, in words and in marks. */
export const CSV_FORMS: Readonly<
  Record<CsvForm, { readonly title: string; readonly delimiter: Delimiter; readonly decimal: "." | "," }>
> = {
  standard: { title: "Commas, decimal point", delimiter: ",", decimal: "." },
  semicolon: { title: "Semicolons, decimal comma", delimiter: ";", decimal: "," },
  tab: { title: "Tabs, decimal point", delimiter: "\t", decimal: "." },
};

/** How a file is to be written, as chosen. */
export interface ExportChoice {
  readonly form: CsvForm;
  readonly withComputed: boolean;
  readonly isRounded: boolean;
  readonly formulas: "kept" | "values";
  readonly hasMark: boolean;
  /** Whether one sheet comes with the description of its columns, in a zip. */
  readonly isDescribed: boolean;
}

function optionsOf(session: Session, choice: ExportChoice): CsvWriteOptions {
  const { delimiter, decimal } = CSV_FORMS[choice.form];
  const { withComputed, formulas } = choice;
  return { delimiter, decimal, withComputed, formulas, ...(choice.isRounded ? { moneyDigits: session.digits } : {}) };
}

const computedIn =
  (session: Session) =>
  (cell: CellName): CellValue => {
    const value = session.value(cell);
    return value === undefined || isCellError(value) ? null : value;
  };

/** Saves the sheet in view as a file, or with its description as a zip. */
export async function saveSheet(session: Session, choice: ExportChoice): Promise<void> {
  const book = session.book.value;
  const sheet: SheetKey = session.sheet.value;
  const options = optionsOf(session, choice);
  const text = (choice.hasMark ? BYTE_ORDER_MARK : "") + writeSheetCsv(book, sheet, computedIn(session), options);
  const title = `${book.meta.title} ${book.sheets[sheet].title}`;
  if (!choice.isDescribed) {
    await save(session, fileNameFor(title, ".csv"), text, CSV_FILE);
    return;
  }
  const url = `${sheet}.csv`;
  const described = describeTables(
    [describeSheet(book, sheet, options, url, [], computedIn(session))],
    options.delimiter,
  );
  const files = { [url]: text, [`${url}-metadata.json`]: JSON.stringify(described, undefined, 2) };
  await save(session, fileNameFor(title, ".zip"), zipTexts(files), ZIP_FILE);
}

/** Saves all sheets as a zip, from which the same edition can be opened again. */
export async function saveWorkbook(session: Session, choice: ExportChoice): Promise<void> {
  const book = session.book.value;
  const bytes = writeWorkbookZip(book, computedIn(session), {
    ...optionsOf(session, choice),
    hasMark: choice.hasMark,
  });
  const name = fileNameFor(`${book.meta.title} in ${SHEET_KEYS.length} tables`, ".zip");
  await save(session, name, bytes, ZIP_FILE);
}

/** Saves a file and shows a message of what became of it; whether it was saved. */
export async function save(
  session: Session,
  name: string,
  content: string | Uint8Array<ArrayBuffer>,
  kind: FileKind,
): Promise<boolean> {
  const saved = await saveTextFile(name, content, kind);
  if (!saved.ok) session.refuse(saved.problems);
  else if (saved.value) session.notify("done", `Saved as the file ${name}.`);
  return saved.ok && saved.value !== undefined;
}
