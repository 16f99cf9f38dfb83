// The sheet in view as a list, for a phone: a row a line, opened to its labels over its values; the card below edits them.

import { textWithUnit } from "../../app/edition/text-with-unit";
import { headingsOf } from "./line-rows";
import "./row-list.css";
import { Fragment } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import { rowLabel, rowOf } from "../../core/document/access";
import type { SheetKey } from "../../core/document/workbook";
import { wantedCellOf } from "./go-to";
import { type SheetColumn, type SheetContent, sheetContentOf } from "./grid-model";
import { sheetViewOf, shownRows } from "./rows-shown";

/** Rows are listed by so many. */
const AT_ONCE = 50;

/** What a row says of itself before it is opened. */
const BRIEF: Readonly<Partial<Record<SheetKey, readonly string[]>>> = {
  pieces: ["outcome", "own"],
  route: ["kind", "plan_entries"],
};

/** Every row of the view. */
export function RowList({ session }: { readonly session: Session }) {
  session.valuesVersion.value;
  session.book.value;
  const sheet = session.sheet.value;
  const rows = shownRows(session);
  const [open, setOpen] = useState<string | undefined>(session.selection.value?.anchor.row);
  const [count, setCount] = useState(AT_ONCE);
  const model = sheetContentOf(session, sheetViewOf(session, sheet));
  const isLines = sheet === "edition" || sheet === "results";
  const headings = isLines ? headingsOf(session.book.value, sheet, rows) : new Map<string, string>();
  const wanted = wantedCellOf(session);
  const cell = wanted.value?.cell;
  useEffect(() => {
    if (cell?.sheet !== sheet) return;
    wanted.value = undefined;
    setOpen(cell.row);
    setCount(Math.max(AT_ONCE, rows.indexOf(cell.row) + 1));
  }, [cell]);
  const list = useRef<HTMLDivElement>(null);
  useEffect(() => list.current?.parentElement?.scrollTo(0, 0), []);
  const selected = session.selection.value?.anchor;
  // The card takes half of the screen as it comes: what it speaks of stays in sight.
  useEffect(() => {
    if (selected) document.querySelector(".row-list [aria-pressed=true]")?.scrollIntoView({ block: "nearest" });
  }, [selected?.row, selected?.column, open]);
  if (rows.length === 0) return null;
  return (
    <div class="row-list" id="sheet" tabIndex={-1} data-testid="row-list" ref={list}>
      {rows.slice(0, count).map((row) =>
        rowOf(session.book.value, sheet, row)?.line ? (
          <Fragment key={row}>
            {headings.has(row) ? <h3>{headings.get(row)}</h3> : null}
            <Line session={session} model={model} row={row} />
          </Fragment>
        ) : (
          <section key={row}>
            <button
              type="button"
              class="row-head"
              aria-expanded={open === row}
              onClick={() => setOpen(open === row ? undefined : row)}
            >
              <b>{nameOf(session, sheet, row)}</b>
              {(BRIEF[sheet] ?? []).map((column) => (
                <Brief key={column} model={model} row={row} column={column} />
              ))}
            </button>
            {open === row ? <Groups session={session} model={model} row={row} /> : null}
          </section>
        ),
      )}
      {count < rows.length ? (
        <button type="button" onClick={() => setCount(count + AT_ONCE)}>
          Show {Math.min(AT_ONCE, rows.length - count)} more of {rows.length}
        </button>
      ) : null}
    </div>
  );
}

interface RowProps {
  readonly session: Session;
  readonly model: SheetContent;
  readonly row: string;
}

function nameOf(session: Session, sheet: SheetKey, id: string): string {
  const row = rowOf(session.book.value, sheet, id);
  return row ? rowLabel(sheet, row) : id;
}

function Brief({
  model,
  row,
  column,
}: {
  readonly model: SheetContent;
  readonly row: string;
  readonly column: string;
}) {
  const { text } = model.display(row, column);
  const of = model.columns.find(({ key }) => key === column);
  return text === "" || !of ? null : (
    <span class={of.align === "end" ? "number" : "quiet"}>
      {text} {of.align === "end" ? <small>{of.unit}</small> : null}
    </span>
  );
}

/** A line of Edition or Results: one value. */
function Line({ session, model, row }: RowProps) {
  const { text } = model.display(row, "value");
  const unit = model.display(row, "unit").text;
  const note = model.display(row, "note").text;
  return (
    <button
      type="button"
      class="row-value"
      aria-pressed={session.selection.value?.anchor.row === row}
      onClick={() => select(session, row, "value")}
    >
      <span>
        {nameOf(session, session.sheet.value, row)}
        {note === "" ? null : <small class="quiet">{note}</small>}
      </span>
      <b>{text === "" ? "–" : textWithUnit(session, text, unit)}</b>
    </button>
  );
}

/** The values of a row, group by group; what is computed and blank is left out. */
function Groups({ session, model, row }: RowProps) {
  const ids = model.groups.length === 0 ? [""] : model.groups.map(({ id }) => id);
  return (
    <div class="row-groups">
      {ids.map((id) => {
        const group = model.groups.find((one) => one.id === id);
        const columns = model.columns.filter(
          (column) => column.group === id && (column.isInput || model.display(row, column.key).text !== ""),
        );
        if (columns.length === 0) return null;
        return (
          <div key={id}>
            {group?.canFold ? (
              <button
                type="button"
                class="group-head"
                aria-expanded={!group.isFolded}
                onClick={() => toggle(session, id)}
              >
                {group.title}
              </button>
            ) : group?.title ? (
              <h3>{group.title}</h3>
            ) : null}
            {columns.map((column) => (
              <Value key={column.key} session={session} model={model} row={row} column={column} />
            ))}
          </div>
        );
      })}
    </div>
  );
}

function Value({ session, model, row, column }: RowProps & { readonly column: SheetColumn }) {
  const { text, isDefault, isOverride } = model.display(row, column.key);
  const selected = session.selection.value?.anchor;
  return (
    <button
      type="button"
      class={column.isInput ? "row-value input" : "row-value"}
      aria-pressed={selected?.row === row && selected.column === column.key}
      onClick={() => select(session, row, column.key)}
    >
      <span>{column.title}</span>
      <b class={isDefault ? "default" : undefined}>
        {isOverride ? "◂ " : ""}
        {text === "" ? "–" : textWithUnit(session, text, column.unit)}
      </b>
    </button>
  );
}

function toggle(session: Session, group: string): void {
  const folded = new Set(session.folded.value);
  if (!folded.delete(group)) folded.add(group);
  session.folded.value = folded;
}

/** The card then speaks of that cell, and edits it. */
function select(session: Session, row: string, column: string): void {
  session.selection.value = { sheet: session.sheet.value, anchor: { row, column }, rows: [row], columns: [column] };
}
