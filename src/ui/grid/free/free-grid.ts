// The grid of our own on show. It owns no data: what cells show comes from the model, and every wish to write goes to the app.
import "../grid.css";
import "./free-grid.css";
import type { Area } from "../area";
import { listenToClipboard } from "../grid-clipboard";
import { frameGrid, type GridFrame } from "../grid-frame";
import { keyHandler } from "../grid-keys";
import { type GridWriting, gridWriting } from "../grid-writing";
import type { CreateGrid, Grid, GridCell, GridEvents, GridModel, GridSelection } from "../port";
import { hasSameColumns, hasSameRows } from "../same-shape";
import { type RestoredPosition, restorePosition, savePosition } from "../saved-position";
import { areaOf, isSameSelection, selectionOf } from "../selected";
import { ShownSheet } from "../sheet-view";
import { possibleWidth } from "../sizes";
import { showWholeText } from "../whole-text";
import { CellEditing, type EditEnd } from "./cell-editing";
import type { EditedText } from "./cell-field";
import { onCellKey } from "./cell-keys";
import { isComposerAtWork } from "./ime";
import { listenToPointer } from "./pointer";
import type { Position } from "./position";
import { BlockSelection, type SelectHow } from "./selection";
import { marksIn } from "./selection-marks";
import { GridTable } from "./sheet-table";

class FreeGrid implements Grid {
  readonly #events: GridEvents;
  readonly #view: ShownSheet;
  readonly #frame: GridFrame;
  readonly #selection: BlockSelection;
  readonly #table: GridTable;
  readonly #editing: CellEditing;
  readonly #writing: GridWriting;
  readonly #stopListening = new AbortController();
  #area: Area | undefined;
  #fillTarget: Area | undefined;
  #reported: GridSelection | undefined;
  #isShowing = false;
  #isClosed = false;

  constructor(host: HTMLElement, model: GridModel, events: GridEvents) {
    this.#events = events;
    this.#view = new ShownSheet(model);
    this.#frame = frameGrid(host);
    this.#selection = new BlockSelection((shown) => this.#onSelect(shown));
    this.#table = new GridTable(this.#frame.container, this.#view, {
      keyboardPosition: () => this.#keyboardPosition(),
      marksOf: (row, col) => marksIn({ row, col }, this.#area, this.#selection.highlight, this.#fillTarget),
      isEdited: (row, col) => this.#editing.isAt(row, col),
    });
    this.#writing = gridWriting(this.#selection, this.#view, events);
    this.#editing = new CellEditing({
      container: this.#frame.container,
      view: this.#view,
      table: this.#table,
      selection: this.#selection,
      writing: this.#writing,
      events,
      selectedArea: () => this.#area,
    });
    this.#nameSheet();
    this.#table.reshape();
    this.#table.drawAnew();
    this.#listen();
  }

  show(model: GridModel): void {
    const isSameShape = hasSameRows(this.#view.model, model) && hasSameColumns(this.#view.model, model);
    if (isSameShape && model.label === this.#view.model.label) {
      this.#view.replace(model);
      this.repaint();
      return;
    }
    const draft = this.#editing.draft();
    const on = this.#editing.field.keepsArrows ? "its text" : "nothing";
    const hadFocus = this.#hasFocus();
    this.#editing.finish("given up");
    this.#editing.field.stopWaiting();
    const kept = savePosition(this.#selection, this.#view, {
      scrollTop: this.#table.viewport.top,
      scrollLeft: this.#table.viewport.left,
    });
    this.#isShowing = true;
    this.#view.replace(model);
    const found = restorePosition(kept, this.#view, this.#table.viewport.height);
    this.#nameSheet();
    this.#table.reshape();
    this.#table.scrollTo(found.scrollTop, found.scrollLeft);
    this.#selectFound(found);
    this.#table.drawAnew();
    this.#isShowing = false;
    // A keyboard that was in the sheet stays in it.
    if (hadFocus) this.#takeFocus();
    this.#reportSelection();
    if (draft !== undefined) this.#editing.takeUp(draft, on);
  }

  repaint(): void {
    this.#table.repaintSoon();
  }

  select(cell: GridCell): void {
    const position = this.#positionOf(cell);
    if (position === undefined) return;
    this.#editing.finish("written");
    this.#selection.selectCell(position.row, position.col);
    this.#takeFocus();
  }

  reveal(cell: GridCell): void {
    // The page may name that cell now: the one that is selected is reported anew when the keyboard comes.
    this.#reported = undefined;
    const position = this.#positionOf(cell);
    if (position !== undefined) this.#table.reveal(position);
  }

  focus(): void {
    const { highlight } = this.#selection;
    if (!this.#editing.isOpen && highlight !== undefined) this.#table.reveal(highlight);
    this.#takeFocus();
  }

  close(): void {
    if (this.#isClosed) return;
    this.#isClosed = true;
    this.#editing.close();
    this.#stopListening.abort();
    this.#table.remove();
    this.#frame.remove();
  }

  #positionOf(cell: GridCell): Position | undefined {
    const row = this.#view.rowIndex(cell.row);
    const col = this.#view.columnIndex(cell.column);
    return row === undefined || col === undefined ? undefined : { row, col };
  }

  #listen(): void {
    const { signal } = this.#stopListening;
    const { scroller } = this.#table;
    const onKey = this.#keyHandler();
    scroller.addEventListener("keydown", (event) => onKey(event), { signal });
    scroller.addEventListener(
      "scroll",
      () => {
        this.#table.followScroll();
        this.#editing.field.follow();
      },
      { signal, passive: true },
    );
    scroller.addEventListener("focusin", (event) => this.#onFocusIn(event), { signal });
    this.#editing.field.input.addEventListener(
      "blur",
      () => {
        // The window that loses the focus keeps its place; a field that loses it to the page is done.
        if (document.activeElement === this.#editing.field.input) return;
        if (!this.#editing.isOpen) this.#editing.field.stopWaiting();
        else this.#editing.finish("written");
      },
      { signal },
    );
    scroller.addEventListener("mouseover", (event) => showWholeText(event.target), { signal });
    const resizing = new ResizeObserver(() => {
      this.#table.measure();
      this.#table.draw();
    });
    resizing.observe(scroller);
    signal.addEventListener("abort", () => resizing.disconnect());
    listenToClipboard(
      {
        isOurs: () => this.#hasFocus() && !this.#editing.isOpen,
        copy: this.#writing.copy,
        clear: this.#writing.clear,
        paste: this.#writing.paste,
      },
      signal,
    );
    this.#listenToPointer(signal);
  }

  #listenToPointer(signal: AbortSignal): void {
    listenToPointer(
      this.#table,
      {
        pressed: () => this.#editing.finish("written"),
        select: (position, how) => {
          if (how === "extend" && this.#area !== undefined) this.#selection.extendTo(position);
          else this.#selection.selectCell(position.row, position.col);
          this.#takeFocus();
        },
        extendTo: (position) => this.#selection.extendTo(position),
        selectColumns: (first, last) => {
          const rows = this.#view.model.rows.length;
          if (rows > 0) this.#selection.selectRange({ row: -1, col: first }, { row: rows - 1, col: last });
          this.#takeFocus();
        },
        selectRows: (first, last) => {
          this.#selection.selectRange({ row: first, col: 0 }, { row: last, col: this.#view.model.columns.length - 1 });
          this.#takeFocus();
        },
        selectedArea: () => this.#area,
        aimFill: (target) => {
          this.#fillTarget = target;
          this.#table.markAll();
        },
        fill: this.#writing.fill,
        edit: () => this.#editing.open("its text"),
        explain: (position) => this.#explain(position),
        toggleGroup: (col) => this.#activateHead({ row: -2, col }),
        activateColumn: (col) => this.#activateHead({ row: -1, col }),
        columnsUnder: ({ row, col }) => {
          const span = row === -2 ? this.#view.spanAt(col) : undefined;
          return span === undefined
            ? { first: col, last: col }
            : { first: span.first, last: span.first + span.count - 1 };
        },
        widthOf: (col) => this.#view.columnAt(col)?.width ?? 0,
        resizeColumn: (col, width) => this.#resizeColumn(col, width),
      },
      signal,
    );
  }

  #keyHandler(): (event: KeyboardEvent) => void {
    const shared = keyHandler({
      isEditing: () => this.#editing.isOpen,
      isOnHeader: () => (this.#selection.highlight?.row ?? 0) < 0,
      isBlock: () => this.#selection.isBlock,
      moveOn: (step) => this.#moveOn(step),
      movePage: (step) => this.#movePage(step, "anew"),
      leave: (step) => this.#frame.leave(step),
      announceLeaving: () => this.#frame.say("Tab leaves the sheet now."),
      clear: () => this.#writing.clear(),
      fillDown: () => this.#writing.fillDown(),
      explain: () => {
        if (this.#selection.highlight !== undefined) this.#explain(this.#selection.highlight);
      },
      activateHeader: () => {
        if (this.#selection.highlight !== undefined) this.#activateHead(this.#selection.highlight);
      },
      resizeColumn: (by) => {
        const col = this.#selection.highlight?.col ?? -1;
        const width = this.#view.columnAt(col)?.width ?? 0;
        this.#resizeColumn(col, by === "fit" ? by : possibleWidth(width + by));
      },
      moveChoice: (step) => this.#editing.field.moveChoice(step),
    });
    const own = {
      isEditing: () => this.#editing.isOpen,
      keepsArrows: () => this.#editing.field.keepsArrows,
      edit: (on: EditedText) => this.#editing.open(on),
      finish: (as: EditEnd) => this.#editing.finish(as),
      movePage: (step: 1 | -1, how: SelectHow) => this.#movePage(step, how),
      leave: (step: 1 | -1) => this.#frame.leave(step),
    };
    return (event) => {
      const fate = shared(event);
      if (fate === "done") event.preventDefault();
      else if (fate === "free") onCellKey(event, this.#selection, this.#view, own);
    };
  }

  #onFocusIn(event: FocusEvent): void {
    if (event.target === this.#editing.field.input || this.#isClosed) return;
    const position = this.#table.positionOf(event.target);
    // Tab comes in at the cell that has the keyboard already; where nothing was selected, that cell is now.
    if (position !== undefined && this.#selection.highlight === undefined)
      this.#selection.selectCell(position.row, position.col);
  }

  #onSelect(shown: Position | undefined): void {
    this.#area = areaOf(this.#selection.getSelectedRangeLast());
    if (this.#isShowing) return;
    const hadFocus = this.#hasFocus();
    this.#editing.field.stopWaiting();
    if (shown !== undefined) this.#table.reveal(shown);
    else this.#table.draw();
    this.#table.markAll();
    if (hadFocus) this.#takeFocus();
    this.#reportSelection();
  }

  #reportSelection(): void {
    const selection = selectionOf(this.#selection, this.#view);
    if (selection === undefined || isSameSelection(selection, this.#reported)) return;
    this.#reported = selection;
    this.#events.select(selection);
  }

  /** Gives the keyboard to the cell that has the highlight, or to the first one. */
  #takeFocus(): void {
    if (this.#editing.isOpen) return;
    const { highlight } = this.#selection;
    if (highlight === undefined) {
      const first = this.#keyboardPosition();
      if (this.#view.model.columns.length > 0) this.#selection.selectCell(first.row, first.col);
    }
    const position = this.#keyboardPosition();
    const cell = this.#table.elementAt(position);
    if (cell === undefined) return;
    if (position.row >= 0 && isComposerAtWork()) this.#editing.field.wait(cell, position, this.#view.model);
    else cell.focus({ preventScroll: true });
  }

  #hasFocus(): boolean {
    return this.#table.scroller.contains(document.activeElement);
  }

  #keyboardPosition(): Position {
    // Where there is no row, the first header takes the keyboard.
    const first = this.#view.model.rows.length > 0 ? 0 : this.#view.hasGroups ? -2 : -1;
    return this.#selection.highlight ?? { row: first, col: 0 };
  }

  #moveOn(step: 1 | -1): boolean {
    this.#editing.finish("written");
    const { highlight } = this.#selection;
    if (this.#isClosed || highlight === undefined) return this.#isClosed;
    const columns = this.#view.model.columns.length;
    const index = highlight.row * columns + highlight.col + step;
    if (index < 0 || index >= columns * this.#view.model.rows.length) return false;
    this.#selection.selectCell(Math.floor(index / columns), index % columns);
    return true;
  }

  #movePage(step: 1 | -1, how: SelectHow): void {
    const range = this.#selection.getSelectedRangeLast();
    const last = this.#view.model.rows.length - 1;
    if (range === undefined || last < 0) return;
    const page = Math.max(1, this.#table.rowsInSight - 1);
    const from = how === "extend" ? range.to : range.highlight;
    const row = Math.min(last, Math.max(0, from.row + step * page));
    if (how === "extend") this.#selection.extendTo({ row, col: from.col });
    else this.#selection.selectCell(row, from.col);
  }

  #explain(position: Position): void {
    const cell = this.#view.cellAt(position.row, position.col);
    if (cell !== undefined) this.#events.explain(cell);
  }

  #activateHead({ row, col }: Position): void {
    const group = this.#view.spanAt(col)?.group;
    const column = this.#view.columnAt(col);
    if (row === -2 && group !== undefined) {
      if (group.canFold) this.#events.toggleGroup(group.id);
    } else if (column !== undefined) {
      this.#events.activateColumn(column.key);
    }
    if (this.#selection.highlight !== undefined) this.#takeFocus();
  }

  #resizeColumn(col: number, width: number | "fit"): void {
    const column = this.#view.columnAt(col);
    if (column !== undefined && column.width !== width) this.#events.resizeColumn(column.key, width);
  }

  #selectFound({ selection }: RestoredPosition): void {
    if (selection === undefined) {
      this.#selection.clear();
      this.#reported = undefined;
    } else {
      const [from, to] = [selection.from, selection.to].map(([row, col]) => ({ row, col })) as [Position, Position];
      this.#selection.selectRange(from, to);
    }
  }

  #nameSheet(): void {
    const { label } = this.#view.model;
    this.#frame.name(label);
    this.#table.table.setAttribute("aria-label", label);
    this.#table.table.setAttribute("aria-describedby", this.#frame.hintId);
  }
}

/** Builds a grid in a host element that has a size of its own. */
export const createGrid: CreateGrid = (host, model, events) => new FreeGrid(host, model, events);
