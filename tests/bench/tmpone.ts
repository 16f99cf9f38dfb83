import { ALL_GOOD, MIXED, runEdition } from "./edition";
import { layoutOf } from "../../src/engine/layout";
import { readModel } from "../../src/engine/model";
import { Grid } from "../../src/whatif/compile/grid";
import { Pool } from "../../src/whatif/compile/registers";
import { Emitter } from "../../src/whatif/compile/emitter";
import { cellsAt, compileCells } from "../../src/whatif/compile/between";
import { makeRun } from "../../src/whatif/run/execute";
import { specOf } from "../../src/core/document/access";
const n = Number(process.argv[2] ?? 10000);
const book = runEdition(n, process.argv[3] === "mixed" ? MIXED : ALL_GOOD);
const t = (name: string, f: () => any) => { const a = performance.now(); const c = process.cpuUsage(); const r = f(); const d = process.cpuUsage(c); console.log(name, Math.round(performance.now() - a), "cpu", Math.round((d.user + d.system) / 1000)); return r; };
t("clone book", () => structuredClone(book));
const column = book.sheets.edition.columns.find((c) => c.key === "value")!;
const inputs = book.sheets.edition.rows.filter((r) => { const s = specOf(column, r); return s.kind === "input" && s.type === "number" && (r.cells.value === undefined || typeof r.cells.value === "number"); }).map((r) => ({ sheet: "edition", row: r.id, column: "value" } as const));
for (let i = 0; i < 3; i++) {
  const model = t("model", () => readModel(book, layoutOf(book), []));
  const grid = t("grid", () => new Grid(model, new Pool()));
  const em = new Emitter(grid, 1, true);
  t("compile " + inputs.length, () => compileCells(em, cellsAt(grid, inputs), undefined));
  const run = makeRun(grid.pool, em.instructions);
  for (let k = 0; k < 3; k++) t("run", () => run({ cases: 1, inputs: undefined, inputCount: inputs.length }));
  console.log(em.instructions.length, grid.groups.length);
}
