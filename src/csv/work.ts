// What the CSV worker does, without the worker: it keeps the file, the table and the plan between questions.

import type { SheetKey, Workbook } from "../core/document/workbook";
import { fail, ok, problem, type Result } from "../core/problem";
import type { CsvQuestion, Progress } from "./client";
import { type FileContent, readFileBytes, readFileTable } from "./file-table";
import type { ImportQuestion } from "./import-options";
import { type ImportPlan, planImport } from "./plan";
import type { SheetTable } from "./read";
import { writeRejectedCsv } from "./rejected-csv";
import { reportOf } from "./report";
import { readStudioZip, writeStudioZip } from "./studio-zip";
import { readWorkbookZip } from "./workbook-zip";

interface Kept {
  content?: FileContent;
  table?: SheetTable;
  /** What the reading of the file has to ask. */
  questions?: readonly ImportQuestion[];
  book?: Workbook;
  sheet?: SheetKey;
  plan?: ImportPlan;
  /** The editions of a studio file, by their indices; those that can't be read are left out. */
  studio?: readonly (Workbook | undefined)[];
}

/** Answers questions about one file; `onProgress` is given how far it is. */
export function createCsvWork(): (
  question: CsvQuestion,
  onProgress: (progress: Progress) => void,
) => Promise<Result<unknown>> {
  const kept: Kept = {};
  return async (question, onProgress) => {
    switch (question.kind) {
      case "file": {
        onProgress({ doing: "reading", done: 0, of: question.file.size });
        const bytes = await readFileBytes(question.file, question.name);
        if (!bytes.ok) return bytes;
        kept.content = { name: question.name, bytes: bytes.value };
        return ok(undefined);
      }
      case "workbook": {
        onProgress({ doing: "reading", done: 0, of: question.file.size });
        const bytes = new Uint8Array(await question.file.arrayBuffer());
        return readWorkbookZip(bytes, question.name, onProgress);
      }
      case "pack studio":
        return writeStudioZip(question.at, question.parts);
      case "studio": {
        onProgress({ doing: "reading", done: 0, of: question.file.size });
        const bytes = new Uint8Array(await question.file.arrayBuffer());
        const read = readStudioZip(bytes, question.name, onProgress);
        if (!read.ok) return read;
        kept.studio = read.value.books;
        return ok(read.value.contents);
      }
      case "studio edition": {
        const book = kept.studio?.[question.index];
        return book ? ok(book) : nothingYet();
      }
      case "text":
        kept.content = { name: question.name, text: question.text };
        return ok(undefined);
      case "table":
        return readTable(kept, question, onProgress);
      case "plan":
        return plan(kept, question, onProgress);
      case "change":
        return kept.plan ? ok(kept.plan.change) : nothingYet();
      case "rejected":
        return kept.plan && kept.table ? ok(writeRejectedCsv(kept.table, kept.plan.rejected)) : nothingYet();
    }
  };
}

function readTable(
  kept: Kept,
  { reading, book, sheet }: Extract<CsvQuestion, { kind: "table" }>,
  onProgress: (progress: Progress) => void,
): Result<unknown> {
  if (!kept.content) return nothingYet();
  onProgress({ doing: "parting", done: 0, of: 1 });
  const { table, preview, questions } = readFileTable(kept.content, reading, book, sheet);
  Object.assign(kept, { table, book, sheet, questions });
  return ok(preview);
}

function plan(
  kept: Kept,
  { options }: Extract<CsvQuestion, { kind: "plan" }>,
  onProgress: (progress: Progress) => void,
): Result<unknown> {
  const { table, book, sheet } = kept;
  if (!table || !book || !sheet) return nothingYet();
  kept.plan = planImport(book, sheet, table, options, (done, of) => onProgress({ doing: "checking", done, of }));
  const report = reportOf(kept.plan, book);
  return ok({ ...report, questions: [...(kept.questions ?? []), ...report.questions] });
}

function nothingYet(): Result<unknown> {
  return fail(
    problem({ code: "csv.order", where: "CSV", found: "no file", allowed: "a file that has been read first" }),
  );
}
