// The Plan page in the order a maker thinks: the piece, the studio, what is bought, the way, the kilns, the promise. Every
// field is a cell of the sheets; this says which, and by what name.
import { type CellName, columnOf, rowLabel, rowOf } from "../../core/document/access";
import { takesEntry } from "../../core/document/entry";
import { isExample } from "../../core/document/examples";
import type { Row, SheetKey, Workbook } from "../../core/document/workbook";
import { isFiringStep, rulesOf } from "../../core/sheets/step-kinds";

/** A cell of the sheets as a field. */
export interface PlanField {
  readonly cell: CellName;
  readonly title: string;
  /** What it is of, where the title alone would not tell: “Glaze”. */
  readonly of?: string;
  /** Of a price its tier: the other way, with tax or without, stands beside it. */
  readonly tier?: "standard" | "special";
}

/** Fields that belong to one row of a sheet: a material, a kiln. */
export interface PlanRow {
  readonly id: string;
  readonly title: string;
  readonly fields: readonly PlanField[];
}

/** A step of the way: what is always in sight, and what is seen once it is opened. */
export interface PlanStep extends PlanRow {
  readonly isFiring: boolean;
  readonly more: readonly PlanField[];
}

/** Everything that is asked on the page. */
export interface PlanParts {
  readonly piece: readonly PlanField[];
  readonly studio: readonly PlanField[];
  readonly materials: readonly PlanRow[];
  readonly way: readonly PlanStep[];
  readonly kilns: readonly PlanRow[];
  readonly promise: readonly PlanField[];
}

const line = (row: string, title: string): PlanField => ({ cell: { sheet: "edition", row, column: "value" }, title });

const priceLine = (tier: "standard" | "special", title: string): PlanField => ({
  ...line(`price_${tier}`, title),
  tier,
});

/** What is asked of an edition as it stands: of the materials and kilns only those that the way uses. */
export function planParts(book: Workbook): PlanParts {
  const steps = book.sheets.route.rows;
  const has = (id: string) => Number(rowOf(book, "edition", id)?.cells.value ?? 0) !== 0;
  const isTiered = has("special_wanted") || steps.some((step) => step.cells.who === "special");
  return {
    piece: [
      line("piece_kg", "It weighs, dry"),
      line("piece_height", "Its height"),
      line("piece_foot", "Shelf it takes"),
      ...steps.flatMap((step) => [
        ...fieldsOf(book, step, [["grams", "Clay or slip"]]),
        ...fieldsOf(book, step, [["area", "Area covered"]]),
      ]),
      ...(has("mould_cost") ? [line("mould_cost", "A mould costs"), line("mould_casts", "Casts it lasts")] : []),
    ],
    studio: [
      line("wage", "An hour of work"),
      line("overhead_rate", "Overhead an hour"),
      line("tariff", "Electricity"),
      line("fixed_costs", "Design and models"),
    ],
    materials: rowsNamed(book, "materials", "material", [
      ["pack_price", "A pack costs"],
      ["pack_grams", "It holds"],
      ["fraction", "Metal in it"],
    ]),
    way: steps.map((step) => stepOf(book, step)),
    kilns: rowsNamed(book, "kilns", "kiln", [
      ["capacity", "Room for"],
      ["shelf", "Shelf area"],
      ["height", "Chamber height"],
      ["kw", "Rated"],
      ["hours", "Usual firing"],
      ["wear", "Wear a firing"],
    ]),
    promise: [
      line("wanted", "Pieces to deliver"),
      line("special_wanted", "… of them special"),
      line("confidence", "How sure to be"),
      line("prices_are", "Prices are typed"),
      priceLine("standard", isTiered ? "Price, standard" : "Price"),
      ...(isTiered ? [priceLine("special", "Price, special")] : []),
      line("wanted_margin", "Margin to be left"),
      line("price_points", "Prices go up to"),
      ...(rowOf(book, "edition", "price_points")?.cells.value === "steps of my own"
        ? [line("price_step", "Step of my own")]
        : []),
      line("tax_rate", "VAT or sales tax"),
      ...(isTiered ? [line("tax_special", "… of a special piece")] : []),
      line("packing", "Packing and postage"),
    ],
  };
}

/** Columns of a row as fields, of those that mean something there; blank ones are left out unless they are always asked. */
function fieldsOf(
  book: Workbook,
  row: Row,
  columns: readonly (readonly [column: string, title: string])[],
  sheet: SheetKey = "route",
): readonly PlanField[] {
  return columns.flatMap(([key, title]): PlanField[] => {
    const column = columnOf(book, sheet, key);
    if (!column || !takesEntry(sheet, row, column)) return [];
    return [{ cell: { sheet, row: row.id, column: key }, title, of: rowLabel(sheet, row) }];
  });
}

/** Rows of a sheet that a step names, with some of their columns. */
function rowsNamed(
  book: Workbook,
  sheet: "materials" | "kilns",
  by: string,
  columns: readonly (readonly [string, string])[],
): readonly PlanRow[] {
  const used = new Set(book.sheets.route.rows.map((step) => step.cells[by]));
  return book.sheets[sheet].rows
    .filter((row) => used.has(row.cells.id))
    .map((row) => {
      const asked = columns.filter(([key]) => key !== "fraction" || row.cells.fraction !== undefined);
      return { id: row.id, title: rowLabel(sheet, row), fields: fieldsOf(book, row, asked, sheet) };
    });
}

/** Bookkeeping, and counts of earlier editions, which are entered where losses are looked at. */
const NOT_ASKED = ["kind", "seen_entered", "seen_lost"];

function stepOf(book: Workbook, step: Row): PlanStep {
  const isFiring = isFiringStep(step);
  const usual = rulesOf(step)?.time;
  const inSight: readonly (readonly [string, string])[] = [
    isFiring ? ["kiln", "Kiln"] : ["minutes", typeof usual === "object" ? `Minutes a ${usual.each}` : "Minutes"],
    ["loss", "Lost"],
  ];
  const { columns } = book.sheets.route;
  const others = columns.filter(
    ({ key, kind, hidden, own }) =>
      kind === "input" && !hidden && !own && ![...NOT_ASKED, ...inSight.map(([one]) => one)].includes(key),
  );
  const isAsked = ({ cell }: PlanField) => cell.column !== "needed" || step.cells.who === "as needed";
  const more = fieldsOf(
    book,
    step,
    others.map(({ key, title }) => [key, MORE_TITLES[key] ?? title.charAt(0).toUpperCase() + title.slice(1)]),
  );
  return {
    ...{ id: step.id, title: rowLabel("route", step), isFiring },
    fields: fieldsOf(book, step, inSight),
    more: more.filter(isAsked),
  };
}

const MORE_TITLES: Readonly<Record<string, string>> = {
  title: "Its name",
  method: "How it is done",
  who: "For which pieces",
  needed: "Share that needs it",
  rest: "Then rests",
  laydown: "Lands on a cm², a coat",
  transfer: "Share that lands on it",
  area: "Area covered",
  grams: "Clay or slip",
  waste: "Left in brush and dish",
};

/** The fields of a part, those of its rows and opened steps too. */
export function fieldsIn(parts: PlanParts, part: keyof PlanParts): readonly PlanField[] {
  if (part === "way") return parts.way.flatMap(({ fields, more }) => [...fields, ...more]);
  if (part === "materials" || part === "kilns") return parts[part].flatMap(({ fields }) => fields);
  return parts[part];
}

/** The parts in the order of the page. */
const PART_ORDER = ["piece", "studio", "materials", "way", "kilns", "promise"] as const;

/** Cells of some fields that are still the template's, each once. */
export function examplesIn(book: Workbook, fields: readonly PlanField[]): readonly CellName[] {
  const cells = fields.map(({ cell }) => cell).filter((cell) => isExample(book, cell));
  return [...new Map(cells.map((cell) => [`${cell.sheet} ${cell.row} ${cell.column}`, cell])).values()];
}

/** Everything asked on the page. */
export const allFields = (parts: PlanParts): readonly PlanField[] =>
  PART_ORDER.flatMap((part) => fieldsIn(parts, part));
