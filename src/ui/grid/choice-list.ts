// The list of choices under a cell being edited. It lies in the browser's top layer, so no edge of the grid cuts it off.

/** No more lines than this are drawn; typing narrows the rest. */
const MOST_LINES = 200;
const GAP = 2;

let listCount = 0;

function folded(text: string): string {
  return text
    .normalize("NFD")
    .replaceAll(/\p{Mark}/gu, "")
    .toLowerCase();
}

/** The choices that hold the typed text, ignoring case and accents; those that begin with it come first. */
function matchingChoices(choices: readonly string[], typed: string): readonly string[] {
  const wanted = folded(typed.trim());
  const found = choices.filter((choice) => folded(choice).includes(wanted));
  return wanted === "" ? found : found.toSorted((a, b) => startsFirst(a, wanted) - startsFirst(b, wanted));
}

function startsFirst(choice: string, wanted: string): number {
  return folded(choice).startsWith(wanted) ? 0 : 1;
}

/** A list of choices that belongs to one text field and is steered from it. */
export class ChoiceList {
  readonly #field: HTMLInputElement | HTMLTextAreaElement;
  readonly #list = document.createElement("ul");
  readonly #id: string;
  #choices: readonly string[] = [];
  #shown: readonly string[] = [];
  #active = -1;
  #isInUse = true;

  constructor(field: HTMLInputElement | HTMLTextAreaElement, holder: Element, onPick: (choice: string) => void) {
    listCount += 1;
    this.#id = `sheet-choices-${listCount}`;
    this.#field = field;
    this.#list.id = this.#id;
    this.#list.className = "sheet-choices";
    this.#list.popover = "manual";
    this.#list.setAttribute("role", "listbox");
    this.#list.setAttribute("aria-label", "Choices");
    // Kept from taking the focus, which stays in the field.
    this.#list.addEventListener("mousedown", (event) => {
      event.preventDefault();
      event.stopPropagation();
    });
    this.#list.addEventListener("click", (event) => {
      const index = Array.from(this.#list.children).indexOf((event.target as Element).closest("li") ?? this.#list);
      const choice = this.#shown[index];
      if (choice !== undefined) onPick(choice);
    });
    this.setInUse(true);
    holder.append(this.#list);
  }

  /** Makes the field one with a list, or an ordinary one. */
  setInUse(isInUse: boolean): void {
    const attributes = {
      role: "combobox",
      "aria-autocomplete": "list",
      "aria-controls": this.#id,
      "aria-expanded": "false",
    };
    for (const [name, value] of Object.entries(attributes))
      if (isInUse) this.#field.setAttribute(name, value);
      else this.#field.removeAttribute(name);
    this.#isInUse = isInUse;
  }

  get isOpen(): boolean {
    return this.#list.isConnected && this.#list.matches(":popover-open");
  }

  /** The choice reached by the arrow keys, if any. */
  get activeChoice(): string | undefined {
    return this.isOpen ? this.#shown[this.#active] : undefined;
  }

  /** Opens with all choices. */
  open(choices: readonly string[]): void {
    this.#choices = choices;
    this.narrow("");
  }

  /** Keeps the choices that hold the typed text. */
  narrow(typed: string): void {
    this.#shown = matchingChoices(this.#choices, typed).slice(0, MOST_LINES);
    this.#list.replaceChildren(...this.#shown.map((choice, index) => this.#line(choice, index)));
    this.#setActive(-1);
    if (this.#shown.length === 0) {
      this.close();
      return;
    }
    if (!this.isOpen) this.#list.showPopover();
    this.#field.setAttribute("aria-expanded", "true");
    this.place();
  }

  #line(choice: string, index: number): HTMLLIElement {
    const line = document.createElement("li");
    line.id = `${this.#id}-${index}`;
    line.setAttribute("role", "option");
    line.textContent = choice;
    return line;
  }

  /** Moves the marked line up or down, round the ends. */
  move(step: 1 | -1): void {
    if (!this.isOpen) return;
    const count = this.#shown.length;
    const from = this.#active === -1 && step === -1 ? 0 : this.#active;
    this.#setActive((from + step + count) % count);
  }

  /** Marks the line that reads exactly like the text. */
  mark(text: string): void {
    this.#setActive(this.#shown.indexOf(text));
  }

  #setActive(index: number): void {
    this.#list.children[this.#active]?.removeAttribute("aria-selected");
    this.#active = index;
    const line = this.#list.children[index];
    if (line === undefined) {
      this.#field.removeAttribute("aria-activedescendant");
      return;
    }
    line.setAttribute("aria-selected", "true");
    line.scrollIntoView({ block: "nearest" });
    this.#field.setAttribute("aria-activedescendant", line.id);
  }

  /** Puts the list under its field, or over it where there is no room below. */
  place(): void {
    if (!this.isOpen) return;
    const field = this.#field.getBoundingClientRect();
    const style = this.#list.style;
    style.minWidth = `${field.width}px`;
    const height = this.#list.offsetHeight;
    const below = window.innerHeight - field.bottom;
    const isUnder = below >= height + GAP || below >= field.top;
    style.left = `${Math.max(0, Math.min(field.left, window.innerWidth - this.#list.offsetWidth))}px`;
    style.top = `${Math.max(0, isUnder ? field.bottom + GAP : field.top - GAP - height)}px`;
  }

  close(): void {
    if (this.isOpen) this.#list.hidePopover();
    if (this.#isInUse) this.#field.setAttribute("aria-expanded", "false");
    this.#field.removeAttribute("aria-activedescendant");
  }
}
