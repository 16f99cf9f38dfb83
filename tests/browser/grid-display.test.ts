import "../tools/strict-console";
import { afterEach, describe, expect, it, vi } from "vitest";
import { userEvent } from "vitest/browser";
import {
  cellOf,
  column,
  firstCellsOf,
  group,
  headsOf,
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

function markOf(cell: Element | null): string {
  return cell === null ? "" : getComputedStyle(cell, "::before").content;
}

function headOf(host: HTMLElement, words: string): HTMLElement | undefined {
  return headsOf({ host }).find((head) => head.textContent === words);
}

describe("what the grid draws", () => {
  it("shows each look with its own mark, not by colour alone", () => {
    const model = sampleModel();
    const { host } = start(model);
    const at = (row: string, key: string) => cellOf(trial as Trial, model, row, key);
    expect(at("017", "share")?.textContent).toBe("0.74");
    expect(getComputedStyle(at("017", "share") as Element).textAlign).toBe("end");
    expect(getComputedStyle(at("017", "piece") as Element).textAlign).toBe("start");
    // Inputs are underlined, computed values are not.
    expect(getComputedStyle(at("017", "firing") as Element).boxShadow).toContain("inset");
    expect(getComputedStyle(at("017", "share") as Element).boxShadow).toBe("none");
    expect(at("017", "share")?.getAttribute("aria-readonly")).toBe("true");
    expect(at("017", "firing")?.hasAttribute("aria-readonly")).toBe(false);
    expect(markOf(at("019", "used"))).toBe('"◂"');
    expect(markOf(at("017", "used"))).toBe("none");
    expect(getComputedStyle(at("017", "coats") as Element).fontStyle).toBe("italic");
    expect(getComputedStyle(at("019", "coats") as Element).fontStyle).toBe("normal");
    expect(markOf(at("021", "cost"))).toBe('"!"');
    expect(at("021", "cost")?.textContent).toBe("no area");
    expect(at("021", "cost")?.getAttribute("aria-invalid")).toBe("true");
    expect(at("020", "share")?.dataset.state).toBe("faded");
    expect(at("020", "piece")?.textContent).toBe("020 lost");
    expect(host.querySelectorAll("td [class]").length).toBe(0);
  });

  it("says the whole sentence where a look has one", () => {
    const model = sampleModel();
    start(model);
    const cell = cellOf(trial as Trial, model, "019", "used");
    expect(cell?.getAttribute("aria-label")).toBe("151 g, given by hand; the formula says 118 g");
    expect(cell?.title).toBe("151 g, given by hand; the formula says 118 g");
    expect(cellOf(trial as Trial, model, "018", "used")?.hasAttribute("aria-label")).toBe(false);
  });

  it("names the region and the sheet, and counts rows and columns", () => {
    const { host } = start(sampleModel());
    expect(host.getAttribute("role")).toBe("region");
    expect(host.getAttribute("aria-label")).toBe("Pieces");
    const sheet = host.querySelector("[role=grid]");
    expect(sheet?.getAttribute("aria-label")).toBe("Pieces");
    expect(sheet?.getAttribute("aria-rowcount")).toBe("8");
    expect(sheet?.getAttribute("aria-colcount")).toBe("13");
    const hint = document.getElementById(sheet?.getAttribute("aria-describedby") ?? "");
    expect(hint?.textContent).toContain("Escape, then Tab, leaves");
  });

  it("puts the units under the titles and the groups above, with their edges on those of their columns", () => {
    const { host } = start(sampleModel());
    expect(headOf(host, "useg")).toBeUndefined();
    const used = headOf(host, "usedg");
    const title = used?.querySelector(".sheet-head-title")?.getBoundingClientRect();
    const unit = used?.querySelector(".sheet-head-unit")?.getBoundingClientRect();
    expect(unit?.top).toBeGreaterThanOrEqual(title?.bottom ?? Number.NaN);
    const glaze = headOf(host, "▾Glazespray") as HTMLTableCellElement | undefined;
    expect(glaze?.getAttribute("aria-expanded")).toBe("true");
    expect(glaze?.colSpan).toBe(2);
    expect(glaze?.getBoundingClientRect().right).toBe(used?.getBoundingClientRect().right);
    expect(headOf(host, "▸Low firing")?.getAttribute("aria-expanded")).toBe("false");
    expect(headOf(host, "Piece")?.hasAttribute("aria-expanded")).toBe(false);
    expect(glaze?.getAttribute("aria-label")).toBe("Glaze, spray");
    expect(used?.getAttribute("aria-label")).toBe("used, g");
  });

  it("tells the whole text of a cell that is too narrow for it; a title goes on in another line", async () => {
    const columns = [column("piece", "g", { title: "A title far too long", width: 60 })];
    const groups = [group("g", { title: "G" })];
    const long = sampleModel({ columns, groups, frozen: 0, rows: ["017"], titleLines: 4 });
    const { host } = start({ ...long, display: () => ({ ...LOOK, text: "123 456 789.01" }) });
    const cell = cellOf(trial as Trial, long, "017", "piece") as HTMLElement;
    await userEvent.hover(cell);
    expect(cell.title).toBe("123 456 789.01");
    const head = headOf(host, "A title far too long") as HTMLElement;
    await userEvent.hover(head);
    expect(head.title).toBe("");
    const words = head.querySelector(".sheet-head-title")?.getBoundingClientRect();
    expect(words?.top).toBeGreaterThanOrEqual(head.getBoundingClientRect().top);
    expect(words?.right).toBeLessThanOrEqual(head.getBoundingClientRect().right);
    await userEvent.hover(headOf(host, "▾G") as HTMLElement);
    expect(headOf(host, "▾G")?.title).toBe("");
  });

  it("draws rows as high as the model says, under their headings, and goes to the one asked for", async () => {
    const rows = Array.from({ length: 60 }, (_, at) => `r${at}`);
    const rowHeights = rows.map((_, at) => (at % 10 === 0 ? 26 + 32 : at % 3 === 0 ? 43 : 26));
    const headings = new Map(rows.filter((_, at) => at % 10 === 0).map((row) => [row, `Group ${row}`]));
    const model = sampleModel({ rows, rowHeights, headings });
    const { host, grid } = start(model, "width: 600px; height: 300px");
    const boxOf = (row: string) => (cellOf(trial as Trial, model, row, "piece") as HTMLElement).getBoundingClientRect();
    expect(Math.abs(boxOf("r3").height - 43)).toBeLessThan(2);
    expect(Math.abs(boxOf("r4").top - boxOf("r0").top - (58 + 26 + 26 + 43))).toBeLessThan(2);
    expect(cellOf(trial as Trial, model, "r0", "piece")?.getAttribute("data-heading")).toBe("Group r0");
    expect(cellOf(trial as Trial, model, "r1", "piece")?.hasAttribute("data-heading")).toBe(false);
    grid.select({ row: "r57", column: "piece" });
    await expect.poll(() => boxOf("r57").bottom).toBeLessThanOrEqual(host.getBoundingClientRect().bottom);
    // The same rows at heights alike are where they would be had they never been others.
    const { rowHeights: _, headings: __, ...plain } = model;
    grid.show(plain);
    grid.select({ row: "r2", column: "piece" });
    await expect.poll(() => Math.abs(boxOf("r4").top - boxOf("r3").top - 26)).toBeLessThan(2);
  });

  it("draws more rows when the host grows", async () => {
    const model = largeModel(200, 6);
    const { host } = start(model, "width: 600px; height: 200px");
    const count = () => firstCellsOf({ host }).length;
    const few = count();
    host.style.height = "600px";
    await expect.poll(count).toBeGreaterThan(few + 10);
  });

  it("never lets a group cross the frozen edge", () => {
    const columns = ["a", "b", "c", "d"].map((key) => column(key, "g"));
    const { host } = start(sampleModel({ columns, groups: [group("g")], frozen: 2 }));
    const [corner, rest] = headsOf({ host }, "[data-group=g]");
    expect(corner?.getBoundingClientRect().right).toBe(rest?.getBoundingClientRect().left);
    expect((corner as HTMLTableCellElement).colSpan).toBe(2);
    expect((rest as HTMLTableCellElement).colSpan).toBe(2);
  });

  it("keeps the header rows of all parts at one height", () => {
    const { host } = start(sampleModel());
    const heights = [...host.querySelectorAll("thead")].map((head) => head.getBoundingClientRect().height);
    expect(new Set(heights.filter((height) => height > 0))).toEqual(new Set([69]));
  });

  it("draws rows of 26 px and columns of the widths asked for", () => {
    const model = sampleModel();
    start(model);
    const cell = cellOf(trial as Trial, model, "018", "cost");
    expect(cell?.getBoundingClientRect().height).toBe(26);
    expect(cell?.getBoundingClientRect().width).toBe(120);
  });

  it("draws sheets with no rows, no groups, no columns, or nothing but frozen columns", async () => {
    const empty = sampleModel({ rows: [] });
    const { grid, host } = start(empty);
    expect(host.querySelectorAll("tbody td").length).toBe(0);
    grid.show(sampleModel({ columns: [], rows: [], groups: [], frozen: 0 }));
    const bare = sampleModel({ groups: [], columns: sampleModel().columns.slice(0, 3), frozen: 3 });
    grid.show(bare);
    await nextFrame();
    expect(cellOf(trial as Trial, bare, "019", "used")?.textContent).toBe("151");
    expect(new Set(headsOf({ host }).map((head) => head.parentElement)).size).toBe(1);
    grid.show(sampleModel());
    await nextFrame();
    expect(cellOf(trial as Trial, sampleModel(), "019", "used")?.textContent).toBe("151");
  });
});

describe("text from the data is never read as markup", () => {
  const nasty = '<img src=x onerror="window.wasRun = true"><b>&amp;</b>';

  it("in titles, units, groups, notes, cells, descriptions and choices", async () => {
    const model = sampleModel({
      label: nasty,
      columns: [
        column("piece", "", { title: nasty, unit: nasty, width: 200 }),
        column("firing", "g", { title: nasty, unit: nasty, width: 200, hasChoices: true, isInput: true }),
      ],
      groups: [group("g", { title: nasty, note: nasty })],
      display: () => ({ ...LOOK, text: nasty, description: nasty }),
      editText: () => nasty,
      choices: () => [nasty],
    });
    const { grid, host } = start(model);
    grid.select({ row: "018", column: "firing" });
    await userEvent.keyboard("{Enter}");
    await expect.poll(() => host.querySelector(".sheet-choices li")?.textContent).toBe(nasty);
    await nextFrame();
    expect(cellOf(trial as Trial, model, "019", "firing")?.textContent).toBe(nasty);
    expect(headOf(host, nasty + nasty)).toBeDefined();
    expect(headOf(host, `▾${nasty}${nasty}`)).toBeDefined();
    expect(document.querySelectorAll("img, td b, th b, li b").length).toBe(0);
    expect((window as unknown as { wasRun?: boolean }).wasRun).toBeUndefined();
  });

  it("in what is pasted as HTML", async () => {
    const { grid, host, written } = start(sampleModel());
    grid.select({ row: "018", column: "coats" });
    const data = new DataTransfer();
    data.setData("text/html", `<table><tr><td>${nasty}4</td></tr></table>`);
    host.ownerDocument.activeElement?.dispatchEvent(
      new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true }),
    );
    await nextFrame();
    expect(written[0]?.entries).toEqual([{ row: "018", column: "coats", typed: "&4" }]);
    expect(document.querySelectorAll("img").length).toBe(0);
    expect((window as unknown as { wasRun?: boolean }).wasRun).toBeUndefined();
  });
});

describe("a large sheet", () => {
  it("asks for no more displays than there are cells in sight, however many rows there are", async () => {
    const model = largeModel(10_000, 80);
    const display = vi.mocked(model.display);
    const { grid, host } = start(model);
    const drawn = host.querySelectorAll("tbody td:not([data-under])").length;
    expect(drawn).toBeLessThan(600);
    display.mockClear();
    for (let times = 0; times < 20; times += 1) grid.repaint();
    expect(display).not.toHaveBeenCalled();
    await nextFrame();
    expect(display).toHaveBeenCalledTimes(drawn);
    expect(new Set(display.mock.calls.map(([row, key]) => `${row}:${key}`)).size).toBe(drawn);
  });

  it("goes to any cell and draws it", async () => {
    const model = largeModel(10_000, 80);
    const { grid, host } = start(model);
    grid.select({ row: "r9876", column: "c70" });
    await expect.poll(() => cellOf(trial as Trial, model, "r9876", "c70")?.textContent).toBe("r9876:c70");
    await expect.poll(() => document.activeElement).toBe(cellOf(trial as Trial, model, "r9876", "c70"));
    const cell = cellOf(trial as Trial, model, "r9876", "c70")?.getBoundingClientRect();
    const box = host.getBoundingClientRect();
    expect(cell?.bottom).toBeLessThan(box.bottom + 1);
    expect(cell?.right).toBeLessThan(box.right + 1);
    expect(cellOf(trial as Trial, model, "r9876", "c1")?.textContent).toBe("r9876:c1");
  });

  it("keeps a group's title in sight while the group is wider than the view", async () => {
    const model = largeModel(100, 80);
    const { host } = start(model, "width: 500px; height: 300px");
    const scroller = scrollerOf({ host });
    scroller.scrollLeft = 400;
    await expect
      .poll(() => {
        const title = headOf(host, "▾Group g1")?.querySelector(".sheet-head-title")?.getBoundingClientRect();
        const frozen = host.querySelectorAll('td[aria-colindex="2"]:not([data-under])')[0];
        const edge = frozen?.getBoundingClientRect().right ?? 0;
        return title !== undefined && title.left >= edge && title.left < edge + 40;
      })
      .toBe(true);
  });
});
