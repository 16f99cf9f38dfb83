// The journal read by a program that is not ours: SQLite's shell, which .ci/run installs. Without it there is nothing to ask.
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { accountantPack } from "../../../src/app/settle/accountant-pack";
import { evaluate } from "../../tools/evaluate";

const hasSqlite = spawnSync("sqlite3", ["--version"]).status === 0;

test.skipIf(!hasSqlite)("SQLite finds every reference of the journal at zero in minor units", () => {
  const book = demoEdition();
  const terms = { from: "2026-09-01", to: "2026-11-25", reference: "MAR" };
  const made = accountantPack(book, evaluate(book), terms, { delimiter: ",", decimal: ".", hasMark: false });
  if (!made.ok) throw new Error(made.problems[0]?.message);
  const folder = mkdtempSync(join(tmpdir(), "journal-"));
  try {
    const file = join(folder, "journal.csv");
    writeFileSync(file, made.value.files["journal.csv"] ?? "");
    const cents = (column: string) => `coalesce(sum(cast(round(nullif("${column}", '') * 100) as integer)), 0)`;
    const asked = spawnSync(
      "sqlite3",
      [
        ":memory:",
        "-cmd",
        ".mode csv",
        "-cmd",
        `.import ${file} journal`,
        `select reference, ${cents("debit")} - ${cents("credit")}, ${cents("debit")}, count(*) from journal group by reference order by reference;`,
      ],
      { encoding: "utf8" },
    );
    expect(asked.stderr).toBe("");
    const rows = asked.stdout
      .trim()
      .split(/\r?\n/)
      .map((line) => line.split(","));
    expect(rows.length).toBeGreaterThan(3);
    for (const [reference, difference, debit, lines] of rows) {
      expect(reference).toMatch(/^MAR-\d+$/);
      expect([reference, Number(difference)]).toEqual([reference, 0]);
      expect(Number(debit)).toBeGreaterThan(0);
      expect(Number(lines)).toBeGreaterThan(1);
    }
  } finally {
    rmSync(folder, { recursive: true });
  }
});
