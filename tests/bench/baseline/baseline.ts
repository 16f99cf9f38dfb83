// What the page is measured against: the same sheets in a bare engine on the page's own thread, shown by a bare grid.
// It also gives out the editions that are measured.
import Handsontable from "handsontable/base";
import { registerAllCellTypes } from "handsontable/cellTypes";
import type { KilnSpec } from "../../../src/ceramics/kiln/kiln-spec";
import { simulateFiring } from "../../../src/ceramics/kiln/simulate";
import type { Change } from "../../../src/core/document/change";
import type { Raw, Row } from "../../../src/core/document/workbook";
import { writeDocument } from "../../../src/core/document/write-document";
import { Engine } from "../../../src/engine/engine";
import { ValueStore } from "../../../src/engine/value-store";
import { ALL_GOOD, runEdition } from "../edition";

registerAllCellTypes();

/** The first task after the next frame: by then it is painted. */
const frame = () =>
  new Promise((resolve) =>
    requestAnimationFrame(() => {
      const channel = new MessageChannel();
      channel.port1.onmessage = resolve;
      channel.port2.postMessage(0);
    }),
  );
const cell = (sheet: "pieces" | "edition", row: string, column: string, was: Raw, is: Raw): Change => ({
  label: "",
  operations: [{ kind: "cell", sheet, row, column, was, is }],
});

interface Timings {
  readonly open: number;
  readonly edit: number;
  readonly input: number;
}

async function measure(count: number): Promise<Timings> {
  const book = runEdition(count, ALL_GOOD);
  const start = performance.now();
  const engine = new Engine(book);
  const store = new ValueStore(book);
  store.accept(engine.values());
  const { rows, columns } = book.sheets.pieces;
  const valueAt = (row: Row, key: string) => store.get("pieces", row.id, key) ?? row.cells[key] ?? null;
  const data = rows.map((row) => columns.map((column) => valueAt(row, column.key)));
  const host = document.querySelector<HTMLElement>("#grid");
  if (!host) throw new Error("no host");
  host.replaceChildren();
  const grid = new Handsontable(host, {
    data,
    colWidths: 80,
    rowHeights: 26,
    autoRowSize: false,
    autoColumnSize: false,
    height: 560,
    licenseKey: "non-commercial-and-evaluation",
  });
  await frame();
  const open = performance.now() - start;
  const timed = async (change: Change) => {
    const before = performance.now();
    const patch = engine.apply(change);
    for (const { sheet, column, values } of patch.columns)
      if (sheet === "pieces")
        for (const [at, row] of values.rows.entries()) {
          const code = values.others[at] ?? -1;
          (data[row] ?? [])[column] = (code < 0 ? values.numbers[at] : patch.others[code]) as never;
        }
    grid.render();
    await frame();
    return performance.now() - before;
  };
  const median = (list: number[]) => list.sort((a, b) => a - b)[Math.floor(list.length / 2)] ?? 0;
  const edits: number[] = [];
  for (let at = 1; at <= 9; at += 1)
    edits.push(await timed(cell("pieces", `p${at + 2}`, "fettle.minutes", 5, 10 + at)));
  const inputs: number[] = [];
  for (let at = 1; at <= 3; at += 1) inputs.push(await timed(cell("edition", "wage", "value", 22, 22 + at)));
  // Both stay: how the grid scrolls, and what is kept in memory, is measured next.
  Object.assign(window, { grid, engine });
  return { open, edit: median(edits), input: median(inputs) };
}

/** Firings simulated in a second, and a Firings sheet of 500 different firings recalculated when the kiln changes. */
function measureKiln(): { readonly perSecond: number; readonly each: number; readonly sheet: number } {
  const kiln: KilnSpec = {
    name: "bench",
    chamber: { kind: "rectangular", widthMm: 600, depthMm: 500, heightMm: 900 },
    wall: [
      { material: "brick-1260", thicknessMm: 114 },
      { material: "board", thicknessMm: 50 },
    ],
    ratedKw: 15,
  };
  const programme = {
    name: "glaze",
    segments: [
      { rateCPerHour: 100, targetC: 120, soakMinutes: 15 },
      { rateCPerHour: 180, targetC: 1080, soakMinutes: 0 },
      { rateCPerHour: 80, targetC: 1222, soakMinutes: 15 },
    ],
  };
  const load = (wareKg: number) => ({ wareKg, furnitureKg: 38, freeWaterKg: 1, kaoliniteKg: 0 });
  for (let at = 0; at < 40; at += 1) simulateFiring(kiln, programme, load(at), { withCooling: true });
  const start = performance.now();
  for (let at = 0; at < 300; at += 1) simulateFiring(kiln, programme, load(10 + at / 10), { withCooling: true });
  const each = (performance.now() - start) / 300;
  const book = runEdition(200, ALL_GOOD);
  const firings = Array.from(
    { length: 500 },
    (_, at): Row => ({
      id: `x${at}`,
      cells: {
        id: `X${at}`,
        kiln: "Large kiln",
        basis: "count",
        programme: "glaze, middle fire",
        ware_kg: 10 + at / 10,
      },
    }),
  );
  const engine = new Engine({
    ...book,
    sheets: { ...book.sheets, firings: { ...book.sheets.firings, rows: [...book.sheets.firings.rows, ...firings] } },
  });
  const before = performance.now();
  engine.apply({
    label: "",
    operations: [{ kind: "cell", sheet: "kilns", row: "k2", column: "vent", was: 0.3, is: 0.4 }],
  });
  const sheet = performance.now() - before;
  engine.close();
  return { perSecond: 1000 / each, each, sheet };
}

Object.assign(window, {
  measureKiln,
  measure,
  makeDocument: (count: number) => writeDocument(runEdition(count, ALL_GOOD)),
});
