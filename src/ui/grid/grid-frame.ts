// What stands around the library's grid in the host: a named region, the way in and out by keyboard, and a voice.

const HINT =
  "Arrow keys move, Enter or typing edits, F1 explains a cell, Alt and Down copies the top row of the selection down. " +
  "Escape, then Tab, leaves the sheet.";

/** Widths and heights in px. */
interface FrameSizes {
  readonly frozenWidth: number;
  readonly groupRow: number;
  readonly titleRow: number;
}

/** The styled host of a grid. */
export interface GridFrame {
  /** Where the library builds its grid. */
  readonly container: HTMLElement;
  /** Id of the text that tells how to use the grid. */
  readonly hintId: string;
  name(label: string): void;
  /** Sizes in px that the style sheet draws to. */
  setSizes(sizes: FrameSizes): void;
  /** Speaks to screen readers. */
  say(text: string): void;
  /** Puts the focus beside the grid, so that the browser's own Tab goes on from there. */
  leave(step: 1 | -1): void;
  remove(): void;
}

let frameCount = 0;

function doorstep(): HTMLElement {
  const step = document.createElement("span");
  step.className = "sheet-doorstep";
  step.tabIndex = -1;
  return step;
}

function textElement(className: string): HTMLElement {
  const element = document.createElement("p");
  element.className = className;
  return element;
}

/** Builds the frame inside the host; `remove` leaves the host as it was. */
export function frameGrid(host: HTMLElement): GridFrame {
  frameCount += 1;
  const before = doorstep();
  const after = doorstep();
  const container = document.createElement("div");
  container.className = "sheet-grid-body";
  const hint = textElement("sheet-unseen");
  hint.id = `sheet-hint-${frameCount}`;
  hint.textContent = HINT;
  const voice = textElement("sheet-unseen");
  voice.setAttribute("aria-live", "polite");
  host.append(before, container, after, hint, voice);
  host.classList.add("sheet-grid");
  host.setAttribute("role", "region");
  return {
    container,
    hintId: hint.id,
    name: (label) => host.setAttribute("aria-label", label),
    setSizes: ({ frozenWidth, groupRow, titleRow }) => {
      container.style.setProperty("--frozen-width", `${frozenWidth}px`);
      container.style.setProperty("--group-row-height", `${groupRow}px`);
      container.style.setProperty("--title-row-height", `${titleRow}px`);
    },
    say: (text) => {
      voice.textContent = text;
    },
    leave: (step) => {
      voice.textContent = "";
      (step === 1 ? after : before).focus({ preventScroll: true });
    },
    remove: () => {
      for (const element of [before, container, after, hint, voice]) element.remove();
      host.classList.remove("sheet-grid");
      if (host.classList.length === 0) host.removeAttribute("class");
      host.removeAttribute("role");
      host.removeAttribute("aria-label");
    },
  };
}
