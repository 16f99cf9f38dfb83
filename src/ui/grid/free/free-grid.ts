// The grid of our own on show. It owns no data: looks come from the model, and every wish to write goes to the app.
import "../grid.css";
import "./free-grid.css";
import { type Area, entriesOver } from "../area";
import { listenToClipboard } from "../grid-clipboard";
import { frameGrid, type GridFrame } from "../grid-frame";
import { keyHandler } from "../grid-keys";
import { type GridWriting, gridWriting } from "../grid-writing";
import { type FoundPlace, findPlace, keepPlace } from "../keep-place";
import type { CreateGrid, Grid, GridCell, GridEntry, GridEvents, GridModel, GridSelection } from "../port";
import { hasSameColumns, hasSameRows } from "../same-shape";
import { areaOf, isSameSelection, selectionOf } from "../selected";
import { SheetView } from "../sheet-view";
import { possibleWidth } from "../sizes";
import { showWholeText } from "../whole-text";
import { CellField } from "./cell-field";
import { onCellKey } from "./cell-keys";
import { isComposerAtWork } from "./ime";
import { listenToPointer } from "./pointer";
import type { Position } from "./position";
import { Selection } from "./selection";
import { marksIn } from "./selection-marks";
import { SheetTable } from "./sheet-table";

class FreeGrid implements Grid {
  readonly #events: GridEvents;
  readonly #view: SheetView;
  readonly #frame: GridFrame;
  readonly #selection: Selection;
  readonly #table: SheetTable;
  readonly #field: CellField;
  readonly #writing: GridWriting;
  readonly #stopListening = new AbortController();
  #area: Area | undefined;
  #fillTarget: Area | undefined;
  #reported: GridSelection | undefined;
  #isShowing = false;
  #isClosed = false;

  constructor(host: HTMLElement, model: GridModel, events: GridEvents) {
    this.#events = events;
    this.#view = new SheetView(model);
    this.#frame = frameGrid(host);
    this.#selection = new Selection((shown) => this.#onSelect(shown));
    this.#table = new SheetTable(this.#frame.container, this.#view, {
      keyboardPosition: () => this.#keyboardPosition(),
      marksOf: (row, col) => marksIn({ row, col }, this.#area, this.#selection.highlight, this.#fillTarget),
      isEdited: (row, col) => this.#field.position?.row === row && this.#field.position.col === col,
    });
    this.#field = new CellField(this.#frame.container, {
      picked: () => this.#finish(false, false),
      begun: () => this.#edit(false),
    });
    this.#writing = gridWriting(this.#selection, this.#view, events);
    this.#nameSheet();
    this.#table.reshape();
    this.#table.draw(true);
    this.#listen();
  }

  show(model: GridModel): void {
    const isSameShape = hasSameRows(this.#view.model, model) && hasSameColumns(this.#view.model, model);
    if (isSameShape && model.label === this.#view.model.label) {
      this.#view.replace(model);
      this.repaint();
      return;
    }
    const draft = this.#draft();
    const isWhole = this.#field.keepsArrows;
    const hadFocus = this.#hasFocus();
    this.#finish(true, false);
    this.#field.stopWaiting();
    const kept = keepPlace(this.#selection, this.#view, {
      scrollTop: this.#table.viewport.top,
      scrollLeft: this.#table.viewport.left,
    });
    this.#isShowing = true;
    this.#view.replace(model);
    const found = findPlace(kept, this.#view, this.#table.viewport.height);
    this.#nameSheet();
    this.#table.reshape();
    this.#table.scrollTo(found.scrollTop, found.scrollLeft);
    this.#selectFound(found);
    this.#table.draw(true);
    this.#isShowing = false;
    // A keyboard that was in the sheet stays in it.
    if (hadFocus) this.#takeFocus(false);
    this.#reportSelection();
    if (draft !== undefined) this.#takeDraftUp(draft, isWhole);
  }

  repaint(): void {
    this.#table.repaintSoon();
  }

  select(cell: GridCell): void {
    const position = this.#positionOf(cell);
    if (position === undefined) return;
    this.#finish(false, false);
    this.#selection.selectCell(position.row, position.col);
    this.#takeFocus(false);
  }

  reveal(cell: GridCell): void {
    // The page may name that cell now: the one that is selected is reported anew when the keyboard comes.
    this.#reported = undefined;
    const position = this.#positionOf(cell);
    if (position !== undefined) this.#table.reveal(position);
  }

  focus(): void {
    this.#takeFocus(true);
  }

  close(): void {
    if (this.#isClosed) return;
    const draft = this.#draft();
    if (draft !== undefined) this.#events.keep(draft.typed, draft);
    this.#isClosed = true;
    this.#field.close(true);
    this.#stopListening.abort();
    this.#table.remove();
    this.#frame.remove();
  }

  #positionOf(cell: GridCell): Position | undefined {
    const row = this.#view.rowPlace(cell.row);
    const col = this.#view.columnPlace(cell.column);
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
        this.#field.follow();
      },
      { signal, passive: true },
    );
    scroller.addEventListener("focusin", (event) => this.#onFocusIn(event), { signal });
    this.#field.input.addEventListener(
      "blur",
      () => {
        // The window that loses the focus keeps its place; a field that loses it to the page is done.
        if (document.activeElement === this.#field.input) return;
        if (this.#field.position === undefined) this.#field.stopWaiting();
        else this.#finish(false, false);
      },
      { signal },
    );
    scroller.addEventListener("mouseover", (event) => showWholeText(event.target), { signal });
    const resizing = new ResizeObserver(() => {
      this.#table.measure();
      this.#table.draw(false);
    });
    resizing.observe(scroller);
    signal.addEventListener("abort", () => resizing.disconnect());
    listenToClipboard(
      {
        isOurs: () => this.#hasFocus() && this.#field.position === undefined,
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
        pressed: () => this.#finish(false, false),
        select: (position, isExtending) => {
          if (isExtending && this.#area !== undefined) this.#selection.extendTo(position);
          else this.#selection.selectCell(position.row, position.col);
          this.#takeFocus(false);
        },
        extendTo: (position) => this.#selection.extendTo(position),
        selectColumns: (first, last) => {
          const rows = this.#view.model.rows.length;
          if (rows > 0) this.#selection.selectCell(-1, first, rows - 1, last, false);
          this.#takeFocus(false);
        },
        selectedArea: () => this.#area,
        aimFill: (target) => {
          this.#fillTarget = target;
          this.#table.markAll();
        },
        fill: this.#writing.fill,
        edit: () => this.#edit(true),
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
      isEditing: () => this.#field.position !== undefined,
      isOnHeader: () => (this.#selection.highlight?.row ?? 0) < 0,
      isBlock: () => this.#selection.isBlock,
      moveOn: (step) => this.#moveOn(step),
      movePage: (step) => this.#movePage(step, false),
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
      moveChoice: (step) => this.#field.moveChoice(step),
    });
    const own = {
      isEditing: () => this.#field.position !== undefined,
      keepsArrows: () => this.#field.keepsArrows,
      edit: (isWhole: boolean) => this.#edit(isWhole),
      finish: (isGivenUp: boolean, toBlock: boolean) => this.#finish(isGivenUp, toBlock),
      movePage: (step: 1 | -1, isExtending: boolean) => this.#movePage(step, isExtending),
      leave: (step: 1 | -1) => this.#frame.leave(step),
    };
    return (event) => {
      const fate = shared(event);
      if (fate === "done") event.preventDefault();
      else if (fate === "free") onCellKey(event, this.#selection, this.#view, own);
    };
  }

  #onFocusIn(event: FocusEvent): void {
    if (event.target === this.#field.input || this.#isClosed) return;
    const position = this.#table.positionOf(event.target);
    // Tab comes in at the cell that has the keyboard already; where nothing was selected, that cell is now.
    if (position !== undefined && this.#selection.highlight === undefined)
      this.#selection.selectCell(position.row, position.col);
  }

  #onSelect(shown: Position | undefined): void {
    this.#area = areaOf(this.#selection.getSelectedRangeLast());
    if (this.#isShowing) return;
    const hadFocus = this.#hasFocus();
    this.#field.stopWaiting();
    if (shown !== undefined) this.#table.reveal(shown);
    else this.#table.draw(false);
    this.#table.markAll();
    if (hadFocus) this.#takeFocus(false);
    this.#reportSelection();
  }

  #reportSelection(): void {
    const selection = selectionOf(this.#selection, this.#view);
    if (selection === undefined || isSameSelection(selection, this.#reported)) return;
    this.#reported = selection;
    this.#events.select(selection);
  }

  /** Gives the keyboard to the cell that has the highlight, or to the first one. */
  #takeFocus(reveals: boolean): void {
    if (this.#field.position !== undefined) return;
    const { highlight } = this.#selection;
    if (highlight === undefined) {
      const first = this.#keyboardPosition();
      if (this.#view.model.columns.length > 0) this.#selection.selectCell(first.row, first.col);
    } else if (reveals) {
      this.#table.reveal(highlight);
    }
    const position = this.#keyboardPosition();
    const cell = this.#table.elementAt(position);
    if (cell === undefined) return;
    if (position.row >= 0 && isComposerAtWork()) this.#field.wait(cell, position, this.#view.model);
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

  #edit(isWhole: boolean, draft?: string): void {
    const { highlight } = this.#selection;
    if (highlight === undefined || highlight.row < 0) return;
    this.#table.reveal(highlight);
    const element = this.#table.elementAt(highlight);
    const cell = this.#cellAt(highlight);
    if (element === undefined || cell === undefined) return;
    this.#events.beginTyping(cell);
    this.#field.open(element, highlight, this.#view.model, isWhole, draft);
  }

  #cellAt({ row: rowIndex, col }: Position): GridCell | undefined {
    const row = this.#view.model.rows[rowIndex];
    const column = this.#view.columnAt(col)?.key;
    return row === undefined || column === undefined ? undefined : { row, column };
  }

  /** What is being typed, and where; undefined where the text is as it was. */
  #draft(): GridEntry | undefined {
    const { position, typed } = this.#field;
    const cell = position && this.#cellAt(position);
    return cell === undefined || typed === undefined ? undefined : { ...cell, typed };
  }

  /** Goes on with what was being typed in its own cell, wherever that is now; where it is gone the page keeps the text. */
  #takeDraftUp(draft: GridEntry, isWhole: boolean): void {
    const position = this.#positionOf(draft);
    if (position === undefined) this.#events.keep(draft.typed, draft);
    else {
      this.#selection.selectCell(position.row, position.col);
      this.#edit(isWhole, draft.typed);
    }
  }

  /** Closes the editor and reports what was typed; the cell has the keyboard again if the field had it. */
  #finish(isGivenUp: boolean, toBlock: boolean): void {
    const { position } = this.#field;
    if (position === undefined) return;
    const typed = this.#field.close(isGivenUp, this.#table.elementAt(position));
    this.#table.paintAt(position);
    this.#table.markAll();
    if (typed === undefined) return;
    const cell = this.#cellAt(typed);
    if (toBlock && this.#area !== undefined) this.#writing.typed(entriesOver(this.#area, typed.text, this.#view.model));
    else if (typed.isChange && cell !== undefined) this.#writing.typed([{ ...cell, typed: typed.text }]);
  }

  #moveOn(step: 1 | -1): boolean {
    this.#finish(false, false);
    const { highlight } = this.#selection;
    if (this.#isClosed || highlight === undefined) return this.#isClosed;
    const columns = this.#view.model.columns.length;
    const index = highlight.row * columns + highlight.col + step;
    if (index < 0 || index >= columns * this.#view.model.rows.length) return false;
    this.#selection.selectCell(Math.floor(index / columns), index % columns);
    return true;
  }

  #movePage(step: 1 | -1, isExtending: boolean): void {
    const range = this.#selection.getSelectedRangeLast();
    const last = this.#view.model.rows.length - 1;
    if (range === undefined || last < 0) return;
    const page = Math.max(1, this.#table.rowsInSight - 1);
    const from = isExtending ? range.to : range.highlight;
    const row = Math.min(last, Math.max(0, from.row + step * page));
    if (isExtending) this.#selection.extendTo({ row, col: from.col });
    else this.#selection.selectCell(row, from.col);
  }

  #explain(position: Position): void {
    const cell = this.#cellAt(position);
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
    if (this.#selection.highlight !== undefined) this.#takeFocus(false);
  }

  #resizeColumn(col: number, width: number | "fit"): void {
    const column = this.#view.columnAt(col);
    if (column !== undefined && column.width !== width) this.#events.resizeColumn(column.key, width);
  }

  #selectFound({ selection }: FoundPlace): void {
    if (selection === undefined) {
      this.#selection.clear();
      this.#reported = undefined;
    } else {
      const { from, to } = selection;
      this.#selection.selectCell(from[0], from[1], to[0], to[1], false);
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
