import "../tools/strict-console";
import { afterEach, describe, expect, it } from "vitest";
import { userEvent } from "vitest/browser";
import type { GridModel } from "../../src/ui/grid/port";
import { cellOf, headsOf, nextFrame, sampleModel, startTrial, type Trial } from "./grid-sample";

let trial: Trial | undefined;
afterEach(() => {
  trial?.close();
  trial = undefined;
});

function start(model: GridModel, row: string, key: string): Trial {
  trial = startTrial(model);
  trial.grid.select({ row, column: key });
  return trial;
}

function editor(): HTMLInputElement | null {
  const field = document.activeElement;
  return field instanceof HTMLInputElement ? field : null;
}

function lastPlace(one: Trial): string {
  const anchor = one.selected.at(-1)?.anchor;
  return `${anchor?.row}:${anchor?.column}`;
}

function typed(row: string, column: string, text: string) {
  return [{ entries: [{ row, column, typed: text }], how: "typed", overflow: 0 }];
}

describe("typing into a cell", () => {
  it("starts anew, goes down on Enter and stores nothing in the grid", async () => {
    const model = sampleModel();
    const one = start(model, "018", "coats");
    await userEvent.keyboard("5{Enter}");
    expect(one.written).toEqual(typed("018", "coats", "5"));
    expect(lastPlace(one)).toBe("019:coats");
    await nextFrame();
    expect(cellOf(one, model, "018", "coats")?.textContent).toBe("3");
  });

  it("reports the text as it was typed, spaces and all", async () => {
    const one = start(sampleModel(), "018", "coats");
    await userEvent.keyboard("=A 1 {Enter}");
    expect(one.written).toEqual(typed("018", "coats", "=A 1 "));
  });

  it("goes right on Tab and back on Shift+Tab, over the ends of the rows", async () => {
    const one = start(sampleModel(), "018", "own");
    await userEvent.keyboard("7{Tab}");
    expect(one.written).toEqual(typed("018", "own", "7"));
    expect(lastPlace(one)).toBe("018:full");
    await userEvent.keyboard("{Tab}");
    expect(lastPlace(one)).toBe("019:piece");
    await userEvent.keyboard("{Shift>}{Tab}{/Shift}");
    expect(lastPlace(one)).toBe("018:full");
    await userEvent.keyboard("8{Shift>}{Tab}{/Shift}");
    expect(one.written[1]?.entries).toEqual([{ row: "018", column: "full", typed: "8" }]);
    expect(lastPlace(one)).toBe("018:own");
  });

  it("reports what is typed into a computed cell: the app decides", async () => {
    const one = start(sampleModel(), "018", "share");
    await userEvent.keyboard("0.5{ArrowDown}");
    expect(one.written).toEqual(typed("018", "share", "0.5"));
    expect(lastPlace(one)).toBe("019:share");
  });

  it.each(["{Enter}", "{F2}"])("opens on %s with the text the model edits", async (key) => {
    const one = start(sampleModel(), "018", "coats");
    await userEvent.keyboard(key);
    expect(editor()?.value).toBe("=018:coats");
    await userEvent.keyboard("x{Enter}");
    expect(one.written).toEqual(typed("018", "coats", "=018:coatsx"));
  });

  it("opens on a double click, and names the field by column and row", async () => {
    const model = sampleModel();
    const one = start(model, "017", "used");
    await userEvent.dblClick(cellOf(one, model, "019", "used") as Element);
    expect(editor()?.value).toBe("=019:used");
    expect(editor()?.getAttribute("aria-label")).toBe("used, g, 019");
    expect(one.written).toEqual([]);
  });

  it("reports nothing when the text is left as it was, or given up by Escape", async () => {
    const one = start(sampleModel(), "018", "coats");
    await userEvent.keyboard("{Enter}{Enter}");
    await userEvent.keyboard("{F2}9{Escape}");
    await userEvent.keyboard("9{Escape}");
    expect(one.written).toEqual([]);
    expect(editor()).toBeNull();
    expect(one.host.contains(document.activeElement)).toBe(true);
  });

  it("writes one text into all of a block on Ctrl+Enter", async () => {
    const model = sampleModel();
    const one = start(model, "018", "coats");
    await userEvent.keyboard("{Shift>}{ArrowDown}{ArrowRight}{/Shift}");
    await userEvent.keyboard("6{Control>}{Enter}{/Control}");
    expect(one.written.length).toBe(1);
    expect(one.written[0]?.entries).toEqual([
      { row: "018", column: "coats", typed: "6" },
      { row: "018", column: "used", typed: "6" },
      { row: "019", column: "coats", typed: "6" },
      { row: "019", column: "used", typed: "6" },
    ]);
  });

  it("saves the text when another cell or a header is clicked", async () => {
    const model = sampleModel();
    const one = start(model, "018", "coats");
    await userEvent.keyboard("5");
    await userEvent.click(cellOf(one, model, "021", "band") as Element);
    expect(one.written).toEqual(typed("018", "coats", "5"));
    await userEvent.keyboard("6");
    await userEvent.click(headsOf(one, "[data-group=glaze]")[0] as Element);
    expect(one.written[1]?.entries).toEqual([{ row: "021", column: "band", typed: "6" }]);
    expect(one.toggled).toEqual(["glaze"]);
  });

  it("saves the text when something else on the page is clicked", async () => {
    const one = start(sampleModel(), "018", "coats");
    await userEvent.keyboard("5");
    const button = document.querySelector("button") as HTMLElement;
    await userEvent.click(button);
    expect(one.written).toEqual(typed("018", "coats", "5"));
    expect(document.activeElement).toBe(button);
  });

  it("keeps the text being typed when another model is shown", async () => {
    const model = sampleModel();
    const one = start(model, "019", "coats");
    await userEvent.keyboard("12");
    one.grid.show(sampleModel({ rows: ["021", "019", "017"] }));
    await nextFrame();
    expect(editor()?.value).toBe("12");
    await userEvent.keyboard("3{Enter}");
    expect(one.written).toEqual(typed("019", "coats", "123"));
    expect(lastPlace(one)).toBe("017:coats");
  });

  it("gives the text back where the cell is gone", async () => {
    const one = start(sampleModel(), "019", "coats");
    await userEvent.keyboard("12");
    one.grid.show(sampleModel({ rows: ["021", "017"] }));
    await nextFrame();
    expect(editor()).toBeNull();
    expect(one.written).toEqual([]);
    expect(one.kept).toEqual([{ text: "12", cell: { row: "019", column: "coats" } }]);
  });

  it("gives the text back when the sheet is closed in the middle of typing", async () => {
    const one = start(sampleModel(), "019", "coats");
    await userEvent.keyboard("12");
    one.grid.close();
    expect(one.kept).toEqual([{ text: "12", cell: { row: "019", column: "coats" } }]);
  });

  it("opens in the cell that was gone to, though that is not drawn yet", async () => {
    const rows = Array.from({ length: 400 }, (_, at) => String(at + 1).padStart(3, "0"));
    const one = start(sampleModel({ rows }), "002", "coats");
    for (const row of ["390", "003", "200"]) {
      one.grid.select({ row, column: "coats" });
      document.activeElement?.dispatchEvent(new KeyboardEvent("keydown", { key: "7", keyCode: 55, bubbles: true }));
      expect(one.begun.at(-1)).toEqual({ row, column: "coats" });
      await nextFrame();
      await userEvent.keyboard("{Escape}");
    }
  });

  it("lets the app show another model in answer to what was typed", async () => {
    const model = sampleModel();
    const one = start(model, "019", "coats");
    const push = one.written.push.bind(one.written);
    one.written.push = (...items) => {
      one.grid.show(sampleModel({ rows: ["022", "021", "020", "019", "018", "017"] }));
      return push(...items);
    };
    await userEvent.keyboard("5{Enter}");
    expect(one.written.length).toBe(1);
    expect(lastPlace(one)).toBe("018:coats");
  });
});

describe("clearing", () => {
  it.each(["{Delete}", "{Backspace}"])("reports a whole block once on %s", async (key) => {
    const one = start(sampleModel(), "018", "coats");
    await userEvent.keyboard(`{Shift>}{ArrowRight}{ArrowDown}{/Shift}${key}`);
    expect(one.written).toEqual([
      {
        how: "cleared",
        overflow: 0,
        entries: [
          { row: "018", column: "coats", typed: "" },
          { row: "018", column: "used", typed: "" },
          { row: "019", column: "coats", typed: "" },
          { row: "019", column: "used", typed: "" },
        ],
      },
    ]);
    expect(editor()).toBeNull();
  });
});

describe("a cell with choices", () => {
  const lines = () => [...document.querySelectorAll(".sheet-choices:popover-open li")].map((line) => line.textContent);

  it("offers them all, and takes one by arrows and Enter", async () => {
    const one = start(sampleModel(), "018", "firing");
    await userEvent.keyboard("{Enter}");
    expect(lines()).toEqual(["G2", "G3", "G5", "Trial"]);
    expect(editor()?.getAttribute("role")).toBe("combobox");
    expect(editor()?.getAttribute("aria-expanded")).toBe("true");
    await userEvent.keyboard("{ArrowDown}{ArrowDown}");
    const active = document.getElementById(editor()?.getAttribute("aria-activedescendant") ?? "");
    expect(active?.textContent).toBe("G3");
    expect(active?.getAttribute("aria-selected")).toBe("true");
    await userEvent.keyboard("{ArrowUp}{ArrowUp}{Enter}");
    expect(one.written).toEqual(typed("018", "firing", "Trial"));
    expect(lastPlace(one)).toBe("019:firing");
    expect(lines()).toEqual([]);
  });

  it("narrows them to what is typed, ignoring case and accents", async () => {
    const one = start(sampleModel({ choices: () => ["Émail", "Lustre", "mail-in"] }), "018", "firing");
    await userEvent.keyboard("EMA");
    expect(lines()).toEqual(["Émail"]);
    await userEvent.keyboard("{ArrowDown}{Tab}");
    expect(one.written).toEqual(typed("018", "firing", "Émail"));
    await userEvent.keyboard("{Shift>}{Tab}{/Shift}mai");
    expect(lines()).toEqual(["mail-in", "Émail"]);
  });

  it("takes one by a click", async () => {
    const one = start(sampleModel(), "018", "firing");
    await userEvent.keyboard("{Enter}");
    await userEvent.click(document.querySelectorAll(".sheet-choices:popover-open li")[2] as Element);
    expect(one.written).toEqual(typed("018", "firing", "G5"));
    expect(lastPlace(one)).toBe("018:firing");
    await expect.poll(() => one.host.contains(document.activeElement)).toBe(true);
    expect(editor()).toBeNull();
  });

  it("reports any other text as typed, and nothing on Escape", async () => {
    const one = start(sampleModel(), "018", "firing");
    await userEvent.keyboard("G9{Enter}");
    expect(one.written).toEqual(typed("018", "firing", "G9"));
    await userEvent.keyboard("{Enter}{ArrowDown}{Escape}");
    expect(one.written.length).toBe(1);
    expect(lines()).toEqual([]);
  });

  it("is an ordinary field where there are none", async () => {
    const one = start(sampleModel({ choices: () => [] }), "018", "firing");
    await userEvent.keyboard("G{ArrowDown}");
    expect(one.written).toEqual(typed("018", "firing", "G"));
    expect(lastPlace(one)).toBe("019:firing");
  });
});
