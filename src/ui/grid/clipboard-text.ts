// What the clipboard holds, as a block of plain texts. Nothing pasted is ever put into the page as markup.
import { readMarkup } from "../shell/trusted";

/** More cells than this are refused: no sheet is this large, and the page must not stall. */
const MOST_PASTED_CELLS = 2_000_000;
/** More text than this (about 20 MB) is refused for the same reason. */
const MOST_PASTED_CHARACTERS = 20_000_000;

/** Rows of plain texts, or how many cells there were in a paste too large to take. */
export type PastedBlock =
  | { readonly kind: "rows"; readonly rows: readonly (readonly string[])[] }
  | { readonly kind: "too-large"; readonly cells: number };

const TAB = 9;
const NEWLINE = 10;
const RETURN = 13;

/** Counts the cells of a tab-separated text without building them. */
function countCells(text: string): number {
  let cells = 1;
  for (let at = 0; at < text.length - 1; at += 1) {
    const code = text.charCodeAt(at);
    if (code === TAB || code === NEWLINE) cells += 1;
  }
  return cells;
}

function isCellEnd(text: string, at: number): boolean {
  if (at >= text.length) return true;
  const code = text.charCodeAt(at);
  return code === TAB || code === NEWLINE || code === RETURN;
}

/** Where a quoted cell that opens at `start` closes; undefined where the quote is no more than a mark in the text. */
function closingQuote(text: string, start: number): number | undefined {
  for (let at = text.indexOf('"', start + 1); at !== -1; at = text.indexOf('"', at + 2)) {
    if (text[at + 1] !== '"') return isCellEnd(text, at + 1) ? at : undefined;
  }
  return undefined;
}

function readCell(text: string, start: number): { readonly content: string; readonly end: number } {
  const close = text[start] === '"' ? closingQuote(text, start) : undefined;
  if (close !== undefined) {
    const content = text.slice(start + 1, close).replaceAll('""', '"');
    return { content: content.replaceAll(/\r\n?/g, "\n"), end: close + 1 };
  }
  let end = start;
  while (!isCellEnd(text, end)) end += 1;
  return { content: text.slice(start, end), end };
}

function lineBreakLength(text: string, at: number): number {
  if (text.charCodeAt(at) === RETURN) return text.charCodeAt(at + 1) === NEWLINE ? 2 : 1;
  return text.charCodeAt(at) === NEWLINE ? 1 : 0;
}

/** Reads tab-separated text: quoted cells may hold tabs, line breaks and doubled quotes; a last line break ends the text. */
export function parseTabText(text: string): PastedBlock {
  if (text.length > MOST_PASTED_CHARACTERS) return { kind: "too-large", cells: countCells(text) };
  const rows: string[][] = [];
  let row: string[] = [];
  let cells = 0;
  let at = 0;
  while (at < text.length || row.length > 0) {
    const cell = readCell(text, at);
    row.push(cell.content);
    cells += 1;
    if (cells > MOST_PASTED_CELLS) return { kind: "too-large", cells: countCells(text) };
    at = cell.end;
    if (text.charCodeAt(at) === TAB) {
      at += 1;
      continue;
    }
    rows.push(row);
    row = [];
    at += lineBreakLength(text, at);
  }
  return { kind: "rows", rows };
}

function needsQuotes(text: string): boolean {
  return text.startsWith('"') || /[\t\n\r]/.test(text);
}

/** Writes a block as tab-separated text; cells with tabs or line breaks are quoted. */
export function formatTabText(rows: readonly (readonly string[])[]): string {
  return rows
    .map((row) => row.map((text) => (needsQuotes(text) ? `"${text.replaceAll('"', '""')}"` : text)).join("\t"))
    .join("\n");
}

const LINE_BREAK = "\u2028";

function cellText(cell: HTMLTableCellElement): string {
  for (const lineBreak of cell.querySelectorAll("br")) lineBreak.replaceWith(LINE_BREAK);
  return (cell.textContent ?? "")
    .replaceAll(/[ \t\r\n]+/g, " ")
    .replaceAll(new RegExp(` ?${LINE_BREAK} ?`, "g"), "\n")
    .trim();
}

/** Reads the first table of an HTML text as plain texts; the text is parsed apart from the page and nothing in it runs. */
export function parseTableHtml(html: string): PastedBlock {
  if (html.length > MOST_PASTED_CHARACTERS) return { kind: "too-large", cells: html.split(/<t[dh]/i).length - 1 };
  const table = readMarkup(html).querySelector("table");
  const rows: string[][] = [];
  let cells = 0;
  for (const line of table?.rows ?? []) {
    const row: string[] = [];
    for (const cell of line.cells) {
      row.push(cellText(cell));
      for (let more = 1; more < cell.colSpan; more += 1) row.push("");
    }
    cells += row.length;
    if (cells > MOST_PASTED_CELLS) return { kind: "too-large", cells };
    rows.push(row);
  }
  return { kind: "rows", rows };
}

/** Reads a paste: its plain text where there is one, else the first table of its HTML. */
export function readClipboard(data: Pick<DataTransfer, "getData">): PastedBlock {
  const text = data.getData("text/plain");
  return text === "" ? parseTableHtml(data.getData("text/html")) : parseTabText(text);
}
