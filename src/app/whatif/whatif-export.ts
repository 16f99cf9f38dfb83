// What leaves the page of a what-if: the numbers as CSV, the picture as SVG or PNG. Nothing goes over a network.
import { writeTableCsv } from "../../csv/write";
import { CSV_FILE, type FileKind, fileNameFor } from "../../storage/files";
import { save } from "../csv/csv-export";
import type { Session } from "../edition/session";
import { QUESTIONS, type QuestionId } from "./whatif-settings";
import type { AnswerTable } from "./whatif-tables";

const SVG_FILE: FileKind = {
  description: "Picture",
  extensions: [".svg"],
  mime: "image/svg+xml",
  largestBytes: 50_000_000,
};
const PNG_FILE: FileKind = { ...SVG_FILE, extensions: [".png"], mime: "image/png" };

function nameOf(session: Session, question: QuestionId, extension: string): string {
  const title = QUESTIONS.find(({ id }) => id === question)?.title ?? "What if";
  return fileNameFor(`${session.book.value.meta.title}, ${title}`, extension);
}

/** The tables of an answer as the text of one CSV file; with several, the first column says which table a line is of. */
export function answerCsv(tables: readonly AnswerTable[]): string {
  const form = { delimiter: ",", decimal: "." } as const;
  const values = (table: AnswerTable) => table.rows.map((row) => row.map(({ value }) => value));
  const [first] = tables;
  if (!first || tables.length === 1) return writeTableCsv(first?.columns ?? [], first ? values(first) : [], form);
  const isAlike = tables.every((table) => table.columns.slice(1).join("|") === first.columns.slice(1).join("|"));
  if (isAlike)
    return writeTableCsv(
      ["Input", "set to", ...first.columns.slice(1)],
      tables.flatMap((table) => values(table).map((row) => [table.title, ...row])),
      form,
    );
  // Tables of different columns become one line a number, so that the file stays one table.
  const numbers = tables.flatMap((table) =>
    table.rows.flatMap(([label, ...cells]) =>
      cells.map(({ value }, at) => [table.title, label?.value ?? "", table.columns[at + 1] ?? "", value]),
    ),
  );
  return writeTableCsv(["table", "line", "what", "number"], numbers, form);
}

/** Saves the numbers of an answer as a CSV file. */
export async function saveAnswer(
  session: Session,
  question: QuestionId,
  tables: readonly AnswerTable[],
): Promise<void> {
  await save(session, nameOf(session, question, ".csv"), answerCsv(tables), CSV_FILE);
}

/** Saves a picture: its SVG text, or the bytes of a PNG. */
export async function savePicture(
  session: Session,
  question: QuestionId,
  picture: string | Uint8Array<ArrayBuffer>,
): Promise<void> {
  const kind = typeof picture === "string" ? SVG_FILE : PNG_FILE;
  await save(session, nameOf(session, question, kind.extensions[0]), picture, kind);
}
