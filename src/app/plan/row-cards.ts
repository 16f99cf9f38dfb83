// A row of a sheet as a card: its cells as fields in the groups that the sheet's columns stand in. The ramps of a programme
// are one card.
import { LABEL_COLUMNS, rowLabel, rowOf } from "../../core/document/access";
import { hasColumn } from "../../core/document/shelf-kind";
import type { Column, Row, Workbook } from "../../core/document/workbook";
import { columnGroups } from "../edition/column-groups";
import { shownText, unitOf } from "../edition/display";
import type { Session } from "../edition/session";
import type { CardSheet } from "../edition/sheet-ways";
import { textWithUnit } from "../edition/text-with-unit";
import type { PlanField } from "./plan-parts";

/** Fields of a card that belong together, and what is computed beside them. */
export interface FieldGroup {
  readonly title: string;
  readonly fields: readonly PlanField[];
  readonly answers: readonly PlanField[];
}

export interface RowCard {
  /** The first of its rows. */
  readonly id: string;
  readonly rows: readonly string[];
  readonly title: string;
}

/** The cards of a sheet, for the rows in view in their order. */
export function cardsOf(book: Workbook, sheet: CardSheet, shown: readonly string[]): readonly RowCard[] {
  const cards = new Map<string, { id: string; rows: string[]; title: string }>();
  for (const id of shown) {
    const row = rowOf(book, sheet, id);
    if (!row) continue;
    const title = rowLabel(sheet, row);
    const key = sheet === "programmes" ? title : id;
    const card = cards.get(key);
    if (card) card.rows.push(id);
    else cards.set(key, { id, rows: [id], title });
  }
  return [...cards.values()];
}

/** What a card says of its row while it is closed. */
const SUMMARY: Readonly<Record<CardSheet, readonly string[]>> = {
  materials: ["sort", "pack_price", "pack_grams"],
  purchases: ["date", "material", "grams", "paid"],
  kilns: ["kw", "capacity"],
  programmes: [],
  tariffs: ["days", "from", "to", "price"],
  firings: ["kiln", "programme", "date"],
  channels: ["fee_rate", "commission", "sold"],
};

/** A row in a few words, such as “7.2 kW · 16 pieces”. */
export function cardSummary(session: Session, sheet: CardSheet, row: string): string {
  const words = SUMMARY[sheet].map((column) => {
    const text = shownText(session, { sheet, row, column });
    return textWithUnit(session, text, unitOf(session, { sheet, row, column }));
  });
  return words.filter(Boolean).join(" · ");
}

/** Titles that alone would say too little, or the same as another. */
const TITLES: Readonly<Record<string, string>> = {
  "kilns brick": "Hot face: material",
  "kilns brick_mm": "Hot face: thickness",
  "kilns backing": "Backing: material",
  "kilns backing_mm": "Backing: thickness",
  "kilns width": "Width or diameter inside",
  "kilns depth": "Depth inside",
  "firings ware": "The ware is",
  "firings ware_kg": "The ware weighs",
  "programmes programme": "Of the programme",
  "programmes cone": "To a cone",
  "programmes celsius": "To a temperature",
};

const titleOf = (sheet: CardSheet, { key, title }: Column) =>
  TITLES[`${sheet} ${key}`] ?? title.charAt(0).toUpperCase() + title.slice(1);

/** The parts of a card; the name and the note come first, the maker's own columns last. */
export function cardParts(book: Workbook, sheet: CardSheet, rows: readonly string[]): readonly FieldGroup[] {
  if (sheet !== "programmes") return rows.flatMap((row) => partsOfRow(book, sheet, row));
  return rows.flatMap((id) => {
    const row = rowOf(book, sheet, id);
    const parts = partsOfRow(book, sheet, id);
    // Of a ramp its name comes last: it is the programme's.
    const all = (of: "fields" | "answers") => [...parts].reverse().flatMap((part) => part[of]);
    return row
      ? [{ title: `Ramp ${row.cells.ramp ?? ""}`.trim(), fields: all("fields"), answers: all("answers") }]
      : [];
  });
}

const NAME_PART = "Name and note";

function partsOfRow(book: Workbook, sheet: CardSheet, row: string): readonly FieldGroup[] {
  const columns = book.sheets[sheet].columns.filter((column) => !column.hidden && hasColumn(book, column));
  const groups = columnGroups(sheet, columns);
  const parts = new Map<string, { fields: PlanField[]; answers: PlanField[] }>();
  const isFirst = ({ key }: Column) => key === LABEL_COLUMNS[sheet] || key === "note";
  const partOf = (column: Column) =>
    column.own ? "Your own columns" : isFirst(column) ? NAME_PART : groups.get(column.key)?.title || "What it is";
  for (const column of [...columns].sort((a, b) => Number(isFirst(b)) - Number(isFirst(a)))) {
    const title = partOf(column);
    const part = parts.get(title) ?? { fields: [], answers: [] };
    parts.set(title, part);
    const field = { cell: { sheet, row, column: column.key }, title: titleOf(sheet, column) };
    (column.kind === "input" ? part.fields : part.answers).push(field);
  }
  return [...parts].map(([title, part]) => ({ title, ...part }));
}

/** A copy of a row under a name of its own; what is said to be unique is the name alone. */
export function cellsOfCopy(
  book: Workbook,
  sheet: CardSheet,
  row: Row,
): Readonly<Record<string, Row["cells"][string]>> {
  const base = rowLabel(sheet, row);
  const taken = new Set(book.sheets[sheet].rows.map((one) => rowLabel(sheet, one).toLowerCase()));
  let name = `${base} copy`;
  for (let count = 2; taken.has(name.toLowerCase()); count += 1) name = `${base} copy ${count}`;
  return { ...row.cells, [LABEL_COLUMNS[sheet]]: name };
}
