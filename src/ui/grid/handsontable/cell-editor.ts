// The editors of a cell. They start from the model's text and report what was typed; nothing is stored in the grid.
import { type Area, entriesOver } from "../area";
import { nameOfCell } from "../cell-name";
import { ChoiceList } from "../choice-list";
import type { GridCell, GridEntry, GridModel } from "../port";
import { Handsontable, type LibraryGrid } from "./grid-library";

/** What the editors need of the grid they belong to. */
export interface EditorHost {
  model(): GridModel;
  /** The selected block, for writing one text into all of it. */
  selectedArea(): Area | undefined;
  reportTyped(entries: readonly GridEntry[]): void;
  beginTyping(cell: GridCell): void;
}

interface EditedCell {
  readonly host: EditorHost;
  readonly row: string;
  readonly column: string;
}

const hosts = new WeakMap<LibraryGrid, EditorHost>();

/** Gives the editors of a grid their host. */
export function bindEditors(grid: LibraryGrid, host: EditorHost): void {
  hosts.set(grid, host);
}

/** Edits a cell as plain text. */
export class CellEditor extends Handsontable.editors.TextEditor {
  // Declared only: the library's constructor calls createElements() before field initialisers would run.
  declare startedWith: string | undefined;
  declare pending: readonly GridEntry[] | undefined;

  static override get EDITOR_TYPE(): string {
    return "sheet-text";
  }

  /** What is being typed, and where; undefined where the text is as it was. */
  draft(): (GridCell & { readonly typed: string }) | undefined {
    const cell = this.editedCell();
    const typed = this.TEXTAREA.value;
    return cell === undefined || typed === this.startedWith ? undefined : { row: cell.row, column: cell.column, typed };
  }

  /** The ids of the cell being edited. */
  editedCell(): EditedCell | undefined {
    const host = hosts.get(this.hot);
    const row = host?.model().rows[this.row ?? -1];
    const column = host?.model().columns[this.col ?? -1]?.key;
    return host === undefined || row === undefined || column === undefined ? undefined : { host, row, column };
  }

  override createElements(): void {
    super.createElements("input");
    this.TEXTAREA.setAttribute("autocomplete", "off");
    this.TEXTAREA.setAttribute("spellcheck", "false");
    this.TEXTAREA.setAttribute("aria-label", "Cell");
  }

  override beginEditing(newInitialValue?: string | null, event?: Event): void {
    const cell = this.editedCell();
    if (cell === undefined) return;
    const model = cell.host.model();
    const text = model.editText(cell.row, cell.column);
    this.startedWith = this.isInFullEditMode() ? text : undefined;
    this.pending = undefined;
    cell.host.beginTyping({ row: cell.row, column: cell.column });
    this.TEXTAREA.setAttribute("aria-label", nameOfCell(model, cell.row, this.col ?? -1));
    this.TEXTAREA.setAttribute("data-align", model.columns[this.col ?? -1]?.align ?? "start");
    super.beginEditing(this.isInFullEditMode() ? (newInitialValue ?? text) : (newInitialValue ?? null), event);
  }

  override close(): void {
    super.close();
    this.focus();
  }

  /** Takes the keyboard while open; a closed editor gives it back to the cell. */
  override focus(): void {
    if (this.isOpened()) super.focus();
    else if (document.activeElement === this.TEXTAREA) this.hot.getFocusManager().focusOnHighlightedCell();
  }

  override saveValue(value: unknown, withControl?: boolean): void {
    const cell = this.editedCell();
    const typed = Array.isArray(value) && Array.isArray(value[0]) ? String(value[0][0] ?? "") : "";
    const area = withControl === true ? cell?.host.selectedArea() : undefined;
    if (cell === undefined || (area === undefined && typed === this.startedWith)) return;
    this.pending =
      area === undefined
        ? [{ row: cell.row, column: cell.column, typed }]
        : entriesOver(area, typed, cell.host.model());
  }

  override finishEditing(restore?: boolean, withControl?: boolean, callback?: (isSaved: boolean) => void): void {
    const host = hosts.get(this.hot);
    super.finishEditing(restore, withControl, callback);
    // Reported only once the editor is closed, so that the app may show another model straight away.
    const entries = this.pending;
    this.pending = undefined;
    if (entries !== undefined) host?.reportTyped(entries);
  }
}

/** Edits a cell that offers choices: they can be picked by arrows or pointer, and any other text can be typed. */
export class ChoiceEditor extends CellEditor {
  declare list: ChoiceList;

  static override get EDITOR_TYPE(): string {
    return "sheet-choice";
  }

  override createElements(): void {
    super.createElements();
    this.list = new ChoiceList(this.TEXTAREA, this.TEXTAREA_PARENT, (choice) => {
      this.setValue(choice);
      this.finishEditing(false);
    });
    this.TEXTAREA.addEventListener("input", () => this.list.narrow(this.TEXTAREA.value));
  }

  override open(): void {
    super.open();
    const cell = this.editedCell();
    if (cell === undefined) return;
    this.list.open(cell.host.model().choices(cell.row, cell.column));
    this.list.mark(this.TEXTAREA.value);
  }

  /** Moves in the open list of choices and says whether there is one. */
  moveChoice(step: 1 | -1): boolean {
    if (!this.list.isOpen) return false;
    this.list.move(step);
    return true;
  }

  override close(): void {
    this.list.close();
    super.close();
  }

  override getValue(): unknown {
    return this.list.activeChoice ?? super.getValue();
  }

  override refreshDimensions(force?: boolean): void {
    super.refreshDimensions(force);
    this.list.place();
  }
}
