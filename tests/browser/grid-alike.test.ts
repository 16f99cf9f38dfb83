// Both grids keep one contract: the same keys, pastes, folds and changes of the model give the same writes and selections.
import "../tools/strict-console";
import fc from "fast-check";
import { expect, it } from "vitest";
import { userEvent } from "vitest/browser";
import { createGrid as createFree } from "../../src/ui/grid/free/free-grid";
import { createGrid as createLibrary } from "../../src/ui/grid/handsontable/handsontable-grid";
import type { CreateGrid, GridCell, GridModel } from "../../src/ui/grid/port";
import { isFree, nextFrame, sampleModel } from "./grid-sample";

const KEYS = [
  "{ArrowDown}",
  "{ArrowUp}",
  "{ArrowLeft}",
  "{ArrowRight}",
  "{Shift>}{ArrowDown}{/Shift}",
  "{Shift>}{ArrowRight}{/Shift}",
  "{Control>}{ArrowDown}{/Control}",
  "{Control>}{ArrowUp}{/Control}",
  "{End}",
  "{PageDown}",
  "{PageUp}",
  "{Tab}",
  "{Shift>}{Tab}{/Shift}",
  "{Delete}",
  "{Alt>}{ArrowDown}{/Alt}",
  "4{Enter}",
  "5{Tab}",
  "6{Escape}",
  "7{ArrowDown}",
  "{F2}8{Enter}",
  "{Enter}{Escape}",
] as const;

type Step =
  | { readonly kind: "key"; readonly key: (typeof KEYS)[number] }
  | { readonly kind: "select"; readonly row: number; readonly column: number }
  | { readonly kind: "paste"; readonly text: string }
  | { readonly kind: "model"; readonly rows: readonly number[]; readonly folds: boolean };

const step: fc.Arbitrary<Step> = fc.oneof(
  { weight: 8, arbitrary: fc.constantFrom(...KEYS).map((key) => ({ kind: "key" as const, key })) },
  {
    weight: 2,
    arbitrary: fc
      .record({ row: fc.nat(5), column: fc.nat(12) })
      .map((where) => ({ kind: "select" as const, ...where })),
  },
  { weight: 1, arbitrary: fc.constantFrom("9", "1\t2", "1\n2\n3").map((text) => ({ kind: "paste" as const, text })) },
  {
    weight: 1,
    arbitrary: fc
      .record({ rows: fc.shuffledSubarray([0, 1, 2, 3, 4, 5], { minLength: 2 }), folds: fc.boolean() })
      .map((shown) => ({ kind: "model" as const, ...shown })),
  },
);

function modelFor(rows: readonly number[], folds: boolean): GridModel {
  const whole = sampleModel();
  return {
    ...whole,
    rows: rows.map((at) => whole.rows[at] ?? ""),
    columns: whole.columns.filter((one) => !folds || one.key !== "used2"),
  };
}

/** What a grid reports of the steps, in order. */
async function reportsOf(createGrid: CreateGrid, steps: readonly Step[]): Promise<readonly string[]> {
  const host = document.createElement("div");
  host.style.cssText = "width: 980px; height: 420px";
  document.body.append(host);
  const reports: string[] = [];
  let model = sampleModel();
  let at: GridCell = { row: "019", column: "used" };
  const grid = createGrid(host, model, {
    write: (entries, how, overflow) =>
      reports.push(`${how} ${entries.map((one) => `${one.row}:${one.column}=${one.typed}`).join(" ")} +${overflow}`),
    select: ({ anchor, rows, columns }) => {
      at = anchor;
      reports.push(`at ${anchor.row}:${anchor.column} of ${rows.join()} × ${columns.join()}`);
    },
    toggleGroup: (id) => reports.push(`fold ${id}`),
    activateColumn: (key) => reports.push(`sort ${key}`),
    resizeColumn: (key, width) => reports.push(`width ${key} ${width}`),
    copyText: (row, key) => `${row}/${key}`,
    beginTyping: ({ row, column }) => reports.push(`type in ${row}:${column}`),
    keep: (text) => reports.push(`keep ${text}`),
    explain: (cell) => reports.push(`explain ${cell.row}:${cell.column}`),
  });
  grid.select(at);
  for (const one of steps) {
    if (one.kind === "key") {
      // Left by Tab: back to the cell that had the keyboard.
      if (!host.contains(document.activeElement)) grid.select(at);
      await userEvent.keyboard(one.key);
    } else if (one.kind === "select") {
      grid.select({ row: model.rows[one.row] ?? "", column: model.columns[one.column]?.key ?? "" });
    } else if (one.kind === "paste") {
      const data = new DataTransfer();
      data.setData("text/plain", one.text);
      document.activeElement?.dispatchEvent(
        new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true }),
      );
    } else {
      model = modelFor(one.rows, one.folds);
      grid.show(model);
      await nextFrame();
    }
    reports.push("–");
  }
  grid.close();
  host.remove();
  return reports;
}

it.runIf(isFree)("both grids report the same", { timeout: 120_000 }, async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 8, maxLength: 20 }), async (steps) => {
      expect(await reportsOf(createFree, steps)).toEqual(await reportsOf(createLibrary, steps));
    }),
    { numRuns: 12, seed: 20_261_128, endOnFailure: true },
  );
});
