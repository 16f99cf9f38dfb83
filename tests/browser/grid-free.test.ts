// What the grid of our own does beyond what both do: fingers, input methods, widths by pointer, no blank while it scrolls.
import "../tools/strict-console";
import { afterEach, describe, expect, it } from "vitest";
import { userEvent } from "vitest/browser";
import {
  cellOf,
  headsOf,
  isFree,
  LOOK,
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

function start(...args: Parameters<typeof startTrial>): Trial {
  trial = startTrial(...args);
  return trial;
}

function centreOf(element: Element): { clientX: number; clientY: number } {
  const box = element.getBoundingClientRect();
  return { clientX: box.left + box.width / 2, clientY: box.top + box.height / 2 };
}

function send(
  type: string,
  element: Element,
  at: { clientX: number; clientY: number; shiftKey?: boolean } = centreOf(element),
  pointerType = "touch",
): boolean {
  const init = {
    shiftKey: false,
    ...at,
    bubbles: true,
    cancelable: true,
    button: 0,
    buttons: 1,
    pointerId: 7,
    pointerType,
  };
  return element.dispatchEvent(new PointerEvent(type, init));
}

function tap(element: Element): void {
  send("pointerdown", element);
  send("pointerup", element);
  send("click", element);
}

describe.runIf(isFree)("a finger", () => {
  it("selects by a tap and opens by another on the same cell", () => {
    const model = sampleModel();
    const one = start(model);
    const cell = cellOf(one, model, "019", "coats") as Element;
    tap(cell);
    expect(one.selected.at(-1)?.anchor).toEqual({ row: "019", column: "coats" });
    expect(document.activeElement).toBe(cell);
    tap(cell);
    expect(document.activeElement?.tagName).toBe("INPUT");
  });

  it("scrolls by a drag on what is not selected, and draws a block out from what is", async () => {
    const model = sampleModel();
    const one = start(model);
    const cell = cellOf(one, model, "018", "coats") as Element;
    const far = cellOf(one, model, "020", "used") as Element;
    expect(getComputedStyle(cell).touchAction).toBe("auto");
    send("pointerdown", cell);
    send("pointermove", document.body, centreOf(far));
    send("pointercancel", document.body);
    expect(one.selected).toEqual([]);
    tap(cell);
    expect(getComputedStyle(cell).touchAction).toBe("none");
    send("pointerdown", cell);
    send("pointermove", document.body, centreOf(far));
    send("pointerup", document.body, centreOf(far));
    expect(one.selected.at(-1)?.rows).toEqual(["018", "019", "020"]);
    expect(one.selected.at(-1)?.columns).toEqual(["coats", "used"]);
    await nextFrame();
    expect(document.activeElement).toBe(cell);
  });

  it("leaves pinching to the browser", () => {
    const one = start(sampleModel());
    expect(getComputedStyle(scrollerOf(one)).touchAction).toMatch(/^manipulation$|pinch-zoom/);
  });
});

describe.runIf(isFree)("an input method", () => {
  it("composes in a field that waits in the cell, once one was used on the page", async () => {
    const model = sampleModel();
    const one = start(model, "width: 980px; height: 420px");
    document.body.dispatchEvent(new CompositionEvent("compositionstart", { bubbles: true }));
    one.grid.select({ row: "018", column: "coats" });
    const field = document.activeElement as HTMLInputElement;
    expect(field.tagName).toBe("INPUT");
    expect(field.getAttribute("aria-label")).toBe("coats, 018");
    expect(cellOf(one, model, "018", "coats")?.textContent).toBe("3");
    await userEvent.keyboard("{ArrowDown}");
    expect(one.selected.at(-1)?.anchor).toEqual({ row: "019", column: "coats" });
    expect((document.activeElement as HTMLElement).parentElement).toBe(cellOf(one, model, "019", "coats"));
    const waiting = document.activeElement as HTMLInputElement;
    waiting.dispatchEvent(new CompositionEvent("compositionstart", { bubbles: true }));
    expect(waiting.isConnected).toBe(true);
    expect(waiting.parentElement?.hasAttribute("data-edited")).toBe(true);
    waiting.value = "釉";
    waiting.dispatchEvent(new InputEvent("input", { bubbles: true }));
    waiting.dispatchEvent(new CompositionEvent("compositionend", { bubbles: true, data: "釉" }));
    await userEvent.keyboard("{Enter}");
    expect(one.written).toEqual([
      { entries: [{ row: "019", column: "coats", typed: "釉" }], how: "typed", overflow: 0 },
    ]);
    await userEvent.keyboard("5{Enter}");
    expect(one.written[1]?.entries).toEqual([{ row: "020", column: "coats", typed: "5" }]);
    await userEvent.keyboard("{Delete}");
    expect(one.written[2]?.how).toBe("cleared");
  });
});

describe("widths", () => {
  it("change by keyboard on a header, and fit what stands in the column", async () => {
    const one = start(sampleModel());
    one.grid.select({ row: "017", column: "used" });
    await userEvent.keyboard("{ArrowUp}{Alt>}{ArrowRight}{ArrowLeft}{ArrowDown}{/Alt}");
    expect(one.resized).toEqual([
      ["used", 70],
      ["used", 54],
      ["used", "fit"],
    ]);
  });

  it.runIf(isFree)("change by dragging a title's edge, and fit at two presses of it", async () => {
    const one = start(sampleModel());
    const edge = headsOf(one, "[data-column=used]")[0]?.querySelector(".free-edge") as Element;
    const from = centreOf(edge);
    send("pointerdown", edge, from, "mouse");
    send("pointermove", document.body, { ...from, clientX: from.clientX + 30 }, "mouse");
    send("pointerup", document.body, { ...from, clientX: from.clientX + 30 }, "mouse");
    expect(one.resized).toEqual([["used", 92]]);
    expect(one.selected).toEqual([]);
    await userEvent.dblClick(edge);
    expect(one.resized.at(-1)).toEqual(["used", "fit"]);
    expect(one.activated).toEqual([]);
  });
});

describe("rows and columns as a whole", () => {
  it.runIf(isFree)("are selected by Shift+Space, Control+Space and Control+A", async () => {
    const one = start(sampleModel());
    one.grid.select({ row: "019", column: "used" });
    await userEvent.keyboard("{Shift>} {/Shift}");
    expect(one.selected.at(-1)?.rows).toEqual(["019"]);
    expect(one.selected.at(-1)?.columns.length).toBe(13);
    one.grid.select({ row: "019", column: "used" });
    await userEvent.keyboard("{Control>} {/Control}");
    expect(one.selected.at(-1)?.columns).toEqual(["used"]);
    expect(one.selected.at(-1)?.rows.length).toBe(6);
    await userEvent.keyboard("{Control>}a{/Control}");
    expect(one.selected.at(-1)?.rows.length).toBe(6);
    expect(one.selected.at(-1)?.columns.length).toBe(13);
  });

  it.runIf(isFree)("rows are taken by a press in the margin, several by a drag along it or with Shift", () => {
    const model = sampleModel();
    const one = start(model);
    const first = model.columns[0]?.key ?? "";
    const margin = (row: string) => {
      const cell = cellOf(one, model, row, first) as Element;
      return { cell, at: { ...centreOf(cell), clientX: scrollerOf(one).getBoundingClientRect().left + 4 } };
    };
    const [from, to] = [margin(model.rows[1] ?? ""), margin(model.rows[3] ?? "")];
    send("pointerdown", from.cell, from.at, "mouse");
    expect(one.selected.at(-1)?.rows).toEqual([model.rows[1]]);
    expect(one.selected.at(-1)?.columns.length).toBe(13);
    send("pointermove", document.body, to.at, "mouse");
    send("pointerup", document.body, to.at, "mouse");
    expect(one.selected.at(-1)?.rows).toEqual(model.rows.slice(1, 4));
    const above = margin(model.rows[0] ?? "");
    const withShift = { ...above.at, shiftKey: true };
    send("pointerdown", above.cell, withShift, "mouse");
    send("pointerup", document.body, above.at, "mouse");
    expect([...(one.selected.at(-1)?.rows ?? [])].sort()).toEqual([...model.rows.slice(0, 4)].sort());
    expect(one.selected.at(-1)?.columns.length).toBe(13);
  });

  it("tell by which column the rows are sorted", () => {
    const { columns } = sampleModel();
    const sorted = columns.map((one) => (one.key === "used" ? { ...one, sort: "descending" as const } : one));
    const one = start(sampleModel({ columns: sorted }));
    expect(headsOf(one, "[data-column=used]")[0]?.getAttribute("aria-sort")).toBe("descending");
    expect(headsOf(one, "[data-column=share]")[0]?.hasAttribute("aria-sort")).toBe(false);
  });
});

describe.runIf(isFree)("a drag beyond the edge", () => {
  it("scrolls on and draws the block out over what comes into sight", async () => {
    const model = largeModel(500, 40);
    const one = start(model);
    const cell = cellOf(one, model, "r3", "c3") as Element;
    const box = scrollerOf(one).getBoundingClientRect();
    send("pointerdown", cell, centreOf(cell), "mouse");
    const beyond = { clientX: box.right + 80, clientY: box.bottom + 80 };
    send("pointermove", document.body, beyond, "mouse");
    for (let at = 0; at < 20; at += 1) await nextFrame();
    send("pointerup", document.body, beyond, "mouse");
    expect(scrollerOf(one).scrollTop).toBeGreaterThan(300);
    expect(scrollerOf(one).scrollLeft).toBeGreaterThan(300);
    const block = one.selected.at(-1);
    expect(block?.anchor).toEqual({ row: "r3", column: "c3" });
    expect(block?.rows.length).toBeGreaterThan(20);
    expect(block?.columns.length).toBeGreaterThan(10);
  });
});

describe.runIf(isFree)("painting", () => {
  it("touches the cells whose text differs, and no others", async () => {
    const wages = new Map<string, string>();
    const model = largeModel(10_000, 60, {
      display: (row, key) => ({ ...LOOK, text: wages.get(`${row}:${key}`) ?? `${row}:${key}` }),
    });
    const one = start(model);
    // The first size of the sheet is told a frame later.
    await nextFrame();
    await nextFrame();
    wages.set("r2:c3", "9.99").set("r4:c5", "8.88").set("r9000:c3", "7.77");
    const touched: string[] = [];
    const watch = new MutationObserver((records) =>
      touched.push(...records.map(({ target }) => target.parentElement?.textContent ?? "")),
    );
    const body = one.host.querySelector("tbody") as Element;
    watch.observe(body, { subtree: true, childList: true, characterData: true, attributes: true });
    one.grid.repaint();
    await nextFrame();
    await nextFrame();
    watch.disconnect();
    expect(touched.sort()).toEqual(["8.88", "9.99"]);
  });
});

describe.runIf(isFree)("scrolling", () => {
  it("never shows a blank, however far the scroller is ahead", async () => {
    const one = start(largeModel(10_000, 60));
    const scroller = scrollerOf(one);
    const box = scroller.getBoundingClientRect();
    const isCovered = (x: number, y: number) => document.elementFromPoint(x, y)?.closest("td, th") !== null;
    for (let at = 0; at < 40; at += 1) {
      scroller.scrollTop = (at * 6661) % (scroller.scrollHeight - scroller.clientHeight);
      scroller.scrollLeft = (at * 977) % (scroller.scrollWidth - scroller.clientWidth);
      // Before the page could follow: what was drawn before still covers the view.
      for (const x of [5, 300, 900])
        for (const y of [5, 100, 250, 400]) expect(isCovered(box.left + x, box.top + y)).toBe(true);
      await nextFrame();
      const first = Math.floor(scroller.scrollTop / 26);
      expect(one.host.querySelector(`tr[aria-rowindex="${first + 3}"] td`)?.textContent).toBe(`r${first}:c0`);
    }
  });

  it("moves no row that stays in sight when a cell is pressed, so that the press has its cell", async () => {
    const model = largeModel(500, 12);
    const one = start(model);
    scrollerOf(one).scrollTop = 200;
    await nextFrame();
    const moved: Node[] = [];
    const watch = new MutationObserver((records) =>
      moved.push(...records.flatMap(({ addedNodes }) => [...addedNodes])),
    );
    watch.observe(one.host.querySelector("tbody") as Element, { childList: true });
    await userEvent.click(cellOf(one, model, "r12", "c3") as Element);
    await nextFrame();
    watch.disconnect();
    expect(moved).toEqual([]);
    expect(cellOf(one, model, "r12", "c3")?.contains(document.activeElement)).toBe(true);
  });

  it("draws no more cells than are in sight", async () => {
    const one = start(largeModel(10_000, 90));
    scrollerOf(one).scrollTop = 100_000;
    await nextFrame();
    expect(one.host.querySelectorAll("td").length).toBeLessThan(300);
  });
});
