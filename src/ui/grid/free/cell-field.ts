// The text field of the cell being edited. It stands in its cell, so it scrolls with it and is read out in its place.
import { nameOfCell } from "../cell-name";
import { ChoiceList } from "../choice-list";
import type { GridModel } from "../port";
import type { Position } from "./position";

/** What is being edited. */
interface Edited extends Position {
  /** The text it began with, where that was the model's; a text typed over a cell is always a change. */
  readonly startedWith: string | undefined;
}

/** What was typed, once the field is closed. */
export interface Typed extends Position {
  readonly text: string;
  readonly isChange: boolean;
}

/** What the field reports. */
interface FieldEvents {
  /** A choice was taken by pointer. */
  picked(): void;
  /** Text came into the waiting field: its cell is being edited from now on. */
  begun(): void;
}

/** What a cell is opened on: its text, or nothing, for what is typed over it. */
export type EditedText = "its text" | "nothing";

export class CellField {
  readonly input = document.createElement("input");
  readonly #list: ChoiceList;
  readonly #events: FieldEvents;
  #edited: Edited | undefined;
  #hasChoices = false;
  #isWaiting = false;

  constructor(holder: Element, events: FieldEvents) {
    this.#events = events;
    this.input.className = "free-input";
    this.input.autocomplete = "off";
    this.input.spellcheck = false;
    this.input.setAttribute("autocapitalize", "off");
    this.#list = new ChoiceList(this.input, holder, (choice) => {
      this.input.value = choice;
      this.#list.close();
      events.picked();
    });
    // A composition that begins in the waiting field is text too, before there is any.
    for (const type of ["compositionstart", "input"])
      this.input.addEventListener(type, () => {
        if (this.#isWaiting) this.#events.begun();
        if (this.#hasChoices && type === "input") this.#list.narrow(this.input.value);
        this.#grow();
      });
  }

  /** The cell being edited. */
  get position(): Position | undefined {
    return this.#edited;
  }

  /** What is in the field; undefined where it is closed or holds what it began with. */
  get typed(): string | undefined {
    const { value } = this.input;
    return this.#edited === undefined || value === this.#edited.startedWith ? undefined : value;
  }

  /** Whether the arrow keys belong to the text: it was opened as it stood, not typed over. */
  get keepsArrows(): boolean {
    return this.#edited?.startedWith !== undefined;
  }

  /**
   * Waits in a cell with the keyboard, empty and unseen. Input methods compose only where text can be typed, so whoever
   * uses one has the field waiting in the cell before the first key.
   */
  wait(cell: HTMLElement, position: Position, model: GridModel): void {
    const row = model.rows[position.row];
    if (row === undefined || (this.#isWaiting && this.input.parentElement === cell)) return;
    this.stopWaiting();
    this.input.value = "";
    this.#prepare(model, row, position.col);
    cell.setAttribute("data-waiting", "");
    cell.append(this.input);
    this.#isWaiting = true;
    this.input.focus({ preventScroll: true });
  }

  /** Takes a waiting field out again. */
  stopWaiting(): void {
    if (!this.#isWaiting) return;
    this.#isWaiting = false;
    this.input.parentElement?.removeAttribute("data-waiting");
    this.input.remove();
  }

  /** Opens in a cell: on the model's text, or empty for a text that is typed over it; `draft` is a text to go on with. */
  open(cell: HTMLElement, position: Position, model: GridModel, on: EditedText, draft?: string): void {
    const row = model.rows[position.row];
    const column = model.columns[position.col];
    if (row === undefined || column === undefined) return;
    const isWhole = on === "its text";
    const text = isWhole ? model.editText(row, column.key) : undefined;
    this.#edited = { ...position, startedWith: text };
    const wasWaiting = this.#isWaiting;
    this.#isWaiting = false;
    cell.removeAttribute("data-waiting");
    cell.setAttribute("data-edited", "");
    // A composition goes on only in a field that stays where it is.
    if (wasWaiting) for (const node of [...cell.childNodes]) node !== this.input && node.remove();
    else cell.replaceChildren(this.input);
    if (!wasWaiting || isWhole || draft !== undefined) this.input.value = draft ?? text ?? "";
    this.#prepare(model, row, position.col);
    if (!wasWaiting) this.input.focus({ preventScroll: true });
    if (!wasWaiting || isWhole) this.input.setSelectionRange(this.input.value.length, this.input.value.length);
    this.#grow();
    if (!column.hasChoices) return;
    this.#list.open(model.choices(row, column.key));
    this.#list.mark(this.input.value);
  }

  #prepare(model: GridModel, row: string, col: number): void {
    const column = model.columns[col];
    this.#hasChoices = column?.hasChoices ?? false;
    this.input.setAttribute("aria-label", nameOfCell(model, row, col));
    this.input.setAttribute("data-align", column?.align ?? "start");
    this.#list.setInUse(this.#hasChoices);
  }

  /** Closes and gives what was typed; `undefined` where it was not open. The cell takes the keyboard over. */
  close(cell?: HTMLElement): Typed | undefined {
    const edited = this.#edited;
    if (edited === undefined) return undefined;
    const text = this.#list.activeChoice ?? this.input.value;
    this.#edited = undefined;
    this.#list.close();
    this.input.parentElement?.removeAttribute("data-edited");
    if (document.activeElement === this.input) cell?.focus({ preventScroll: true });
    this.input.remove();
    return { row: edited.row, col: edited.col, text, isChange: text !== edited.startedWith };
  }

  /** Moves in the open list of choices and says whether there is one. */
  moveChoice(step: 1 | -1): boolean {
    if (!this.#list.isOpen) return false;
    this.#list.move(step);
    return true;
  }

  /** Keeps the list under its field when the sheet is scrolled. */
  follow(): void {
    this.#list.place();
  }

  /** Widens the field with its text. */
  #grow(): void {
    if (this.#isWaiting) return;
    this.input.style.width = "100%";
    if (this.input.scrollWidth > this.input.clientWidth) this.input.style.width = `${this.input.scrollWidth + 24}px`;
    this.#list.place();
  }
}
