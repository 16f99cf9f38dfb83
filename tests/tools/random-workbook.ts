// Small workbooks of random formulas, the same for the same seed: numbers, blanks, texts, days, overrides and errors.
import type { CellName } from "../../src/core/document/access";
import { STEP_KINDS } from "../../src/core/document/sheet-keys";
import type { Column, Raw, Row, Sheet, SheetKey, Workbook } from "../../src/core/document/workbook";
import { smallEdition } from "./small-edition";

/** Numbers from 0 to 1, always the same for a seed. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const NUMBERS: readonly number[] = [0, 1, 2, -1, 0.1, 0.3, 0.05, 3.7, 100, -2.5, 12345.678, 1e-9, 1e15, 7 / 3, 0.5, 60];
/** Numbers that differ by little: where the engine's rule for nearly equal ones begins and ends. */
export const NEAR: readonly number[] = [
  1,
  1 + 4e-14,
  1 + 1e-12,
  1 - 6e-14,
  1 + 3e-13,
  -1,
  -1 - 5e-14,
  -1 - 2e-12,
  2,
  0.5,
  3,
  0.3,
  0.1,
  0.2,
];
const TEXTS = ["x", "y", "Z", "z", "good", "F1", "F2", "", "12", "5%", "2026-02-03", "22:30", "é", "e", "TRUE"];

class Maker {
  private readonly random: () => number;
  private readonly numbers: readonly number[];
  constructor(seed: number, numbers: readonly number[]) {
    this.random = seeded(seed);
    this.numbers = numbers;
  }
  chance(part: number): boolean {
    return this.random() < part;
  }
  pick<T>(list: readonly T[]): T {
    return list[Math.floor(this.random() * list.length)] as T;
  }
  whole(from: number, to: number): number {
    return from + Math.floor(this.random() * (to - from + 1));
  }
  number(): number {
    return this.chance(0.6) ? this.pick(this.numbers) : Math.round((this.random() * 40 - 8) * 1000) / 1000;
  }
  raw(): Raw | undefined {
    if (this.chance(0.12)) return undefined;
    if (this.chance(0.06)) return this.pick(TEXTS);
    if (this.chance(0.03)) return this.chance(0.5);
    return this.number();
  }
}

const EDITION = ["alpha", "beta", "gamma", "delta", "total", "ratio", "verdict", "rest"];
const KEYS = ["key", "group"];
const PLAIN = ["a", "b"];

interface Scope {
  readonly sheet: SheetKey;
  readonly own: readonly string[];
  readonly names: readonly string[];
  readonly ranges: readonly string[];
  readonly cells: readonly string[];
}

function literal(make: Maker): string {
  if (make.chance(0.08)) return `"${make.pick(TEXTS)}"`;
  const number = make.number();
  return number < 0 ? `(-${-number})` : String(number);
}

function leaf(make: Maker, scope: Scope): string {
  const kind = make.whole(0, 9);
  if (kind < 5 && scope.own.length > 0) return `{${make.pick(scope.own)}}`;
  if (kind < 7 && scope.names.length > 0) return make.pick(scope.names);
  if (kind < 8 && scope.cells.length > 0) return make.pick(scope.cells);
  return literal(make);
}

function expression(make: Maker, scope: Scope, depth: number): string {
  if (depth <= 0) return leaf(make, scope);
  const one = () => expression(make, scope, depth - 1);
  const range = () => (scope.ranges.length > 0 ? make.pick(scope.ranges) : one());
  const compared = () => `${one()}${make.pick(["=", "<>", "<", "<=", ">", ">="])}${one()}`;
  const blank = () => `${leaf(make, scope)}${make.pick(["=", "<>"])}""`;
  const forms: readonly (() => string)[] = [
    () => leaf(make, scope),
    () => `(${one()}${make.pick(["+", "-", "*", "/", "+", "-", "*"])}${one()})`,
    () => `${one()}${make.pick(["+", "-", "*", "/"])}${one()}`,
    () => `${make.pick(["-", "+"])}${one()}`,
    () => `IF(${make.chance(0.5) ? compared() : blank()},${one()},${one()})`,
    () => `IF(${blank()},"",${one()})`,
    () => `IF(${make.pick(["AND", "OR"])}(${compared()},${blank()}),${one()},${one()})`,
    () => `IFERROR(${one()},${one()})`,
    () => `${make.pick(["SUM", "MIN", "MAX", "COUNT", "PRODUCT"])}(${one()},${leaf(make, scope)},${one()})`,
    () => `${make.pick(["SUM", "MIN", "MAX", "COUNT", "PRODUCT", "AVERAGE", "COUNTA"])}(${range()})`,
    () => `${make.pick(["SUM", "MAX", "COUNT"])}(${range()},${leaf(make, scope)})`,
    () => `${make.pick(["ROUND", "ROUNDUP", "ROUNDDOWN"])}(${one()},${make.whole(0, 2)})`,
    () => `${make.pick(["ABS", "SQRT", "INT", "SIGN"])}(${one()})`,
    () => `SWITCH(${leaf(make, scope)},${literal(make)},${one()},${literal(make)},${one()},${one()})`,
    () => `SWITCH({${make.pick(scope.own.length > 0 ? scope.own : ["none"])}},"x",${one()},"good",${one()})`,
    () =>
      `PICK(${make.chance(0.7) ? '"F2"' : leaf(make, scope)},{firings:id},{firings:${make.pick(["cost", "weight", "extra"])}})`,
    () =>
      `PICK({${scope.sheet === "pieces" ? "group" : "id"}},{firings:id},{firings:${make.pick(["cost", "weight"])}})`,
    () => `TOTAL_BY(${leaf(make, scope)},{pieces:${make.pick(KEYS)}},${range()})`,
    () => `COUNT_BY(${make.chance(0.5) ? literal(make) : leaf(make, scope)},{pieces:${make.pick(KEYS)}})`,
    () => (scope.sheet === "pieces" ? `FIRING_SHARE({group},ABS(${one()}))` : one()),
    () => `KEPT_BEFORE(${make.whole(0, 6)},{route:order},{route:${make.pick(["loss", "u"])}})`,
    () => `SUM_UP_TO(${leaf(make, scope)},{route:order},{route:${make.pick(["loss", "u", "v"])}})`,
    () => `VALUE_BEFORE(${make.whole(1, 6)},{route:order},{route:loss})`,
    () => `COAT_GRAMS(${one()},${leaf(make, scope)},0.05${make.pick(["", ",0.5", ","])})`,
    () => `MONEY(${one()})`,
    () => `YIELD_CHAIN({route:loss})`,
    () =>
      `${make.pick(["SUM", "MAX", "CONCATENATE"])}(EACH_STEP({route[*]:${scope.sheet === "results" ? "u" : "loss"}}))`,
    () =>
      `SUM(EACH_FIRING({route[*]:${scope.sheet === "results" ? "v" : "loss"}}*${leaf(make, scope)}),EACH_AS_NEEDED({route[*]:loss}),${leaf(make, scope)})`,
    () => `SWITCH(${leaf(make, scope)},EACH_STEP_BACK({route[*]:order},${leaf(make, scope)}),"")`,
    () => `STARTS_NEEDED(${make.whole(1, 9)},${leaf(make, scope)},0.9)`,
    () => `${one()}^${make.pick(["2", "0.5", "3"])}`,
    () => `${leaf(make, scope)}%`,
    () => `MOD(${one()},${leaf(make, scope)})`,
    () => `NOT(${compared()})`,
    () => `(${compared()})*${one()}`,
    () => `${leaf(make, scope)}&${leaf(make, scope)}`,
    () => (make.chance(0.2) ? `1e308*${one()}` : one()),
  ];
  return make.pick(forms)();
}

function column(key: string, formula?: string): Column {
  const kind = formula === undefined ? "input" : "computed";
  return { key, title: key, unit: "", kind, type: "number", ...(formula === undefined ? {} : { formula }) };
}

function rowsOf(make: Maker, sheet: SheetKey, ids: readonly string[], columns: readonly Column[], scope: Scope): Row[] {
  return ids.map((id) => {
    const cells: Record<string, Raw> = {};
    for (const { key, formula } of columns) {
      const raw = formula === undefined ? make.raw() : override(make, scope);
      if (raw !== undefined) cells[key] = raw;
    }
    return sheet === "pieces" ? { id, cells } : { id, cells };
  });
}

/** Now and then a cell of a computed column holds something else: a value, or a formula of its own. */
function override(make: Maker, scope: Scope): Raw | undefined {
  if (make.chance(0.05)) return make.raw();
  return make.chance(0.04) ? { f: `=${expression(make, scope, 1)}` } : undefined;
}

function computedColumns(
  make: Maker,
  sheet: SheetKey,
  before: readonly string[],
  keys: readonly string[],
  base: Scope,
) {
  const own = [...before];
  const scope = { ...base, sheet, ranges: base.ranges.filter((range) => !range.includes(`${sheet}:c`)) };
  return keys.map((key): Column => {
    const make_one = () => `=${expression(make, { ...scope, own: [...own] }, make.whole(1, 3))}`;
    // Most that would go in a circle are made anew; a few are left.
    let formula = make_one();
    for (let again = 0; again < 9 && goesRound(sheet, keys, formula); again += 1) formula = make_one();
    own.push(key);
    return column(key, formula);
  });
}

function goesRound(sheet: SheetKey, keys: readonly string[], formula: string): boolean {
  return keys.some(
    (key) => formula.includes(`{${sheet}:${key}}`) || new RegExp(`${sheet}\\[[a-z0-9]+\\]:${key}`).test(formula),
  );
}

const sheetOf = (title: string, columns: readonly Column[], rows: readonly Row[]): Sheet => ({ title, columns, rows });

/** A workbook of that seed. */
export function randomWorkbook(seed: number, numbers: readonly number[] = NUMBERS): Workbook {
  const make = new Maker(seed * 7919, numbers);
  const inputs = EDITION.slice(0, 4);
  const base: Scope = {
    sheet: "edition",
    own: [],
    names: inputs,
    ranges: ["{firings:cost}", "{route:loss}", "{pieces:a}", "{pieces:b}"],
    cells: ["{firings[f1]:cost}", "{route[r2]:loss}", "{pieces[p2]:a}"],
  };
  const ids = (name: string, count: number) => Array.from({ length: count }, (_, at) => `${name}${at + 1}`);
  const route = [
    column("order"),
    column("loss"),
    ...computedColumns(make, "route", ["order", "loss"], ["u", "v"], base),
  ];
  const routeRows = rowsOf(make, "route", ids("r", 5), route, { ...base, own: ["loss"] }).map((row, at) => ({
    ...row,
    cells: {
      ...row.cells,
      kind: STEP_KINDS[at] ?? "hand",
      ...(make.chance(0.95) ? { order: at + 1 } : {}),
      ...(make.chance(0.8) ? { loss: Math.round(make.number() * 7) % 2 === 0 ? 0.05 * at : 0.1 } : {}),
    },
  }));
  const firings = [
    column("id"),
    column("cost"),
    column("weight"),
    ...computedColumns(make, "firings", ["cost", "weight"], ["extra"], { ...base, names: inputs }),
  ];
  const firingRows = rowsOf(make, "firings", ids("f", 4), firings, { ...base, own: ["cost"] }).map((row, at) => ({
    ...row,
    cells: { ...row.cells, id: make.chance(0.95) ? `F${at + 1}` : make.pick(TEXTS) },
  }));
  const wide: Scope = {
    ...base,
    ranges: [...base.ranges, "{firings:extra}", "{route:u}", "{route:v}"],
    cells: [...base.cells, "{route[r1]:u}", "{firings[f2]:extra}"],
  };
  const pieces = [
    ...KEYS.map((key) => column(key)),
    ...PLAIN.map((key) => column(key)),
    ...computedColumns(make, "pieces", [...PLAIN, ...KEYS], ids("c", make.whole(3, 7)), wide),
  ];
  const pieceRows = rowsOf(make, "pieces", ids("p", make.whole(5, 13)), pieces, { ...wide, own: PLAIN }).map((row) => ({
    ...row,
    cells: {
      ...row.cells,
      key: make.pick(TEXTS),
      group: make.chance(0.8) ? make.pick(["F1", "f2", "F3"]) : make.pick(TEXTS),
    },
  }));
  const all: Scope = {
    ...wide,
    ranges: [...wide.ranges, ...pieces.slice(4).map(({ key }) => `{pieces:${key}}`)],
    cells: [...wide.cells, "{pieces[p3]:c1}", "{pieces[p1]:c2}"],
  };
  const edition = EDITION.map((id, at): Row => {
    const line = { kind: "computed", type: "number" } as const;
    if (at < 4) {
      const raw = make.raw();
      return { id, cells: { label: id, ...(raw === undefined ? {} : { value: raw }) } };
    }
    const names = at === 4 ? inputs : EDITION.slice(0, at);
    return { id, cells: { label: id }, line: { ...line, formula: `=${expression(make, { ...all, names }, 2)}` } };
  });
  const results = ids("s", 6).map((id): Row => {
    const formula = `=${expression(make, { ...all, names: EDITION }, 3)}`;
    return { id, cells: { label: id }, line: { kind: "computed", type: "number", formula } };
  });
  const book = smallEdition(0);
  return {
    ...book,
    sheets: {
      ...book.sheets,
      edition: sheetOf("Edition", [column("label"), column("value")], edition),
      route: sheetOf("Route", route, routeRows),
      firings: sheetOf("Firings", firings, firingRows),
      pieces: sheetOf("Pieces", pieces, pieceRows),
      results: sheetOf("Results", [column("label"), column("value")], results),
      materials: sheetOf("Materials", [column("id")], []),
    },
  };
}

/** Cells that a question about such a workbook changes, and values to try. */
export function randomInputs(
  seed: number,
  book: Workbook,
  numbers: readonly number[] = NUMBERS,
): { readonly inputs: CellName[]; readonly cases: number[][] } {
  const make = new Maker(seed * 104_729 + 1, numbers);
  const candidates: CellName[] = [
    ...EDITION.slice(0, 5).map((row): CellName => ({ sheet: "edition", row, column: "value" })),
    ...book.sheets.route.rows.flatMap(({ id: row }): CellName[] =>
      ["loss", "order", "u"].map((name) => ({ sheet: "route", row, column: name })),
    ),
    ...book.sheets.firings.rows.map(({ id: row }): CellName => ({ sheet: "firings", row, column: "cost" })),
    ...book.sheets.pieces.rows.flatMap(({ id: row }): CellName[] =>
      ["a", "b", "c1"].map((name) => ({ sheet: "pieces", row, column: name })),
    ),
  ];
  const inputs = new Map<string, CellName>();
  const wanted = make.whole(1, 3);
  while (inputs.size < wanted) {
    const cell = make.chance(0.5) ? make.pick(candidates.slice(0, 4)) : make.pick(candidates);
    inputs.set(JSON.stringify(cell), cell);
  }
  const value = () => (make.chance(0.1) ? Number.NaN : make.chance(0.1) ? 1e300 : make.number());
  return { inputs: [...inputs.values()], cases: Array.from({ length: 5 }, () => Array.from(inputs, value)) };
}
