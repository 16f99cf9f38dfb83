// The run log as it is looked at: filtered, in words, and written to a file.
import { rowLabel, rowOf } from "../../core/document/access";
import type { Workbook } from "../../core/document/workbook";
import { ok, type Result } from "../../core/problem";
import { choosePieces } from "../../core/record/choose-pieces";
import type { LogEntry } from "../../core/record/run-log";
import { AMOUNTS } from "../../core/sheets/step-kinds";
import { stepTitle } from "../../core/steps/piece-steps";
import { type LogLine, writeLogCsv } from "../../csv/log-csv";
import { CSV_FILE, fileNameFor } from "../../storage/files";
import { CSV_FORMS, type CsvForm, save } from "../csv/csv-export";
import type { Session } from "../edition/session";
import { localDay } from "../edition/written-days";

/** What to look for; blanks look for everything. */
export interface LogFilter {
  readonly step: string;
  readonly act: string;
  /** Piece numbers such as `41-60, 66`. */
  readonly pieces: string;
  readonly words: string;
  /** A day, ISO 8601. */
  readonly day: string;
}

export const WHOLE_LOG: LogFilter = { step: "", act: "", pieces: "", words: "", day: "" };

/** What each act is called. */
export const ACT_TITLES: Readonly<Record<string, string>> = {
  done: "Done up to a step",
  ...Object.fromEntries(AMOUNTS.map(({ column, title }) => [column, title])),
  firing: "Into a firing",
  lost: "Lost here",
  "not lost": "Not lost after all",
  passed: "Passed",
  tier: "Tier",
  note: "Note",
  extra: "Extra step",
  rescue: "Rescue",
  sold: "Sold",
  "written down": "Written down",
  consigned: "Consigned",
  "given away": "Given away",
  kept: "Kept",
  broken: "Broken after finishing",
  "in stock": "Back in stock",
};

/** Entries that fit a filter, newest first; piece numbers that name nothing are a problem. */
export function filterLog(book: Workbook, filter: LogFilter): Result<readonly LogEntry[]> {
  const chosen = filter.pieces.trim() === "" ? undefined : choosePieces(book, filter.pieces);
  if (chosen && !chosen.ok) return chosen;
  const wanted = chosen ? new Set(chosen.value) : undefined;
  const words = filter.words.toLowerCase().split(/\s+/).filter(Boolean);
  const fits = (entry: LogEntry) =>
    (filter.act === "" || entry.act === filter.act) &&
    (filter.day === "" || localDay(entry.at) === filter.day) &&
    (filter.step === "" || stepsOf(entry).has(filter.step)) &&
    (wanted === undefined || entry.pieces.some((id) => wanted.has(id))) &&
    words.every((word) => `${entry.label} ${entry.note ?? ""}`.toLowerCase().includes(word));
  return ok(book.lists.log.filter(fits).reverse());
}

/** The steps an entry has to do with: those whose cells it wrote, that pieces were lost at, or that it made. */
function stepsOf(entry: LogEntry): ReadonlySet<string> {
  return new Set(
    entry.writes.flatMap(({ sheet, row, column, was, is }) => {
      if (sheet === "route") return [row];
      if (column === "lost_at") return [was, is].filter((step) => typeof step === "string");
      return column.includes(".") ? [column.split(".")[0] ?? ""] : [];
    }),
  );
}

/** Saves entries as a file. */
export async function saveLog(session: Session, entries: readonly LogEntry[], form: CsvForm): Promise<void> {
  const book = session.book.value;
  const lines = entries.map((entry) => logLine(book, entry));
  const text = writeLogCsv(lines, CSV_FORMS[form].delimiter);
  await save(session, fileNameFor(`${book.meta.title} run log`, ".csv"), text, CSV_FILE);
}

function logLine(book: Workbook, entry: LogEntry): LogLine {
  const label = (id: string) => {
    const row = rowOf(book, "pieces", id);
    return row ? rowLabel("pieces", row) : id;
  };
  return {
    at: entry.at,
    act: ACT_TITLES[entry.act] ?? entry.act,
    what: entry.label,
    steps: [...stepsOf(entry)].map((step) => stepTitle(book, step)),
    pieces: entry.pieces.map(label),
    cells: entry.writes.length,
    note: entry.note ?? "",
    takenBack: entry.takenBack ?? "",
  };
}
