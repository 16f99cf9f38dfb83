// The stock of every material of the studio's shelf, by what was bought, counted and used, and what is to be bought.
import { type Movement, type Stock, type StockMethod, stockOf } from "../../accounts/stock";
import type { Row, Workbook } from "../../core/document/workbook";
import { ok, type Result } from "../../core/problem";
import type { EditionUse } from "./uses";

/** What one edition still needs of a material, and how much of it there will be none of. */
interface NeedOfEdition {
  readonly title: string;
  readonly begins: string;
  readonly grams: number;
  readonly lacking: number;
}

/** A material on the shelf. */
export interface MaterialStock {
  readonly row: Row;
  readonly material: string;
  readonly stock: Stock;
  /** Whether anything was ever bought or counted; otherwise nobody knows what there is. */
  readonly isKept: boolean;
  /** Grams used on no known day, which are taken to be used last. */
  readonly undated: number;
  /** Packs opened and not empty: what is left beyond whole packs. */
  readonly openGrams: number;
  readonly needs: readonly NeedOfEdition[];
  readonly needed: number;
  /** Packs to buy, rounded up, what they hold beyond the need, and what they cost at the price of a pack. */
  readonly buy: { readonly packs: number; readonly grams: number; readonly cost: number } | undefined;
  /** The first edition for which there is not enough, and the day by which it must be there. */
  readonly runsOut: NeedOfEdition | undefined;
}

/** How the shelf prices what is used. */
export const methodOf = ({ meta }: Workbook): StockMethod => meta.stock ?? "average";

const numberOf = (row: Row, key: string): number => {
  const raw = row.cells[key];
  return typeof raw === "number" ? raw : 0;
};

/** Every material of the shelf with its stock; `digits` are those of the currency. */
export function shelfStock(
  shelf: Workbook,
  uses: readonly EditionUse[],
  digits: number,
): Result<readonly MaterialStock[]> {
  const found: MaterialStock[] = [];
  const inTurn = usesInTurn(shelf, uses);
  for (const row of shelf.sheets.materials.rows) {
    const material = String(row.cells.id);
    const movements = movementsOf(shelf, uses, material);
    const packGrams = numberOf(row, "pack_grams");
    const usual = packGrams > 0 ? numberOf(row, "pack_price") / packGrams : 0;
    const stock = stockOf(movements, methodOf(shelf), { usual, digits });
    if (!stock.ok) return stock;
    const isKept = movements.some(({ kind }) => kind === "bought" || kind === "counted");
    // Use beyond what there was is past: nothing is bought for it again.
    const left = isKept ? Math.max(0, stock.value.leftGrams) : 0;
    const needs = needsInTurn(inTurn, material, left);
    const needed = needs.reduce((sum, { grams }) => sum + grams, 0);
    const lacking = Math.max(0, needed - left);
    // A speck is what is left of adding up.
    const packs = packGrams > 0 ? Math.ceil(lacking / packGrams - 1e-9) : 0;
    found.push({
      ...{ row, material, isKept, needs, needed, stock: stock.value },
      undated: movements.reduce((sum, { day, grams }) => (day === "" ? sum + grams : sum), 0),
      openGrams: packGrams > 0 ? left % packGrams : 0,
      buy: packs === 0 ? undefined : { packs, grams: packs * packGrams, cost: packs * numberOf(row, "pack_price") },
      runsOut: needs.find((one) => one.lacking > 1e-9 * one.grams),
    });
  }
  return ok(found);
}

const isNamed = (name: unknown, material: string) => String(name).toLowerCase() === material.toLowerCase();

/** What happened to a material: rows of Purchases, and what editions took of the one of that name. */
function movementsOf(shelf: Workbook, uses: readonly EditionUse[], material: string): readonly Movement[] {
  const rows = shelf.sheets.purchases.rows.filter(({ cells }) => isNamed(cells.material, material));
  const own = rows.map((row): Movement => {
    const shared = { day: String(row.cells.date), grams: numberOf(row, "grams"), name: String(row.cells.id) };
    return row.cells.sort === "counted"
      ? { kind: "counted", ...shared }
      : { kind: "bought", ...shared, paid: numberOf(row, "paid") };
  });
  const taken = new Map<string, Movement & { readonly kind: "used" | "back" }>();
  for (const { id, title, draws } of uses)
    for (const { day, grams, isBack, material: of } of draws) {
      if (!isNamed(of, material)) continue;
      const key = `${id} ${isBack} ${day}`;
      const before = taken.get(key)?.grams ?? 0;
      taken.set(key, { kind: isBack ? "back" : "used", day, by: title, edition: id, grams: before + grams });
    }
  return [...own.filter(({ kind, grams }) => kind === "counted" || grams > 0), ...taken.values()];
}

/** Editions in the order in which they are given material: the maker's own, then by due date. */
function usesInTurn({ meta }: Workbook, uses: readonly EditionUse[]): readonly EditionUse[] {
  const rank = ({ id }: EditionUse) => {
    const at = meta.order?.indexOf(id) ?? -1;
    return at < 0 ? Number.POSITIVE_INFINITY : at;
  };
  const after = (a: number, b: number) => (a === b ? 0 : a < b ? -1 : 1);
  return uses.toSorted(
    (a, b) => after(rank(a), rank(b)) || a.due.localeCompare(b.due) || a.title.localeCompare(b.title),
  );
}

/** What editions still need of what is left, one after the other. */
function needsInTurn(uses: readonly EditionUse[], material: string, left: number): readonly NeedOfEdition[] {
  let rest = left;
  return uses.flatMap(({ title, begins, needs }): NeedOfEdition[] => {
    const own = needs.filter((need) => isNamed(need.material, material));
    const grams = own.reduce((sum, need) => sum + need.grams, 0);
    if (grams === 0) return [];
    const lacking = Math.max(0, grams - rest);
    rest = Math.max(0, rest - grams);
    return [{ title, begins, grams, lacking }];
  });
}
