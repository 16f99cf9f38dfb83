// Rule 2, plainly: what each firing took and what it is shared over; see independent.ts.
import { coneTemperature } from "../../src/ceramics/cones";
import type { Firing } from "../../src/ceramics/kiln/firing";
import { rememberFirings } from "../../src/ceramics/kiln/remember";
import { bandedCost } from "../../src/ceramics/kiln/tariff";
import type { Result } from "../../src/core/problem";
import type { Row, Sheet, Workbook } from "../../src/core/workbook";
import {
  bandsFrom,
  hoursOf,
  kilnFrom,
  loadFrom,
  minuteOfWeek,
  programmeFrom,
  type SheetRecord,
} from "../../src/engine/kiln-records";
import { type Cells, inputsOf, numberIn, type Rows, typedNumber } from "./independent-cells";
import { firedHow, type RunRates } from "./independent-rates";

const simulate = rememberFirings(100);

/** The firing steps of the route. */
export const firingSteps = (book: Workbook) => book.sheets.route.rows.filter((step) => step.cells.kind === "firing");

/** What a piece counts for in a load: one, its kilograms or its shelf area. */
export function bulkOf(book: Workbook, piece: Row, basis: unknown): number {
  const inputs = inputsOf(book);
  if (basis === "weight") return typedNumber(piece, "kg", inputs.piece_kg);
  if (basis === "shelf area") return typedNumber(piece, "foot", inputs.piece_foot);
  return 1;
}

/** Every computed cell of Firings; `pieces` holds which firing each piece was really in. */
export function recomputeFirings(book: Workbook, pieces: Rows, rates: RunRates): Rows {
  const firings: Rows = new Map();
  for (const row of book.sheets.firings.rows) {
    const kiln = book.sheets.kilns.rows.find((candidate) => candidate.cells.id === row.cells.kiln);
    const load = loadOf(book, row, pieces);
    const inIt = (piece: Row) =>
      firingSteps(book).filter((step) => pieces.get(piece.id)?.[`${step.id}.load`] === row.cells.id).length;
    const twice = book.sheets.pieces.rows.some((piece) => inIt(piece) > 1) ? "yes" : "no";
    const energy = energyOf(book, row, kiln, numberIn(load, "load_kg"));
    firings.set(row.id, {
      ...load,
      ...energy,
      ...costOf(book, row, kiln, { load: { ...load, twice }, energy, rates }),
    });
  }
  return firings;
}

function loadOf(book: Workbook, row: Row, pieces: Rows): Cells {
  const load = firingSteps(book).flatMap((step) =>
    book.sheets.pieces.rows.filter((piece) => pieces.get(piece.id)?.[`${step.id}.load`] === row.cells.id),
  );
  const sum = (basis: string) => load.reduce((total, piece) => total + bulkOf(book, piece, basis), 0);
  return {
    pieces: load.length,
    load_kg: sum("weight"),
    load_cm2: sum("shelf area"),
    weight: sum(String(row.cells.basis)),
  };
}

function energyOf(book: Workbook, row: Row, kiln: Row | undefined, loadKg: number): Cells {
  const read = typedNumber(row, "meter_after", Number.NaN) - typedNumber(row, "meter_before", Number.NaN);
  const metered = typedNumber(row, "meter", read);
  const hours = typedNumber(row, "hours", typedNumber(kiln, "hours"));
  const duty = typedNumber(row, "duty", typedNumber(kiln, "duty"));
  const rule = typedNumber(kiln, "kw") * hours * duty;
  const ware = { ware_kg: typedNumber(row, "ware_kg", loadKg), water_kg: typedNumber(row, "water_kg", 0) };
  const firing = kiln?.cells.brick === undefined ? undefined : simulated(book, row, ware.ware_kg, ware.water_kg);
  const model = firing?.kwh;
  const flat = inputsOf(book).tariff ?? 0;
  return {
    ...{ ...ware, hours, duty, rule, model: model ?? "", meter: Number.isNaN(metered) ? "" : metered },
    kwh: firedHow(book, row) === "not yet" ? "" : Number.isNaN(metered) ? (model ?? rule) : metered,
    tariff: typedNumber(row, "tariff", firing === undefined ? flat : priceOf(book, row, firing, flat)),
  };
}

/** The heat model's firing, where the firing has a programme. */
function simulated(book: Workbook, row: Row, wareKg: number, waterKg: number): Firing | undefined {
  if (typeof row.cells.programme !== "string") return undefined;
  const { kiln, furnitureKg } = must(kilnFrom(recordsOf(book.sheets.kilns), String(row.cells.kiln)));
  const programme = must(programmeFrom(recordsOf(book.sheets.programmes), row.cells.programme));
  const clay = row.cells.ware === "raw" ? 0.5 : 0;
  return must(simulate(kiln, programme, loadFrom(wareKg, waterKg, clay, furnitureKg)));
}

/** The flat price, or the average of the bands over the hours that the firing really ran. */
function priceOf(book: Workbook, row: Row, firing: Firing, flat: number): number {
  const hour = hoursOf(row.cells.start);
  if (hour === undefined || typeof row.cells.date !== "string") return flat;
  const day = (Date.parse(row.cells.date) - Date.UTC(1899, 11, 30)) / 86_400_000;
  const bands = must(bandsFrom(recordsOf(book.sheets.tariffs), flat));
  const { cost, kwh } = must(bandedCost(firing.powerKw, minuteOfWeek(day, hour), bands));
  return cost / kwh;
}

interface Took {
  readonly load: Cells;
  readonly energy: Cells;
  readonly rates: RunRates;
}

function costOf(book: Workbook, row: Row, kiln: Row | undefined, { load, energy, rates }: Took): Cells {
  const { wage = 0, loading_minutes: minutes } = inputsOf(book);
  const wear = typedNumber(row, "wear", typedNumber(kiln, "wear"));
  const loading = typedNumber(row, "loading", minutes);
  const labour = (loading * wage) / 60;
  const spent = numberIn(energy, "kwh") * numberIn(energy, "tariff");
  const overhead = rates.loadingCarries ? (loading / 60) * rates.perHour : 0;
  const fired = firedHow(book, row);
  const cost = fired === "not yet" ? "" : spent + wear + labour + overhead;
  const count = numberIn(load, "pieces");
  return {
    ...{ wear, loading, labour, overhead, cost, fired, warning: warningOf(book, kiln, load) },
    energy: cost === "" ? "" : spent,
    ran_in: cost === "" ? "" : String(kiln?.cells.id ?? ""),
    each: count === 0 ? "" : Number(cost) / count,
    each_full: cost === "" ? "" : cost / Math.max(count, typedNumber(kiln, "capacity")),
    charged: count === 0 ? 0 : cost,
  };
}

function warningOf(book: Workbook, kiln: Row | undefined, load: Cells): string {
  const [shelf, height] = [typedNumber(kiln, "shelf"), typedNumber(kiln, "height")];
  if (load.twice === "yes") return "a piece is in it at two steps";
  if (numberIn(load, "pieces") > typedNumber(kiln, "capacity")) return "more pieces than there is room for";
  if (shelf > 0 && numberIn(load, "load_cm2") > shelf) return "more shelf than there is";
  const isTaller = height > 0 && (inputsOf(book).piece_height ?? 0) > height;
  return numberIn(load, "pieces") > 0 && isTaller ? "a piece is taller than the chamber" : "";
}

/** The temperature each ramp goes to. */
export function recomputeProgrammes(book: Workbook): Rows {
  return new Map(
    book.sheets.programmes.rows.map((row): [string, Cells] => {
      const rate = Math.min(300, Math.max(30, typedNumber(row, "rate", 150)));
      const cone = row.cells.cone;
      const ofCone = typeof cone === "string" ? must(coneTemperature(cone, rate)) : "";
      return [row.id, { target: typeof row.cells.celsius === "number" ? row.cells.celsius : ofCone }];
    }),
  );
}

function recordsOf(sheet: Sheet): readonly SheetRecord[] {
  return sheet.rows.map((row) =>
    Object.fromEntries(
      sheet.columns.map(({ key }) => {
        const raw = row.cells[key];
        return [key, raw === undefined || typeof raw === "object" ? null : raw];
      }),
    ),
  );
}

function must<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.problems[0]?.message);
  return result.value;
}

/** Energy of a full load of a planned firing: by the kiln's build and programme, or by its plate. */
export function loadEnergy(book: Workbook, step: Row, kiln: Row, isRaw: boolean): number {
  const rule = typedNumber(kiln, "kw") * typedNumber(kiln, "hours") * typedNumber(kiln, "duty");
  if (typeof step.cells.programme !== "string" || kiln.cells.brick === undefined) return rule;
  const ware = typedNumber(kiln, "capacity") * (inputsOf(book).piece_kg ?? 0);
  const { kiln: build, furnitureKg } = must(kilnFrom(recordsOf(book.sheets.kilns), String(kiln.cells.id)));
  const programme = must(programmeFrom(recordsOf(book.sheets.programmes), step.cells.programme));
  return must(simulate(build, programme, loadFrom(ware, 0, isRaw ? 0.5 : 0, furnitureKg))).kwh;
}
