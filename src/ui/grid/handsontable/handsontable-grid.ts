// The grid on show. It owns no data: what cells show comes from the model, and every wish to write goes to the app.
import "../grid.css";
import "./handsontable.css";
import { listenToClipboard } from "../grid-clipboard";
import { frameGrid, type GridFrame } from "../grid-frame";
import { keyHandler } from "../grid-keys";
import { type GridWriting, gridWriting } from "../grid-writing";
import type { CreateGrid, Grid, GridCell, GridEntry, GridEvents, GridModel, GridSelection } from "../port";
import type { CellRange } from "../range";
import { hasSameColumns, hasSameRows } from "../same-shape";
import { type RestoredPosition, restorePosition, savePosition } from "../saved-position";
import { areaOf, isSameSelection, selectionOf } from "../selected";
import { ShownSheet } from "../sheet-view";
import { frozenWidth, headerHeights, possibleWidth } from "../sizes";
import { showWholeText } from "../whole-text";
import { bindEditors, CellEditor, ChoiceEditor } from "./cell-editor";
import { DrawnCells } from "./drawn-cells";
import { Handsontable, type LibraryGrid, type LibrarySettings, selectorOf } from "./grid-library";
import { columnSettings, rowSettings, standingSettings } from "./grid-settings";
import { type FocusGuard, guardFocus } from "./keep-focus";

const LICENCE_KEY: string = import.meta.env.VITE_GRID_KEY ?? "non-commercial-and-evaluation";
const CORE_STYLES_ID = "handsontable-core-styles";

let openGrids = 0;

class SheetGrid implements Grid {
  readonly #host: HTMLElement;
  readonly #frame: GridFrame;
  readonly #focusGuard: FocusGuard;
  readonly #view: ShownSheet;
  readonly #events: GridEvents;
  readonly #library: LibraryGrid;
  readonly #cells: DrawnCells;
  readonly #writing: GridWriting;
  readonly #stopListening = new AbortController();
  #selected: GridSelection | undefined;
  #isShowing = false;
  #isClosed = false;

  constructor(host: HTMLElement, model: GridModel, events: GridEvents) {
    openGrids += 1;
    this.#host = host;
    this.#events = events;
    this.#view = new ShownSheet(model);
    this.#cells = new DrawnCells(host, this.#view);
    this.#frame = frameGrid(host);
    this.#focusGuard = guardFocus(host);
    this.#setSizes();
    this.#library = Handsontable(this.#frame.container, {
      ...standingSettings(LICENCE_KEY),
      ...rowSettings(this.#view),
      ...columnSettings(this.#view),
      ...this.#hooks(),
    });
    this.#writing = gridWriting(selectorOf(this.#library), this.#view, events);
    this.#nameSheet();
    bindEditors(this.#library, {
      model: () => this.#view.model,
      selectedArea: this.#writing.selectedArea,
      reportTyped: this.#writing.typed,
      beginTyping: (cell) => events.beginTyping(cell),
    });
    this.#listen();
  }

  show(model: GridModel): void {
    const isSameRows = hasSameRows(this.#view.model, model);
    const isSameColumns = hasSameColumns(this.#view.model, model);
    if (isSameRows && isSameColumns && model.label === this.#view.model.label) {
      this.#view.replace(model);
      this.repaint();
      return;
    }
    const draft = this.#putDraftAside();
    const hadFocus = this.#host.contains(document.activeElement);
    const scroller = this.#scroller();
    const kept = savePosition(this.#library, this.#view, scroller);
    const focus = this.#library.getFocusManager();
    this.#isShowing = true;
    this.#view.replace(model);
    const found = restorePosition(kept, this.#view, scroller.clientHeight);
    this.#setSizes();
    this.#library.batchRender(() => {
      this.#library.updateSettings({
        ...(isSameRows ? {} : rowSettings(this.#view)),
        ...(isSameColumns ? {} : columnSettings(this.#view)),
      });
      this.#selectFound(found, hadFocus);
      // Last, because selecting takes it back: the drawing that follows must not take the focus from a text field.
      if (!hadFocus) focus.suspend();
    });
    this.#nameSheet();
    scroller.scrollTop = found.scrollTop;
    scroller.scrollLeft = found.scrollLeft;
    if (!hadFocus) focus.resume();
    this.#isShowing = false;
    // A keyboard that was in the sheet stays in it.
    if (found.selection === undefined && hadFocus) this.focus();
    this.#reportSelection();
    if (draft !== undefined) this.#takeDraftUp(draft);
  }

  repaint(): void {
    this.#cells.repaint();
  }

  select(cell: GridCell): void {
    const row = this.#view.rowIndex(cell.row);
    const column = this.#view.columnIndex(cell.column);
    if (row === undefined || column === undefined) return;
    this.#freeFocus();
    this.#library.selectCell(row, column);
  }

  reveal(cell: GridCell): void {
    // The page may name that cell now: the one that is selected is reported again when the keyboard comes.
    this.#selected = undefined;
    const row = this.#view.rowIndex(cell.row);
    const col = this.#view.columnIndex(cell.column);
    if (row !== undefined && col !== undefined) this.#library.scrollViewportTo({ row, col });
  }

  focus(): void {
    this.#freeFocus();
    const range = this.#library.getSelectedRangeLast();
    if (range !== undefined) {
      const { from, to } = range;
      this.#library.selectCell(from.row ?? 0, from.col ?? 0, to.row ?? 0, to.col ?? 0, false);
    } else if (this.#view.model.columns.length > 0) {
      // Where there is no row, the first header takes the keyboard: headers are counted upwards from -1.
      const topHeader = this.#view.hasGroups ? -2 : -1;
      this.#library.selectCell(this.#view.model.rows.length > 0 ? 0 : topHeader, 0);
    }
  }

  close(): void {
    if (this.#isClosed) return;
    const draft = this.#openEditor()?.draft();
    if (draft !== undefined) this.#events.keep(draft.typed, draft);
    this.#isClosed = true;
    this.#cells.stop();
    this.#stopListening.abort();
    this.#focusGuard.stop();
    this.#library.destroy();
    this.#frame.remove();
    openGrids -= 1;
    if (openGrids === 0) document.getElementById(CORE_STYLES_ID)?.remove();
  }

  #hooks(): LibrarySettings {
    const onKey = this.#keyHandler();
    return {
      beforeKeyDown: (event) => {
        const fate = onKey(event);
        if (fate === "free") return;
        if (fate === "done") event.preventDefault();
        event.stopImmediatePropagation();
        return false;
      },
      // Before it selects: a button or the card would keep the keyboard, and Enter would press it.
      beforeOnCellMouseDown: () => this.#freeFocus(),
      // The library counts two presses of a cell within half a second, whatever was typed or pressed between them.
      beforeBeginEditing: (row, column, _text, event) =>
        (!(event instanceof MouseEvent) || event.detail > 1) && this.#hasEditorAt(row, column),
      // The library moves the focus to its cell whenever it draws; it is left where it is elsewhere on the page.
      modifyFocusedElement: () => (this.#isFocusElsewhere() ? activeElement() : undefined),
      // Nothing is ever stored in the grid.
      beforeChange: () => false,
      // Painted after the library's renderer, which takes away the attributes it does not know of.
      afterRenderer: (cell, row, column) => this.#cells.drawn(cell, row, column),
      afterGetColHeader: (column, header, level) => this.#cells.drawnHead(header, column, level),
      afterSelection: () => this.#reportSelection(),
      afterSelectionFocusSet: () => this.#reportSelection(),
      afterDeselect: () => {
        this.#selected = undefined;
      },
    };
  }

  #keyHandler(): ReturnType<typeof keyHandler> {
    return keyHandler({
      isEditing: () => this.#openEditor() !== undefined,
      isOnHeader: () => (this.#library.getSelectedRangeLast()?.highlight.row ?? 0) < 0,
      isBlock: () => (this.#library.getSelectedRangeLast()?.isSingle() ?? true) === false,
      moveOn: (step) => this.#moveOn(step),
      movePage: (step) => this.#movePage(step),
      leave: (step) => this.#frame.leave(step),
      announceLeaving: () => this.#frame.say("Tab leaves the sheet now."),
      clear: () => this.#writing.clear(),
      fillDown: () => this.#writing.fillDown(),
      explain: () => this.#explainSelected(),
      activateHeader: () => this.#activateHeader(),
      resizeColumn: (by) => {
        const column = this.#view.columnAt(this.#library.getSelectedRangeLast()?.highlight.col ?? -1);
        if (column === undefined) return;
        this.#events.resizeColumn(column.key, by === "fit" ? by : possibleWidth(column.width + by));
      },
      moveChoice: (step) => {
        const editor = this.#openEditor();
        return editor instanceof ChoiceEditor && editor.moveChoice(step);
      },
    });
  }

  #listen(): void {
    const { signal } = this.#stopListening;
    this.#library.addHook("beforeAutofill", (_texts: unknown, source: CellRange, target: CellRange) => {
      // Reported when the library is done with its own part.
      queueMicrotask(() => {
        if (!this.#isClosed) this.#writing.fill(areaOf(source), areaOf(target));
      });
      return false;
    });
    listenToClipboard(
      {
        isOurs: () => this.#openEditor() === undefined && this.#hasKeyboard(),
        copy: this.#writing.copy,
        clear: this.#writing.clear,
        paste: this.#writing.paste,
      },
      signal,
    );
    // Before the library, which would select the column.
    const onMouseDown = (event: MouseEvent) => {
      if (event.button !== 0 || headTarget(event) === undefined) return;
      event.preventDefault();
      event.stopPropagation();
    };
    this.#host.addEventListener("mousedown", onMouseDown, { capture: true, signal });
    this.#host.addEventListener("click", (event) => this.#onClick(event), { signal });
    // A button elsewhere that brings the keyboard here is done before the library hears of the same click, and stops listening.
    document.documentElement.addEventListener("click", () => this.#hasKeyboard() && this.#library.listen(), { signal });
    this.#host.addEventListener("mouseover", (event) => showWholeText(event.target), { signal });
  }

  #onClick(event: MouseEvent): void {
    const target = headTarget(event);
    if (target !== undefined) this.#openEditor()?.finishEditing(false);
    if (target?.group !== undefined) this.#events.toggleGroup(target.group);
    if (target?.column !== undefined) this.#events.activateColumn(target.column);
    if (target !== undefined && this.#library.getSelectedRangeLast() !== undefined) this.focus();
    const index = this.#cells.cellIndexOf(event.target);
    if (event.altKey && index !== undefined) this.#explain(index.row, index.column);
  }

  /** Before the library draws: it keeps the height of a header that was drawn too high. */
  #setSizes(): void {
    const [titleRow = 0, groupRow = 0] = [...headerHeights(this.#view)].reverse();
    this.#frame.setSizes({ frozenWidth: frozenWidth(this.#view.model), groupRow, titleRow });
  }

  #nameSheet(): void {
    const { model } = this.#view;
    this.#frame.name(model.label);
    const root = this.#library.rootElement;
    root.setAttribute("role", "grid");
    root.setAttribute("aria-label", model.label);
    root.setAttribute("aria-describedby", this.#frame.hintId);
    root.setAttribute("aria-rowcount", String(model.rows.length + (this.#view.hasGroups ? 2 : 1)));
  }

  #hasKeyboard(): boolean {
    const active = activeElement();
    if (active === undefined || active === document.body) return this.#library.isListening();
    return this.#host.contains(active);
  }

  #isFocusElsewhere(): boolean {
    const active = activeElement();
    return active !== undefined && active !== document.body && !this.#host.contains(active);
  }

  #freeFocus(): void {
    this.#focusGuard.ask();
    if (this.#isFocusElsewhere()) activeElement()?.blur();
  }

  #scroller(): Element {
    return this.#host.querySelector(".ht_master > .wtHolder") ?? this.#host;
  }

  #openEditor(): CellEditor | undefined {
    const editor = this.#library.getActiveEditor();
    return editor instanceof CellEditor && editor.isOpened() ? editor : undefined;
  }

  #putDraftAside(): GridEntry | undefined {
    const editor = this.#openEditor();
    const draft = editor?.draft();
    editor?.finishEditing(true);
    return draft;
  }

  /** Goes on with what was being typed in its own cell, wherever that is now; where it is gone the page keeps the text. */
  #takeDraftUp(draft: GridEntry): void {
    const row = this.#view.rowIndex(draft.row);
    const column = this.#view.columnIndex(draft.column);
    if (row !== undefined && column !== undefined) {
      this.#library.selectCell(row, column);
      const editor = this.#hasEditorAt(row, column) ? this.#library.getActiveEditor() : undefined;
      if (editor instanceof CellEditor) {
        editor.enableFullEditMode();
        editor.beginEditing(draft.typed);
        return;
      }
    }
    this.#events.keep(draft.typed, draft);
  }

  /**
   * Whether the editor is the selected cell's. A cell that is not drawn yet, since the sheet is still scrolling to it, gets
   * none from the library: the editor of the cell before would open, and take what is typed.
   */
  #hasEditorAt(row: number, column: number): boolean {
    const isHere = () => {
      const editor = this.#library.getActiveEditor();
      return editor instanceof CellEditor && editor.row === row && editor.col === column;
    };
    if (isHere()) return true;
    this.#library.scrollToFocusedCell();
    this.#library.render();
    this.#library._getEditorManager().prepareEditor();
    return isHere();
  }

  #selectFound({ selection }: RestoredPosition, takesFocus: boolean): void {
    if (selection === undefined) {
      this.#library.deselectCell();
      return;
    }
    const { from, to } = selection;
    this.#library.selectCell(from[0], from[1], to[0], to[1], false, takesFocus);
  }

  #reportSelection(): void {
    if (this.#isShowing) return;
    const selection = selectionOf(this.#library, this.#view);
    if (selection === undefined || isSameSelection(selection, this.#selected)) return;
    this.#selected = selection;
    this.#events.select(selection);
  }

  #moveOn(step: 1 | -1): boolean {
    this.#openEditor()?.finishEditing(false);
    if (this.#isClosed) return true;
    const highlight = this.#library.getSelectedRangeLast()?.highlight;
    const columns = this.#view.model.columns.length;
    const index = (highlight?.row ?? 0) * columns + (highlight?.col ?? 0) + step;
    if (highlight === undefined || index < 0 || index >= columns * this.#view.model.rows.length) return false;
    return this.#library.selectCell(Math.floor(index / columns), index % columns);
  }

  #movePage(step: 1 | -1): void {
    const highlight = this.#library.getSelectedRangeLast()?.highlight;
    const last = this.#view.model.rows.length - 1;
    if (highlight === undefined || last < 0) return;
    const page = Math.max(1, this.#library.countVisibleRows() - 1);
    const row = Math.min(last, Math.max(0, (highlight.row ?? 0) + step * page));
    this.#library.selectCell(row, highlight.col ?? 0);
  }

  #explain(rowIndex: number, columnIndex: number): void {
    const cell = this.#view.cellAt(rowIndex, columnIndex);
    if (cell !== undefined) this.#events.explain(cell);
  }

  #explainSelected(): void {
    const highlight = this.#library.getSelectedRangeLast()?.highlight;
    if (highlight !== undefined) this.#explain(highlight.row ?? -1, highlight.col ?? -1);
  }

  #activateHeader(): void {
    const highlight = this.#library.getSelectedRangeLast()?.highlight;
    const span = this.#view.spanAt(highlight?.col ?? -1);
    const column = this.#view.columnAt(highlight?.col ?? -1);
    if (highlight?.row === -2 && span?.group !== undefined) {
      if (span.group.canFold) this.#events.toggleGroup(span.group.id);
    } else if (column !== undefined) {
      this.#events.activateColumn(column.key);
    }
  }
}

function activeElement(): HTMLElement | undefined {
  return document.activeElement instanceof HTMLElement ? document.activeElement : undefined;
}

/** The group or column whose header was pressed at a place that acts. */
function headTarget(event: Event): { readonly group?: string; readonly column?: string } | undefined {
  if (!(event.target instanceof Element)) return undefined;
  const group = event.target.closest<HTMLElement>("th[data-folds]")?.dataset.group;
  if (group !== undefined) return { group };
  const title = event.target.closest(".sheet-head-title");
  const column = title?.closest<HTMLElement>("th[data-column]")?.dataset.column;
  return column === undefined ? undefined : { column };
}

/** Builds a grid in a host element that has a size of its own. */
export const createGrid: CreateGrid = (host, model, events) => new SheetGrid(host, model, events);
