// Search over an open edition: pieces, rows, inputs, results, columns, what is written in cells, pages, actions and help.
import { type CellName, LABEL_COLUMNS, rowLabel, specOf } from "../../core/document/access";
import type { Column, Row, SheetKey } from "../../core/document/workbook";
import { displayOf } from "../edition/display";
import type { Page, Session } from "../edition/session";
import { CARD_SHEETS } from "../edition/sheet-ways";
import { GLOSSARY } from "./glossary";
import { HOW_TO } from "./how-to";

/** The kinds of things that are found, in the order in which they are listed. */
const FOUND_KINDS = [
  "Pieces",
  "Rows",
  "Inputs and results",
  "Columns",
  "In cells",
  "Pages",
  "Actions",
  "Help",
] as const;
type FoundKind = (typeof FOUND_KINDS)[number];

/** Where something found leads. */
type SearchTarget =
  | { readonly kind: "cell"; readonly cell: CellName }
  | { readonly kind: "page"; readonly page: Page }
  | { readonly kind: "sheet"; readonly sheet: SheetKey }
  | { readonly kind: "action"; readonly action: string }
  | { readonly kind: "help"; readonly word: string };

/** Something that can be found: its title, and what is said of it or where it leads. */
export interface Searchable {
  readonly title: string;
  readonly note: string;
  readonly to: SearchTarget;
}

/** What is matched; what is said of it is only put together for those that are listed. */
interface Candidate {
  readonly text: string;
  readonly show: () => Searchable;
}

export interface Found extends Searchable {
  readonly kind: FoundKind;
}

/** Of each kind so many are listed. */
const MOST = 7;

/** Finds what was typed; every word of it must occur. `pages` and `actions` are those of the interface. */
export function searchEdition(
  session: Session,
  typed: string,
  { pages, actions }: { readonly pages: readonly Searchable[]; readonly actions: readonly Searchable[] },
): readonly Found[] {
  const words = plain(typed).split(/\s+/).filter(Boolean);
  if (words.length === 0) return [];
  const things: Readonly<Record<FoundKind, () => Iterable<Candidate>>> = {
    Pieces: () => rowsOf(session, "pieces"),
    Rows: () => NAMED.flatMap((sheet) => [...rowsOf(session, sheet)]),
    "Inputs and results": () => [...linesOf(session, "edition"), ...linesOf(session, "results")],
    Columns: () => columnsOf(session),
    "In cells": () => textsOf(session),
    Pages: () => pages.map(byTitle),
    Actions: () => actions.map(byTitle),
    Help: () => HELP,
  };
  return FOUND_KINDS.flatMap((kind) => best(things[kind](), words).map((one) => ({ kind, ...one })));
}

const NAMED = ["route", ...CARD_SHEETS] as const;

const byTitle = (one: Searchable): Candidate => ({ text: one.title, show: () => one });

const HELP: readonly Candidate[] = [
  ...HOW_TO.map(({ title }) => ({ title, note: "how to", to: { kind: "help", word: title } as const })),
  ...GLOSSARY.map(({ word, meaning }) => ({ title: word, note: meaning, to: { kind: "help", word } as const })),
].map(byTitle);

const plain = (text: string) => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();

/** Those that match best: named exactly so, then beginning so, then a word that begins so, then the rest. */
function best(things: Iterable<Candidate>, words: readonly string[]): readonly Searchable[] {
  const ranks: Candidate[][] = [[], [], [], []];
  for (const thing of things) {
    const rank = rankOf(plain(thing.text), words);
    if (rank !== undefined) ranks[rank]?.push(thing);
    if ((ranks[0]?.length ?? 0) >= MOST) break;
  }
  return ranks
    .flat()
    .slice(0, MOST)
    .map(({ show }) => show());
}

function rankOf(text: string, words: readonly string[]): number | undefined {
  if (!words.every((word) => text.includes(word))) return undefined;
  const whole = words.join(" ");
  // 41 is piece 041 before it is piece 141.
  if (text === whole || text.replace(/^\D*0*/, "") === whole) return 0;
  if (text.startsWith(whole)) return 1;
  return words.every((word) => text.split(/[^\p{L}\p{N}]+/u).some((part) => part.startsWith(word))) ? 2 : 3;
}

function* rowsOf(session: Session, sheet: SheetKey): Iterable<Candidate> {
  const { title, rows } = session.book.value.sheets[sheet];
  const column = LABEL_COLUMNS[sheet];
  // The ramps of a programme have one name.
  const named = new Set<string>();
  for (const row of rows) {
    const text = rowLabel(sheet, row);
    if (named.has(text)) continue;
    named.add(text);
    const show = (): Searchable => {
      const state = sheet === "pieces" ? displayOf(session, { sheet, row: row.id, column: "outcome" }).text : "";
      const note = state === "" ? title : `${title} · ${state}`;
      return { title: text, note, to: { kind: "cell", cell: { sheet, row: row.id, column } } };
    };
    yield { text, show };
  }
}

/** Lines of a sheet that is read line by line, each with its value. */
function* linesOf(session: Session, sheet: "edition" | "results"): Iterable<Candidate> {
  const { title, rows } = session.book.value.sheets[sheet];
  for (const row of rows) {
    const cell = { sheet, row: row.id, column: "value" };
    const text = rowLabel(sheet, row);
    const show = (): Searchable => ({
      title: text,
      note: `${title} · ${displayOf(session, cell).text}`,
      to: { kind: "cell", cell },
    });
    yield { text, show };
  }
}

function* columnsOf(session: Session): Iterable<Candidate> {
  const { sheets } = session.book.value;
  const stepTitles = new Map(sheets.route.rows.map((row) => [row.id, rowLabel("route", row)]));
  for (const sheet of ["pieces", ...NAMED] as const)
    for (const column of sheets[sheet].columns) {
      const row = sheets[sheet].rows[0];
      if (!row || column.hidden || column.key === LABEL_COLUMNS[sheet]) continue;
      const step = column.step === undefined ? "" : `${stepTitles.get(column.step) ?? ""}: `;
      const cell = { sheet, row: row.id, column: column.key };
      yield byTitle({ title: `${step}${column.title}`, note: sheets[sheet].title, to: { kind: "cell", cell } });
    }
}

/** What the maker wrote in words: notes, reasons, marks. */
function* textsOf(session: Session): Iterable<Candidate> {
  const { sheets } = session.book.value;
  for (const sheet of ["pieces", ...NAMED] as const) {
    const columns = sheets[sheet].columns.filter((column) => !column.hidden && column.key !== LABEL_COLUMNS[sheet]);
    for (const row of sheets[sheet].rows)
      for (const column of columns) {
        const text = writtenText(column, row);
        if (text === undefined) continue;
        const show = (): Searchable => ({
          title: `${sheets[sheet].title} ${rowLabel(sheet, row)}, ${column.title}`,
          note: text,
          to: { kind: "cell", cell: { sheet, row: row.id, column: column.key } },
        });
        yield { text, show };
      }
  }
}

function writtenText(column: Column, row: Row): string | undefined {
  const raw = row.cells[column.key];
  return typeof raw === "string" && specOf(column, row).type === "text" ? raw : undefined;
}
