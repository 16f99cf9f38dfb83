import "../tools/strict-console";
import { afterEach, describe, expect, it } from "vitest";
import { userEvent } from "vitest/browser";
import { formatTabText, parseTableHtml, parseTabText } from "../../src/ui/grid/clipboard-text";
import type { GridModel } from "../../src/ui/grid/port";
import { cellOf, handleOf, headsOf, largeModel, nextFrame, sampleModel, startTrial, type Trial } from "./grid-sample";

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

function send(type: "copy" | "cut" | "paste", texts: Readonly<Record<string, string>> = {}, target?: Element): string {
  const data = new DataTransfer();
  for (const [format, text] of Object.entries(texts)) data.setData(format, text);
  const event = new ClipboardEvent(type, { clipboardData: data, bubbles: true, cancelable: true });
  (target ?? document.activeElement)?.dispatchEvent(event);
  return data.getData("text/plain");
}

function pasted(one: Trial, text: string): void {
  send("paste", { "text/plain": text });
  expect(one.written.at(-1)?.how ?? "pasted").toBe("pasted");
}

function texts(one: Trial): readonly string[] {
  return (one.written.at(-1)?.entries ?? []).map((entry) => `${entry.row}:${entry.column}=${entry.typed}`);
}

function rowsOf(text: string): readonly (readonly string[])[] | number {
  const block = parseTabText(text);
  return block.kind === "rows" ? block.rows : block.cells;
}

describe("tab-separated text", () => {
  it.each([
    ["", []],
    ["a", [["a"]]],
    [
      "a\tb\nc\td",
      [
        ["a", "b"],
        ["c", "d"],
      ],
    ],
    [
      "a\tb\r\nc\td\r\n",
      [
        ["a", "b"],
        ["c", "d"],
      ],
    ],
    ["a\rb", [["a"], ["b"]]],
    ["a\n\nb\n", [["a"], [""], ["b"]]],
    [
      "\t\n\t",
      [
        ["", ""],
        ["", ""],
      ],
    ],
    ["a\t", [["a", ""]]],
    ['"a\tb"\tc', [["a\tb", "c"]]],
    ['"a\r\nb"\nc', [["a\nb"], ["c"]]],
    ['"say ""so"""\tx', [['say "so"', "x"]]],
    ['"', [['"']]],
    ['""', [[""]]],
    // A quote that closes nothing is a mark in the text, as in 3" or "platinum" band.
    ['3"\t"platinum" band', [['3"', '"platinum" band']]],
    ['"open\tb', [['"open', "b"]]],
    ["  7 \t=A1+1\t007", [["  7 ", "=A1+1", "007"]]],
  ])("reads %j", (text, rows) => {
    expect(rowsOf(text)).toEqual(rows);
  });

  it("reads back what it writes", () => {
    const rows = [
      ["a", 'b"c', '"d"', "e\nf", "g\th", ""],
      ["", "x", "\r", " ", "=1", '""'],
    ];
    const back = rows.map((row) => row.map((text) => text.replaceAll("\r", "\n")));
    expect(rowsOf(formatTabText(rows))).toEqual(back);
  });

  it("refuses more than two million cells or twenty million characters, and says how many cells there were", () => {
    expect(rowsOf("\t".repeat(1_999_999))).toHaveLength(1);
    expect(rowsOf("\t".repeat(2_000_000))).toBe(2_000_000);
    expect(rowsOf("x".repeat(20_000_001))).toBe(1);
    expect(rowsOf(`${"x".repeat(10)}\n`.repeat(2_000_001))).toBe(2_000_001);
  });
});

describe("a table in HTML", () => {
  it("is read as plain texts, spans filled with blanks", () => {
    const html =
      "<p>no</p><table><tr><th colspan=2>a &amp; <b>b</b></th><td> c\n  d<br>e </td></tr><tr><td></td></tr></table>";
    expect(parseTableHtml(html)).toEqual({ kind: "rows", rows: [["a & b", "", "c d\ne"], [""]] });
    expect(parseTableHtml("just text")).toEqual({ kind: "rows", rows: [] });
  });
});

describe("pasting", () => {
  it("reports the whole block at once, from the selected cell on", () => {
    const one = start(sampleModel(), "018", "coats");
    pasted(one, '1\t2\n"3\n4"\t=5\n');
    expect(one.written).toEqual([
      {
        how: "pasted",
        overflow: 0,
        entries: [
          { row: "018", column: "coats", typed: "1" },
          { row: "018", column: "used", typed: "2" },
          { row: "019", column: "coats", typed: "3\n4" },
          { row: "019", column: "used", typed: "=5" },
        ],
      },
    ]);
    expect(one.selected.at(-1)).toEqual({
      anchor: { row: "018", column: "coats" },
      rows: ["018", "019"],
      columns: ["coats", "used"],
    });
  });

  it("adds nothing past the last row and column, but counts it", () => {
    const one = start(sampleModel(), "021", "own");
    pasted(one, "1\t2\t3\n4\t5\t6\n7\t8\t9\n");
    expect(texts(one)).toEqual(["021:own=1", "021:full=2", "022:own=4", "022:full=5"]);
    expect(one.written[0]?.overflow).toBe(5);
  });

  it("fills the selection with one cell, or with a block that fits a whole number of times", async () => {
    const one = start(sampleModel(), "018", "coats");
    await userEvent.keyboard("{Shift>}{ArrowDown}{ArrowRight}{/Shift}");
    pasted(one, "9");
    expect(texts(one)).toEqual(["018:coats=9", "018:used=9", "019:coats=9", "019:used=9"]);
    pasted(one, "1\t2");
    expect(texts(one)).toEqual(["018:coats=1", "018:used=2", "019:coats=1", "019:used=2"]);
    pasted(one, "1\n2\n3");
    expect(texts(one)).toEqual(["018:coats=1", "019:coats=2", "020:coats=3"]);
  });

  it("leaves out the cells that uneven rows do not have", () => {
    const one = start(sampleModel(), "018", "coats");
    pasted(one, "1\t2\t3\n4");
    expect(texts(one)).toEqual(["018:coats=1", "018:used=2", "018:firing=3", "019:coats=4"]);
  });

  it("takes a table from HTML where there is no plain text", () => {
    const one = start(sampleModel(), "018", "coats");
    send("paste", { "text/html": "<table><tr><td>1</td><td>2</td></tr></table>" });
    expect(texts(one)).toEqual(["018:coats=1", "018:used=2"]);
    send("paste", { "text/html": "<table><tr><td>1</td><td>2</td></tr></table>", "text/plain": "7\t8" });
    expect(texts(one)).toEqual(["018:coats=7", "018:used=8"]);
    send("paste", { "text/html": "<p>nothing</p>" });
    send("paste", {});
    expect(one.written.length).toBe(2);
  });

  it("refuses a very large paste by its overflow alone", () => {
    const one = start(sampleModel(), "018", "coats");
    pasted(one, "1\t2\n".repeat(5_100_000));
    expect(one.written).toEqual([{ entries: [], how: "pasted", overflow: 10_200_000 }]);
  });

  it("fills a column chosen by its header from the first row on", async () => {
    const model = largeModel(300, 12);
    trial = startTrial(model);
    const head = headsOf(trial, "[data-column=c5]")[0]?.querySelector(".sheet-head-unit") as HTMLElement;
    await userEvent.click(head);
    pasted(trial, "4");
    expect(trial.written[0]?.entries.length).toBe(300);
    expect(texts(trial)[299]).toBe("r299:c5=4");
  });

  it("is left to a text field that is being typed into, inside or outside", async () => {
    const one = start(sampleModel(), "018", "coats");
    await userEvent.keyboard("5");
    send("paste", { "text/plain": "9" });
    const outside = document.createElement("input");
    document.body.append(outside);
    outside.focus();
    send("paste", { "text/plain": "9" });
    outside.remove();
    expect(one.written.filter((written) => written.how === "pasted")).toEqual([]);
  });
});

describe("copying and cutting", () => {
  it("gives the app's texts as tab-separated text", async () => {
    const one = start(sampleModel(), "018", "coats");
    await userEvent.keyboard("{Shift>}{ArrowDown}{ArrowRight}{/Shift}");
    expect(send("copy")).toBe("018/coats\t018/used\n019/coats\t019/used");
    expect(one.written).toEqual([]);
    expect(send("cut")).toBe("018/coats\t018/used\n019/coats\t019/used");
    expect(one.written.map((written) => written.how)).toEqual(["cleared"]);
    expect(one.written[0]?.entries.length).toBe(4);
  });

  it("works where the browser sends the event to the body", () => {
    start(sampleModel(), "018", "coats");
    expect(send("copy", {}, document.body)).toBe("018/coats");
  });

  it("is left to the browser while no cell is selected", async () => {
    const one = start(sampleModel(), "018", "coats");
    const outside = document.createElement("input");
    document.body.append(outside);
    await userEvent.click(outside);
    expect(send("copy")).toBe("");
    outside.remove();
    expect(one.written).toEqual([]);
  });
});

describe("filling down", () => {
  const dragHandle = async (one: Trial, model: GridModel, row: string, key: string) => {
    await userEvent.dragAndDrop(handleOf(one), cellOf(one, model, row, key) as Element);
    await nextFrame();
  };

  it("copies the top row of the block on Alt+Down, and from the row above on a single row", async () => {
    const one = start(sampleModel(), "018", "coats");
    await userEvent.keyboard("{Shift>}{ArrowDown}{ArrowDown}{ArrowRight}{/Shift}{Alt>}{ArrowDown}{/Alt}");
    expect(one.written[0]?.how).toBe("filled");
    expect(texts(one)).toEqual([
      "019:coats==018:coats",
      "019:used==018:used",
      "020:coats==018:coats",
      "020:used==018:used",
    ]);
    one.grid.select({ row: "020", column: "band" });
    await userEvent.keyboard("{Alt>}{ArrowDown}{/Alt}");
    expect(texts(one)).toEqual(["020:band==019:band"]);
    one.grid.select({ row: "017", column: "band" });
    await userEvent.keyboard("{Alt>}{ArrowDown}{/Alt}");
    expect(one.written.length).toBe(2);
  });

  it("copies down, or up, by the handle", async () => {
    const model = sampleModel();
    const one = start(model, "018", "coats");
    await dragHandle(one, model, "020", "coats");
    expect(one.written[0]?.how).toBe("filled");
    expect(texts(one)).toEqual(["019:coats==018:coats", "020:coats==018:coats"]);
    expect(one.selected.at(-1)?.rows).toEqual(["018", "019", "020"]);
    one.grid.select({ row: "020", column: "band" });
    await dragHandle(one, model, "018", "band");
    expect(texts(one)).toEqual(["018:band==020:band", "019:band==020:band"]);
    await nextFrame();
    expect(cellOf(one, model, "020", "coats")?.textContent).toBe("3");
  });

  it("does nothing on a double click on the handle", async () => {
    const one = start(largeModel(10_000, 80), "r5", "c5");
    await userEvent.dblClick(handleOf(one));
    await nextFrame();
    expect(one.written).toEqual([]);
  });

  it("repeats a block of several rows", async () => {
    const model = sampleModel();
    const one = start(model, "017", "coats");
    await userEvent.keyboard("{Shift>}{ArrowDown}{/Shift}");
    await dragHandle(one, model, "021", "coats");
    expect(texts(one)).toEqual(["019:coats==017:coats", "020:coats==018:coats", "021:coats==017:coats"]);
  });
});
