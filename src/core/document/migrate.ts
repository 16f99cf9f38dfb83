// Documents of earlier formats are brought up to date one numbered step at a time. A step never drops what it does not know.
import { fail, ok, problem, type Result } from "../problem";
import { FORMAT_VERSION } from "./workbook";

type Json = Readonly<Record<string, unknown>>;

export interface Migration {
  /** The format it makes; each is one more than the one before. */
  readonly to: number;
  readonly what: string;
  readonly run: (document: Json) => Json;
}

/** Columns whose formulas were made for the route, and grew with it past what the reader took. */
const MADE: Readonly<Record<string, readonly string[]>> = {
  pieces: ["lost_bare", "own", "reclaim", "scrap", "passed_how"],
  firings: ["pieces", "load_kg", "load_cm2"],
};
const EMPTY = { columns: [], rows: [] };

function isObject(value: unknown): value is Json {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function withoutMade(key: string, sheet: unknown): unknown {
  if (!isObject(sheet)) return sheet;
  const { title: _, columns, ...rest } = sheet;
  if (!Array.isArray(columns)) return { columns, ...rest };
  const kept = columns.map((column: unknown) => {
    if (!isObject(column) || !MADE[key]?.includes(String(column.key))) return column;
    const { formula: _made, ...others } = column;
    return others;
  });
  return { columns: kept, ...rest };
}

/**
 * Every step there has been, oldest first. Format 1 is the first that was kept. A step need not bring new columns or
 * formulas: every edition gets the standard ones of today when it is read (`complete`).
 */
export const MIGRATIONS: readonly Migration[] = [
  {
    to: 2,
    what: "a run log, what-if cases, rescue recipes and plausible ranges are kept beside the sheets",
    run: (document) => ({
      ...document,
      // The first editions had no programmes and tariffs.
      sheets: isObject(document.sheets) ? { programmes: EMPTY, tariffs: EMPTY, ...document.sheets } : document.sheets,
      lists: { log: [], cases: [], recipes: [], ranges: [] },
    }),
  },
  {
    to: 3,
    what: "only what is the maker's is kept: titles of sheets and formulas made for the route follow from the code",
    run: (document) => ({
      ...document,
      sheets: isObject(document.sheets)
        ? Object.fromEntries(Object.entries(document.sheets).map(([key, sheet]) => [key, withoutMade(key, sheet)]))
        : document.sheets,
    }),
  },
  {
    to: 4,
    what: "amounts that are still the template's are named; an edition from before has none, and an earlier program would refuse them",
    run: (document) => document,
  },
  {
    to: 5,
    what: "channels of sale are a sheet",
    run: (document) => ({
      ...document,
      sheets: isObject(document.sheets) ? { channels: EMPTY, ...document.sheets } : document.sheets,
    }),
  },
  {
    to: 6,
    what: "purchases are a sheet; what else is in a firing bears a part of it, which an earlier program would charge to the edition; the shelf may hold the order of editions; the plan is kept that a run is held against",
    run: (document) => ({
      ...document,
      sheets: isObject(document.sheets) ? { purchases: EMPTY, ...document.sheets } : document.sheets,
    }),
  },
];

/** Brings parsed JSON up to the newest format, or says why it can't be. */
export function migrate(
  data: unknown,
  where: string,
  migrations: readonly Migration[] = MIGRATIONS,
  newest: number = FORMAT_VERSION,
): Result<Json> {
  if (typeof data !== "object" || data === null || Array.isArray(data) || (data as Json).kind !== "saggar edition")
    return fail(
      problem({
        code: "file.kind",
        where,
        found: data,
        allowed: "an edition file (*.edition.json)",
        fix: "Choose another file.",
      }),
    );
  const document = data as Json;
  const version = document.formatVersion;
  if (typeof version !== "number" || !Number.isInteger(version) || version < 1)
    return fail(
      problem({ code: "file.version", where: `${where}, formatVersion`, found: version, allowed: `1 to ${newest}` }),
    );
  if (version > newest)
    return fail(
      problem({
        code: "file.newer",
        where,
        found: `format ${version}`,
        allowed: `formats up to ${newest}`,
        fix: "It was written by a newer Saggar: reload this page to update, then open it again. The file was not changed.",
      }),
    );
  const steps = migrations.filter((migration) => migration.to > version && migration.to <= newest);
  return ok(steps.reduce((current, step) => ({ ...step.run(current), formatVersion: step.to }), document));
}
