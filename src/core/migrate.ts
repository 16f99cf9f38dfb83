// Documents of earlier formats are brought up to date one numbered step at a time. A step never drops what it does not know.
import { fail, ok, problem, type Result } from "./problem";
import { FORMAT_VERSION } from "./workbook";

type Json = Readonly<Record<string, unknown>>;

export interface Migration {
  /** The format it makes; each is one more than the one before. */
  readonly to: number;
  readonly what: string;
  readonly run: (document: Json) => Json;
}

/**
 * Every step there has been, oldest first. Format 1 is the first that was kept. A step need not bring new columns or
 * formulas: an edition of an earlier format gets today's standard ones when it is read (`bringUpToDate`).
 */
export const MIGRATIONS: readonly Migration[] = [
  {
    to: 2,
    what: "a run log, what-if cases, rescue recipes and plausible ranges are kept beside the sheets",
    run: (document) => ({ ...document, lists: { log: [], cases: [], recipes: [], ranges: [] } }),
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
