// Builds an engine with some patches left off, changes it, and prints how much of the processor each took.
import { createHash } from "node:crypto";
import process from "node:process";
import type { Change } from "../../../src/core/document/change";
import type { Raw } from "../../../src/core/document/workbook";
import { Engine } from "../../../src/engine/engine";
import { PATCHES, prepareEngine } from "../../../src/engine/hyperformula/patches";
import { MIXED, runEdition } from "../edition";

/** What one run prints; times are in milliseconds of processor time, which other programs disturb least. */
export interface Measured {
  readonly patches: readonly { readonly name: string; readonly replaces: readonly string[]; readonly buys: string }[];
  readonly build: number;
  readonly edit: number;
  readonly wage: number;
  /** The same for engines that give the same values. */
  readonly sum: string;
}

const [pieces = "2000", ...off] = process.argv.slice(2);
const LEAST_BUILDS = 2;
const EDITS = 15;
const WAGES = 7;

function timed<T>(work: () => T): { readonly took: number; readonly gave: T } {
  const before = process.cpuUsage();
  const gave = work();
  const { user, system } = process.cpuUsage(before);
  return { took: (user + system) / 1000, gave };
}

const cell = (sheet: "pieces" | "edition", row: string, column: string, was: Raw, is: Raw): Change => ({
  label: "",
  operations: [{ kind: "cell", sheet, row, column, was, is }],
});

/** The least of many: whatever disturbs a run only makes it longer. */
function least(count: number, change: (at: number) => Change, engine: Engine): number {
  return Math.min(...Array.from({ length: count }, (_, at) => timed(() => engine.apply(change(at))).took));
}

prepareEngine(off);
const book = runEdition(Number(pieces), MIXED);
const piece = book.sheets.pieces.rows[3]?.id ?? "";
let build = Number.POSITIVE_INFINITY;
let engine: Engine | undefined;
for (let at = 0; at < LEAST_BUILDS; at += 1) {
  engine?.close();
  const { took, gave } = timed(() => {
    const built = new Engine(book);
    built.values();
    return built;
  });
  build = Math.min(build, took);
  engine = gave;
}
if (!engine) throw new Error("no engine");
const edit = least(EDITS, (at) => cell("pieces", piece, "fettle.minutes", at, at + 20), engine);
const wage = least(WAGES, (at) => cell("edition", "wage", "value", 22 + at, 23 + at), engine);
const values = JSON.stringify(engine.values(), (_, value) =>
  ArrayBuffer.isView(value) ? Object.values(value) : value,
);
const sum = createHash("sha256").update(values).digest("hex");
const patches = PATCHES.map(({ name, replaces, buys }) => ({
  name,
  replaces: Object.entries(replaces).flatMap(([part, members]) => members.map((member) => `${part}.${member}`)),
  buys,
}));
console.log(JSON.stringify({ patches, build, edit, wage, sum } satisfies Measured));
