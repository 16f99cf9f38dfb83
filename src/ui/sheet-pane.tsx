// The sheet in view: the grid with what is above it. The grid itself is loaded when it is first needed.
import { useEffect, useRef } from "preact/hooks";
import { writeChecked } from "../app/commands";
import { editTextOf } from "../app/looks";
import type { Session } from "../app/session";
import { nextSort, WHOLE_VIEW } from "../app/view";
import { rowOf } from "../core/access";
import { focusWish, wantedCell } from "./go-to";
import type { Grid, GridEvents } from "./grid/port";
import { gridModelOf } from "./grid-model";
import { setView, shownRows, viewNeedsValues, viewOf } from "./rows-shown";

function eventsFor(session: Session): GridEvents {
  const sheet = () => session.sheet.value;
  return {
    write: (entries, how, overflow) => {
      void writeChecked(
        session,
        entries.map(({ row, column, typed }) => ({ cell: { sheet: sheet(), row, column }, typed })),
        how,
        { overflow },
      );
    },
    select: (selection) => {
      session.selection.value = { sheet: sheet(), ...selection };
    },
    toggleGroup: (group) => {
      const folded = new Set(session.folded.value);
      if (!folded.delete(group)) folded.add(group);
      session.folded.value = folded;
    },
    activateColumn: (column) => setView(session, sheet(), nextSort(viewOf(session, sheet()), column)),
    copyText: (row, column) => editTextOf(session, { sheet: sheet(), row, column }),
    explain: () => document.querySelector<HTMLElement>("#card")?.focus(),
  };
}

/** The grid of the sheet in view. */
export function SheetPane({ session }: { readonly session: Session }) {
  const host = useRef<HTMLDivElement>(null);
  const grid = useRef<Grid | undefined>(undefined);
  const answered = useRef(focusWish.peek());
  // A wish that comes before the grid is there is answered when it is.
  const takeFocus = () => {
    if (!grid.current || focusWish.peek() === answered.current) return;
    answered.current = focusWish.peek();
    grid.current.focus();
  };
  const sheet = session.sheet.value;
  const view = viewOf(session, sheet);
  const book = session.book.value;
  const version = session.valuesVersion.value;
  const folded = session.folded.value;
  // Rows depend on values only where the view does; an edit elsewhere then costs a repaint and no more.
  const shape = [
    session,
    sheet,
    view,
    book.sheets[sheet].columns,
    book.sheets[sheet].rows.length,
    folded,
    book.meta,
    viewNeedsValues(view) ? version : 0,
    sheet === "pieces" ? book.sheets.route.rows : 0,
  ];

  useEffect(() => {
    let closed = false;
    void import("./grid/handsontable-grid").then(({ createGrid }) => {
      if (closed || !host.current) return;
      grid.current = createGrid(
        host.current,
        gridModelOf(session, viewOf(session, session.sheet.value), shownRows(session)),
        eventsFor(session),
      );
      takeWanted(session, grid.current);
      takeFocus();
    });
    return () => {
      closed = true;
      grid.current?.close();
      grid.current = undefined;
    };
  }, [session]);
  useEffect(() => {
    grid.current?.show(gridModelOf(session, viewOf(session, sheet), shownRows(session)));
    if (grid.current) takeWanted(session, grid.current);
  }, shape);
  useEffect(() => grid.current?.repaint(), [book, version]);
  useEffect(() => {
    if (grid.current && wantedCell.value) takeWanted(session, grid.current);
  }, [wantedCell.value]);
  useEffect(() => takeFocus(), [focusWish.value]);
  return <div class="grid-host" id="sheet" ref={host} data-testid="grid" />;
}

function takeWanted(session: Session, grid: Grid): void {
  const wanted = wantedCell.value;
  if (!wanted) return;
  const { cell, how } = wanted;
  if (cell.sheet !== session.sheet.value || !rowOf(session.book.value, cell.sheet, cell.row)) return;
  wantedCell.value = undefined;
  if (!shownRows(session).includes(cell.row)) setView(session, cell.sheet, WHOLE_VIEW);
  grid[how]({ row: cell.row, column: cell.column });
}
