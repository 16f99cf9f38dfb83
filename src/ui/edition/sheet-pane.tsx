// The sheet in view: the grid with what is above it. The grid itself is loaded when it is first needed.
import { useEffect, useLayoutEffect, useRef } from "preact/hooks";
import { writeChecked } from "../../app/commands/commands";
import { editTextOf } from "../../app/edition/display";
import type { Session } from "../../app/edition/session";
import { nextSort, WHOLE_VIEW } from "../../app/edition/view";
import { describeCell, rowOf } from "../../core/document/access";
import { type CellEntry, widthChange } from "../../core/document/edits";
import { loadGrid } from "../grid/chosen";
import type { Grid, GridEvents } from "../grid/port";
import { focusWish, wantedCellOf } from "./go-to";
import { gridModelOf } from "./grid-model";
import { keepText } from "./kept-text";
import { setView, sheetViewOf, shownRows, viewNeedsValues } from "./rows-shown";
import { sheetPart } from "./sheet-part";

/** How long numbers have to rest before columns are measured anew, in milliseconds. */
const RESTING = 250;

function eventsFor(session: Session): GridEvents {
  const sheet = () => session.sheet.value;
  /** Where typing began, and whether the card named that cell: only there may it land. */
  let typingIn = sheet();
  let typingInWords = "";
  let isNamed = true;
  return {
    write: (entries, how, overflow) => {
      const of = how === "typed" ? typingIn : sheet();
      const written = entries.map(({ row, column, typed }) => ({ cell: { sheet: of, row, column }, typed }));
      if (how === "typed" && !isNamed) for (const { typed } of written) keepText(session, typed, typingInWords);
      else void writeOrKeep(session, written, how, overflow);
    },
    beginTyping: ({ row, column }) => {
      typingIn = sheet();
      typingInWords = describeCell(session.book.value, { sheet: typingIn, row, column });
      const named = session.selection.value?.sheet === typingIn ? session.selection.value.anchor : undefined;
      // Where the card names none, it names the one that is typed into from now on.
      if (!named)
        session.selection.value = { sheet: typingIn, anchor: { row, column }, rows: [row], columns: [column] };
      isNamed = !named || (named.row === row && named.column === column);
    },
    keep: (text) => keepText(session, text, typingInWords),
    select: (selection) => {
      session.selection.value = { sheet: sheet(), ...selection };
    },
    toggleGroup: (group) => {
      const folded = new Set(session.folded.value);
      if (!folded.delete(group)) folded.add(group);
      session.folded.value = folded;
    },
    activateColumn: (column) => setView(session, sheet(), nextSort(sheetViewOf(session, sheet()), column)),
    resizeColumn: (column, width) => {
      const of = sheet();
      const widen = (px: number) => session.commit(widthChange(session.book.value, { sheet: of, column, px }));
      if (width !== "fit") widen(width);
      else
        void import("./fitting-width").then(({ fittingWidth }) =>
          widen(fittingWidth(session, sheetViewOf(session, of), shownRows(session), column)),
        );
    },
    copyText: (row, column) => editTextOf(session, { sheet: sheet(), row, column }),
    explain: () => document.querySelector<HTMLElement>("#card")?.focus(),
  };
}

/** What rows and columns of the sheet in view depend on. On values only where the view does: an edit elsewhere is a repaint. */
function shapeOf(session: Session): readonly unknown[] {
  const sheet = session.sheet.value;
  const view = sheetViewOf(session, sheet);
  const book = session.book.value;
  return [
    ...[session, sheet, view, book.sheets[sheet].columns, book.sheets[sheet].rows.length],
    ...[session.folded.value, book.meta],
    viewNeedsValues(view) ? session.valuesVersion.value : 0,
    sheet === "pieces" ? book.sheets.route.rows : 0,
    sheetPart(session, sheet),
  ];
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
  const wanted = wantedCellOf(session).value;
  const sheet = session.sheet.value;
  const book = session.book.value;
  const version = session.valuesVersion.value;

  useEffect(() => {
    let closed = false;
    void loadGrid().then(({ createGrid }) => {
      if (closed || !host.current) return;
      grid.current = createGrid(
        host.current,
        gridModelOf(session, sheetViewOf(session, session.sheet.value), shownRows(session)),
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
  // Before the next key comes: what is typed then must find the grid that the card speaks of.
  useLayoutEffect(() => {
    grid.current?.show(gridModelOf(session, sheetViewOf(session, sheet), shownRows(session)));
    if (grid.current) takeWanted(session, grid.current);
  }, shapeOf(session));
  useLayoutEffect(() => {
    grid.current?.repaint();
    // Once the numbers rest: one may need a wider column, words another line. Where neither does, this paints and no more.
    const resting = setTimeout(
      () => grid.current?.show(gridModelOf(session, sheetViewOf(session, sheet), shownRows(session))),
      RESTING,
    );
    return () => clearTimeout(resting);
  }, [book, version]);
  useLayoutEffect(() => {
    if (grid.current && wanted) takeWanted(session, grid.current);
  }, [wanted]);
  useLayoutEffect(() => takeFocus(), [focusWish.value]);
  return (
    <div class="grid-host" id="sheet" ref={host} data-testid="grid" style={`--rows: ${shownRows(session).length}`} />
  );
}

/** Writes entries into cells that are there; what was typed and can't be written anywhere is kept. */
async function writeOrKeep(
  session: Session,
  entries: readonly CellEntry[],
  how: Parameters<GridEvents["write"]>[1],
  overflow: number,
): Promise<void> {
  const isThere = ({ cell }: CellEntry) => rowOf(session.book.value, cell.sheet, cell.row) !== undefined;
  const there = entries.filter(isThere);
  const isLocked = session.readOnly.value !== undefined;
  if (there.length > 0 || overflow > 0) await writeChecked(session, there, how, { overflow });
  if (how !== "typed") return;
  for (const entry of entries)
    if (isLocked || !isThere(entry)) keepText(session, entry.typed, describeCell(session.book.value, entry.cell));
}

function takeWanted(session: Session, grid: Grid): void {
  const wantedCell = wantedCellOf(session);
  const wanted = wantedCell.value;
  if (!wanted) return;
  const { cell, how } = wanted;
  if (cell.sheet !== session.sheet.value || !rowOf(session.book.value, cell.sheet, cell.row)) return;
  // Once the row is in view again, the grid is shown anew and comes here.
  if (!shownRows(session).includes(cell.row)) {
    setView(session, cell.sheet, WHOLE_VIEW);
    return;
  }
  wantedCell.value = undefined;
  grid[how]({ row: cell.row, column: cell.column });
}
