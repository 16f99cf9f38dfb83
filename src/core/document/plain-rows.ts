// An edition may hold ten thousand rows, and nearly all of them are plain: an id and cells of texts and numbers. Those are
// looked at here in passing; rows that are anything else go through the checker, which says what is wrong with them.
import { KEY_MOST, ROW_ID_MOST } from "./limits";
import { FORMULA_READ, KEY_PATTERN, RAW_TEXT_READ, ROW_ID_PATTERN } from "./schema-parts";
import { SHEET_KEYS } from "./sheet-keys";
import type { Row, StoredBook } from "./workbook";

interface SetAside {
  /** The data with no rows where all of a sheet's rows are plain. */
  readonly rest: unknown;
  /** The checked rest with its rows again. */
  restore(checked: StoredBook): StoredBook;
}

type Loose = Readonly<Record<string, unknown>>;

/** Takes plain rows out of unchecked data, sheet by sheet: all of them or none. Sheets of more than `most` rows stay whole. */
export function setAsidePlainRows(data: unknown, most: number): SetAside {
  const sheets = isObject(data) && isObject(data.sheets) ? data.sheets : {};
  const goodKeys = new Set<string>();
  const taken = new Map<string, readonly Row[]>();
  for (const key of SHEET_KEYS) {
    const sheet = Object.hasOwn(sheets, key) ? sheets[key] : undefined;
    const rows = isObject(sheet) ? sheet.rows : undefined;
    if (Array.isArray(rows) && rows.length <= most && rows.every((row) => isPlainRow(row, goodKeys)))
      taken.set(key, rows);
  }
  const without = Object.entries(sheets).map(([key, sheet]) =>
    taken.has(key) ? [key, { ...(sheet as Loose), rows: [] }] : [key, sheet],
  );
  return {
    rest: taken.size === 0 ? data : { ...(data as Loose), sheets: Object.fromEntries(without) },
    restore(checked) {
      const whole = SHEET_KEYS.map((key) => {
        const sheet = checked.sheets[key];
        const rows = taken.get(key);
        return [key, rows ? { ...sheet, rows } : sheet];
      });
      return { ...checked, sheets: Object.fromEntries(whole) as StoredBook["sheets"] };
    },
  };
}

function isObject(value: unknown): value is Loose {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function isPlainRow(row: unknown, goodKeys: Set<string>): boolean {
  if (!isObject(row) || Object.keys(row).length !== 2) return false;
  const { id, cells } = row;
  if (typeof id !== "string" || id.length > ROW_ID_MOST || !ROW_ID_PATTERN.test(id)) return false;
  return isObject(cells) && Object.keys(cells).every((key) => isGoodKey(key, goodKeys) && isPlainRaw(cells[key]));
}

function isGoodKey(key: string, known: Set<string>): boolean {
  if (known.has(key)) return true;
  if (key.length > KEY_MOST || !KEY_PATTERN.test(key)) return false;
  known.add(key);
  return true;
}

function isPlainRaw(raw: unknown): boolean {
  if (typeof raw === "string") return raw.length <= RAW_TEXT_READ;
  if (typeof raw === "number") return Number.isFinite(raw);
  if (typeof raw === "boolean") return true;
  if (!isObject(raw) || Object.keys(raw).length !== 1) return false;
  return typeof raw.f === "string" && raw.f.startsWith("=") && raw.f.length <= FORMULA_READ;
}
