import "../tools/strict-console";
import { afterEach, describe, expect, it } from "vitest";
import { userEvent } from "vitest/browser";
import type { GridModel } from "../../src/ui/grid/port";
import {
  cellOf,
  firstCellsOf,
  headsOf,
  isFree,
  largeModel,
  nextFrame,
  sampleModel,
  scrollerOf,
  startTrial,
  type Trial,
} from "./grid-sample";

let trial: Trial | undefined;
afterEach(() => {
  trial?.close();
  trial = undefined;
});

function start(model: GridModel, row?: string, key?: string): Trial {
  trial = startTrial(model);
  if (row !== undefined && key !== undefined) trial.grid.select({ row, column: key });
  return trial;
}

function lastPlace(one: Trial): string {
  const anchor = one.selected.at(-1)?.anchor;
  return `${anchor?.row}:${anchor?.column}`;
}

function focusedWords(): string | undefined {
  return document.activeElement?.textContent ?? undefined;
}

function head(one: Trial, selector: string): HTMLElement {
  return headsOf(one, selector)[0] as HTMLElement;
}

describe("moving by keyboard", () => {
  it("goes by arrows, to the ends and by pages", async () => {
    const one = start(largeModel(500, 40), "r10", "c5");
    await userEvent.keyboard("{ArrowDown}{ArrowRight}{ArrowRight}{ArrowUp}{ArrowLeft}");
    expect(lastPlace(one)).toBe("r10:c6");
    await userEvent.keyboard("{End}");
    expect(lastPlace(one)).toBe("r10:c39");
    await userEvent.keyboard("{Home}");
    expect(["r10:c0", "r10:c2"]).toContain(lastPlace(one));
    await userEvent.keyboard("{Control>}{ArrowDown}{/Control}");
    expect(lastPlace(one)).toMatch(/^r499:/);
    await userEvent.keyboard("{Control>}{ArrowRight}{/Control}");
    expect(lastPlace(one)).toBe("r499:c39");
    await userEvent.keyboard("{PageUp}{PageUp}");
    const page = (499 - Number(one.selected.at(-1)?.anchor.row.slice(1))) / 2;
    expect(page).toBeGreaterThan(8);
    expect(page).toBeLessThan(16);
    await userEvent.keyboard("{Control>}{Home}{/Control}{PageDown}");
    expect(lastPlace(one)).toMatch(`r${page}:`);
    await userEvent.keyboard("{PageUp}{PageUp}");
    expect(lastPlace(one)).toMatch(/^r0:/);
    expect(document.activeElement?.tagName).toBe("TD");
  });

  it("reports the block from the cell where it began, in view order", async () => {
    const one = start(sampleModel(), "019", "used");
    await userEvent.keyboard("{Shift>}{ArrowUp}{ArrowLeft}{/Shift}");
    expect(one.selected.at(-1)).toEqual({
      anchor: { row: "019", column: "used" },
      rows: ["018", "019"],
      columns: ["coats", "used"],
    });
  });

  it("draws the block out to where Shift is held at a click, and to the last row by Control and Shift", async () => {
    const model = sampleModel();
    const one = start(model, "018", "coats");
    await userEvent.click(cellOf(one, model, "020", "share") as Element, { modifiers: ["Shift"] });
    expect(one.selected.at(-1)?.rows).toEqual(["018", "019", "020"]);
    expect(one.selected.at(-1)?.columns).toEqual(["coats", "used", "firing", "share"]);
    one.grid.select({ row: "019", column: "used" });
    await userEvent.keyboard("{Control>}{Shift>}{ArrowDown}{/Shift}{/Control}");
    expect(one.selected.at(-1)?.rows).toEqual(["019", "020", "021", "022"]);
  });

  it("reports a selection once", async () => {
    const model = sampleModel();
    const one = start(model, "019", "used");
    expect(one.selected.length).toBe(1);
    one.grid.select({ row: "019", column: "used" });
    one.grid.focus();
    await userEvent.click(cellOf(one, model, "019", "used") as Element);
    expect(one.selected.length).toBe(1);
    await userEvent.click(cellOf(one, model, "018", "piece") as Element);
    expect(lastPlace(one)).toBe("018:piece");
  });

  it("walks through a block by Tab without leaving it", async () => {
    const one = start(sampleModel(), "018", "coats");
    await userEvent.keyboard("{Shift>}{ArrowDown}{ArrowRight}{/Shift}{Tab}");
    expect(lastPlace(one)).toBe("018:used");
    await userEvent.keyboard("{Tab}{Tab}");
    expect(lastPlace(one)).toBe("019:used");
    await userEvent.keyboard("{Tab}");
    expect(lastPlace(one)).toBe("018:coats");
    expect(one.selected.at(-1)?.rows).toEqual(["018", "019"]);
    expect(one.host.contains(document.activeElement)).toBe(true);
  });

  it.each(["{F1}", "{Alt>}{Enter}{/Alt}", "{ContextMenu}", "{Shift>}{F10}{/Shift}"])(
    "asks to explain the cell on %s",
    async (keys) => {
      const one = start(sampleModel(), "019", "share2");
      await userEvent.keyboard(keys);
      expect(one.explained).toEqual([{ row: "019", column: "share2" }]);
      expect(document.querySelector("input:focus")).toBeNull();
    },
  );

  it("asks to explain a cell on Alt+click", async () => {
    const model = sampleModel();
    const one = start(model);
    await userEvent.click(cellOf(one, model, "019", "share2") as Element, { modifiers: ["Alt"] });
    expect(one.explained).toEqual([{ row: "019", column: "share2" }]);
  });

  it("leaves keys it does not use to the app", async () => {
    start(sampleModel(), "019", "share2");
    const seen: string[] = [];
    const note = (event: KeyboardEvent) => {
      if (!event.defaultPrevented) seen.push(event.key);
    };
    document.addEventListener("keydown", note);
    await userEvent.keyboard("{Control>}z{/Control}{Control>}s{/Control}{F8}");
    document.removeEventListener("keydown", note);
    expect(seen).toEqual(["Control", "z", "Control", "s", "F8"]);
  });
});

describe("the keyboard is never trapped", () => {
  it("leaves forwards by Escape and Tab, backwards by Escape and Shift+Tab, and says so", async () => {
    const one = start(sampleModel(), "019", "share2");
    await userEvent.keyboard("{Escape}");
    expect(one.host.querySelector("[aria-live]")?.textContent).toBe("Tab leaves the sheet now.");
    await userEvent.keyboard("{Tab}");
    expect(focusedWords()).toBe("after");
    await userEvent.keyboard("x{Delete}");
    expect(one.written).toEqual([]);
    one.grid.focus();
    expect(focusedWords()).toBe("24.36");
    await userEvent.keyboard("{Escape}{Shift>}{Tab}{/Shift}");
    expect(focusedWords()).toBe("before");
  });

  it("forgets Escape at any other key", async () => {
    const one = start(sampleModel(), "019", "share2");
    await userEvent.keyboard("{Escape}{ArrowDown}{Tab}");
    expect(lastPlace(one)).toBe("020:band");
    expect(one.host.contains(document.activeElement)).toBe(true);
  });

  it("leaves by Tab at the last cell and by Shift+Tab at the first", async () => {
    const one = start(sampleModel(), "022", "full");
    await userEvent.keyboard("{Tab}");
    expect(focusedWords()).toBe("after");
    one.grid.select({ row: "017", column: "piece" });
    await userEvent.keyboard("{Shift>}{Tab}{/Shift}");
    expect(focusedWords()).toBe("before");
  });

  it("is entered by Tab from before and from after, where it was left", async () => {
    const one = start(sampleModel(), "019", "share2");
    await userEvent.keyboard("{Escape}{Tab}{Shift>}{Tab}{/Shift}");
    expect(focusedWords()).toBe("24.36");
    await userEvent.keyboard("{Escape}{Shift>}{Tab}{/Shift}{Tab}");
    expect(focusedWords()).toBe("24.36");
    await userEvent.keyboard("5{Enter}");
    expect(one.written.length).toBe(1);
  });

  it("shows where the focus is", async () => {
    const one = start(sampleModel(), "019", "share2");
    await nextFrame();
    if (isFree) {
      const ring = getComputedStyle(one.host.querySelector("td:focus") as Element, "::after");
      expect([ring.borderTopWidth, ring.borderLeftWidth, ring.borderColor]).toEqual(["2px", "2px", "rgb(143, 59, 34)"]);
      return;
    }
    const borders = [...one.host.querySelectorAll<HTMLElement>(".ht_master .wtBorder.current:not(.corner)")].filter(
      (border) => border.style.display !== "none",
    );
    expect(borders.length).toBe(4);
    expect(getComputedStyle(borders[0] as Element).backgroundColor).toBe("rgb(143, 59, 34)");
    expect(borders.map((border) => Math.min(border.offsetWidth, border.offsetHeight))).toEqual([2, 2, 2, 2]);
  });
});

describe("headers", () => {
  it("folds a group by a click anywhere on its header", async () => {
    const one = start(sampleModel());
    await userEvent.click(head(one, "[data-group=glaze]"));
    expect(one.toggled).toEqual(["glaze"]);
    await userEvent.click(head(one, "[data-group=piece-cost]"));
    expect(one.toggled).toEqual(["glaze"]);
  });

  it("folds by keyboard, and keeps the focus on the group when it has folded", async () => {
    const model = sampleModel();
    const one = start(model, "017", "share");
    await userEvent.keyboard("{ArrowUp}");
    expect(document.activeElement).toBe(head(one, "[data-column=share]"));
    await userEvent.keyboard("{ArrowUp}");
    expect(document.activeElement).toBe(head(one, "[data-group=fired]"));
    await userEvent.keyboard("{Enter}");
    expect(one.toggled).toEqual(["fired"]);
    one.grid.show(
      sampleModel({
        columns: model.columns.filter((column) => column.key !== "firing" && column.key !== "used"),
        groups: model.groups.map((group) => (group.id === "fired" ? { ...group, isFolded: true } : group)),
      }),
    );
    await nextFrame();
    expect(head(one, "[data-group=fired]").getAttribute("aria-expanded")).toBe("false");
    expect(document.activeElement).toBe(head(one, "[data-group=fired]"));
    await userEvent.keyboard(" ");
    expect(one.toggled).toEqual(["fired", "fired"]);
    await userEvent.keyboard("x{Delete}");
    expect(one.written).toEqual([]);
  });

  it("activates a column by its title or by Enter and Space, without selecting it", async () => {
    const one = start(sampleModel(), "017", "share");
    await userEvent.click(head(one, "[data-column=used]").querySelector(".sheet-head-title") as Element);
    expect(one.activated).toEqual(["used"]);
    expect(one.selected.length).toBe(1);
    await userEvent.keyboard("{ArrowUp}{Enter} ");
    expect(one.activated).toEqual(["used", "share", "share"]);
    await userEvent.keyboard("{ArrowDown}{Home}{ArrowUp}{Enter}");
    expect(one.activated.length).toBe(4);
  });

  it("activates a frozen column that spans both header rows", async () => {
    const one = start(sampleModel(), "017", "piece");
    await userEvent.keyboard("{ArrowUp}{Enter}");
    expect(one.activated).toEqual(["piece"]);
    expect(document.activeElement?.textContent).toBe("Piece");
  });

  it("selects a column by the rest of its header, from the first row on", async () => {
    const one = start(sampleModel());
    await userEvent.click(head(one, "[data-column=used]").querySelector(".sheet-head-unit") as Element);
    expect(one.selected.at(-1)?.columns).toEqual(["used"]);
    expect(one.selected.at(-1)?.rows.length).toBe(6);
    expect(one.selected.at(-1)?.anchor).toEqual({ row: "017", column: "used" });
    await userEvent.keyboard("{Delete}");
    expect(one.written[0]?.entries.length).toBe(6);
  });
});

describe("showing another model", () => {
  it("follows the selected cell by its ids and says nothing where it is the same", async () => {
    const one = start(sampleModel(), "019", "share2");
    one.grid.show(sampleModel({ rows: ["022", "021", "020", "019", "018", "017"] }));
    await nextFrame();
    expect(focusedWords()).toBe("24.36");
    expect(one.selected.length).toBe(1);
    const narrow = sampleModel({ columns: sampleModel().columns.filter((column) => column.group !== "glaze") });
    one.grid.show(narrow);
    await nextFrame();
    expect(focusedWords()).toBe("24.36");
    expect(document.activeElement).toBe(cellOf(one, narrow, "019", "share2"));
    expect(one.selected.length).toBe(1);
  });

  it("goes to the nearest cell where the selected one is gone, and reports it", async () => {
    const one = start(sampleModel(), "022", "share2");
    one.grid.show(sampleModel({ rows: ["017", "018"] }));
    await nextFrame();
    expect(lastPlace(one)).toBe("018:share2");
    expect(one.host.contains(document.activeElement)).toBe(true);
    one.grid.show(sampleModel({ rows: [] }));
    await nextFrame();
    expect(focusedWords()).toBe("Piece");
    // Once there are rows again, what is typed is meant for a cell.
    one.grid.show(sampleModel());
    await nextFrame();
    expect(lastPlace(one)).toBe("017:piece");
    await userEvent.keyboard("{ArrowDown}");
    expect(lastPlace(one)).toBe("018:piece");
  });

  it("starts another sheet at its top with nothing selected, or at its first cell if the keyboard was in the sheet", async () => {
    const one = start(largeModel(500, 40), "r300", "c30");
    await nextFrame();
    (document.querySelector("button") as HTMLElement).focus();
    one.grid.show(largeModel(400, 40, { label: "Firings", rows: Array.from({ length: 400 }, (_, n) => `f${n}`) }));
    await nextFrame();
    expect([scrollerOf(one).scrollTop, scrollerOf(one).scrollLeft]).toEqual([0, 0]);
    expect(one.host.querySelector(isFree ? "td[data-selected]" : "td.current")).toBeNull();
    expect(firstCellsOf(one)[0]?.textContent).toBe("f0:c0");
    expect(one.selected.length).toBe(1);
    one.grid.select({ row: "f200", column: "c20" });
    one.grid.show(sampleModel());
    await nextFrame();
    expect(lastPlace(one)).toBe("017:piece");
    expect(focusedWords()).toBe("017");
  });

  it("does not take the focus from the rest of the page", async () => {
    const one = start(sampleModel(), "019", "share2");
    const field = document.createElement("input");
    document.body.append(field);
    await userEvent.click(field);
    one.grid.show(sampleModel({ rows: ["019", "018"] }));
    await nextFrame();
    expect(document.activeElement).toBe(field);
    await userEvent.keyboard("7");
    expect(field.value).toBe("7");
    field.remove();
    const button = document.querySelector("button") as HTMLElement;
    button.focus();
    one.grid.show(sampleModel());
    await nextFrame();
    expect(document.activeElement).toBe(button);
    await userEvent.keyboard("7");
    expect(one.written).toEqual([]);
    one.grid.select({ row: "021", column: "band" });
    await userEvent.keyboard("7{Enter}");
    expect(one.written.length).toBe(1);
  });

  it("stays where it was scrolled to, by rows and columns", async () => {
    const model = largeModel(2_000, 60);
    const one = start(model);
    scrollerOf(one).scrollTop = 26 * 1_000;
    scrollerOf(one).scrollLeft = 80 * 30;
    await nextFrame();
    const firstRow = () => firstCellsOf(one)[0]?.textContent;
    const at = cellOf(one, model, "r1003", "c34")?.getBoundingClientRect();
    one.grid.show(largeModel(2_000, 60));
    await nextFrame();
    expect(scrollerOf(one).scrollTop).toBe(26_000);
    const fewer = {
      ...largeModel(2_000, 60),
      rows: model.rows.slice(500),
      columns: model.columns.filter((column) => column.group !== "g1"),
    };
    one.grid.show(fewer);
    await nextFrame();
    await nextFrame();
    expect(scrollerOf(one).scrollTop).toBe(26 * 500);
    expect(firstRow()).not.toBe("r0:c0");
    const now = cellOf(one, fewer, "r1003", "c34")?.getBoundingClientRect();
    expect(now?.left).toBeCloseTo(at?.left ?? 0, 0);
    expect(now?.top).toBeCloseTo(at?.top ?? 0, 0);
  });

  it("stays at the top when the rows are put in another order", async () => {
    const model = largeModel(2_000, 12);
    const one = start(model, "r3", "c5");
    one.grid.show({ ...model, rows: model.rows.toReversed() });
    await nextFrame();
    expect(scrollerOf(one).scrollTop).toBe(0);
    expect(firstCellsOf(one)[0]?.textContent).toBe("r1999:c0");
    await userEvent.keyboard("{ArrowDown}");
    expect(lastPlace(one)).toBe("r2:c5");
  });

  it("takes only a repaint where nothing but values differ", async () => {
    const model = sampleModel();
    const one = start(model, "019", "share2");
    const cell = cellOf(one, model, "019", "share2");
    const changed = sampleModel({ display: (row, key) => ({ ...model.display(row, key), text: `${row}!` }) });
    one.grid.show(changed);
    expect(cell?.textContent).toBe("24.36");
    await nextFrame();
    expect(cell?.isConnected).toBe(true);
    expect(cell?.textContent).toBe("019!");
  });
});

describe("closing", () => {
  it("leaves nothing behind", async () => {
    const count = () => document.querySelectorAll("body *, head style").length;
    const earlier = count();
    const one = start(sampleModel(), "019", "firing");
    await userEvent.keyboard("{Enter}");
    one.grid.repaint();
    const { host: used } = one;
    one.close();
    trial = undefined;
    expect(document.getElementById("handsontable-core-styles")).toBeNull();
    expect(used.childNodes.length).toBe(0);
    expect(used.getAttributeNames()).toEqual(["style"]);
    expect(used.style.cssText).toBe("width: 980px; height: 420px;");
    expect(count()).toBe(earlier);
    await nextFrame();
    await userEvent.keyboard("x{Tab}");
    document.body.dispatchEvent(new ClipboardEvent("paste", { clipboardData: new DataTransfer(), bubbles: true }));
    expect(one.written).toEqual([]);
  });

  it("leaves other grids working", async () => {
    const model = sampleModel();
    const one = start(model, "019", "share2");
    const other = startTrial(sampleModel());
    other.close();
    await nextFrame();
    expect(getComputedStyle(cellOf(one, model, "019", "coats") as Element).boxShadow).toContain("inset");
    if (!isFree) expect(document.getElementById("handsontable-core-styles")).not.toBeNull();
    one.grid.focus();
    await userEvent.keyboard("4{Enter}");
    expect(one.written.length).toBe(1);
  });
});
