// Fine metal in and out over a year: what was bought of each preparation of gold or platinum, what of it is on pieces, what
// stayed in brush and dish, what went with lost pieces, and what is left; in grams of pure metal.
import { fineMetal } from "../../ceramics/metal";
import type { MaterialStock } from "./stock";
import type { EditionUse } from "./uses";

/** A preparation over one year, in grams of fine metal. Opening + bought + counted − on pieces − waste − lost = left. */
export interface FineMetalYear {
  readonly material: string;
  readonly opening: number;
  readonly bought: number;
  readonly onPieces: number;
  /** Left in brush, dish and bottle, of pieces that were not lost. */
  readonly waste: number;
  /** With pieces that were lost, what stayed in the brush included. */
  readonly lost: number;
  /** Found more at stock-takes; below 0 missing. */
  readonly counted: number;
  readonly left: number;
}

/** The years in which anything happened to a preparation of metal, the newest first; this year always. */
export function metalYears(stock: readonly MaterialStock[], today: string): readonly string[] {
  const days = stock.filter(isMetal).flatMap(({ stock: { lines } }) => lines.map(({ movement }) => movement.day));
  return [...new Set([today, ...days.filter((day) => day !== "")].map((day) => day.slice(0, 4)))].sort().reverse();
}

/** Every preparation of metal over a year; what was used on no known day counts as used in the year of `today`. */
export function metalInYear(
  stock: readonly MaterialStock[],
  uses: readonly EditionUse[],
  year: string,
  today: string,
): readonly FineMetalYear[] {
  const yearOf = (day: string) => (day === "" ? today : day).slice(0, 4);
  return stock.filter(isMetal).map((one): FineMetalYear => {
    const fine = (grams: number) => grams * partOf(one);
    const lines = one.stock.lines.map((line) => ({ ...line, year: yearOf(line.movement.day) }));
    const sum = (kind: "bought" | "counted") =>
      lines.reduce((all, line) => (line.year === year && line.movement.kind === kind ? all + line.grams : all), 0);
    const draws = uses
      .flatMap(({ draws: all }) => all)
      .filter((draw) => draw.material.toLowerCase() === one.material.toLowerCase() && yearOf(draw.day) === year);
    const [kept, lost] = [draws.filter((draw) => !draw.isLost), draws.filter((draw) => draw.isLost)];
    const grams = (some: typeof draws) => some.reduce((all, draw) => all + draw.grams, 0);
    const onPieces = kept.reduce((all, draw) => all + draw.gramsOnPiece, 0);
    return {
      material: one.material,
      opening: fine(lines.reduce((all, line) => (line.year < year ? all + line.grams : all), 0)),
      bought: fine(sum("bought")),
      onPieces: fine(onPieces),
      waste: fine(grams(kept) - onPieces),
      lost: fine(grams(lost)),
      counted: fine(sum("counted")),
      left: fine(lines.reduce((all, line) => (line.year <= year ? all + line.grams : all), 0)),
    };
  });
}

const numberIn = ({ row }: MaterialStock, key: string): number | undefined => {
  const raw = row.cells[key];
  return typeof raw === "number" ? raw : undefined;
};

const isMetal = (one: MaterialStock) => (numberIn(one, "fraction") ?? 0) > 0;

/** Part of a preparation that is pure metal. */
function partOf(one: MaterialStock): number {
  const part = fineMetal(1, numberIn(one, "fraction") ?? 0, numberIn(one, "carat") ?? 24);
  return part.ok ? part.value : 0;
}
