// Rule 2, plainly: what each firing took and what it is shared over; see independent.ts.
import { coneTemperature } from "../../src/ceramics/cones";
import type { Firing } from "../../src/ceramics/kiln/firing";
import { rememberFirings } from "../../src/ceramics/kiln/remember";
import { bandedCost } from "../../src/ceramics/kiln/tariff";
import type { Row, Sheet, Workbook } from "../../src/core/document/workbook";
import type { Result } from "../../src/core/problem";
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
import { bulkOf, bulkOfOthers, firedHow, partBorne, type RunRates } from "./independent-rates";
import { fullLoadOf, roomOfKiln, type Size, whatKeepsOut, writtenSizes } from "./independent-rooms";

const simulate = rememberFirings(100);

/** The firing steps of the route. */
export const firingSteps = (book: Workbook) => book.sheets.route.rows.filter((step) => step.cells.kind === "firing");

/** Every computed cell of Firings; `pieces` holds which firing each piece was really in. */
export function recomputeFirings(book: Workbook, pieces: Rows, rates: RunRates): Rows {
  const firings: Rows = new Map();
  for (const row of book.sheets.firings.rows) {
    const kiln = book.sheets.kilns.rows.find((candidate) => candidate.cells.id === row.cells.kiln);
    const load = loadOf(book, row, pieces, kiln);
    const inIt = (piece: Row) =>
      firingSteps(book).filter((step) => pieces.get(piece.id)?.[`${step.id}.load`] === row.cells.id).length;
    const isTwice = book.sheets.pieces.rows.some((piece) => inIt(piece) > 1);
    const others = typedNumber(row, "other_kg", numberIn(load, "other_kg")) + typedNumber(row, "with_kg", 0);
    const energy = energyOf(book, row, kiln, numberIn(load, "load_kg") + others);
    const heat = String(energy.heat_mind);
    const fits = [String(load.load_mind), heat].filter((words) => words !== "").join("; ");
    const warning = isTwice ? "a piece is in it at two steps" : fits;
    firings.set(row.id, { ...load, ...energy, warning, ...costOf(book, row, kiln, { load, energy, rates }) });
  }
  return firings;
}

function loadOf(book: Workbook, row: Row, pieces: Rows, kiln: Row | undefined): Cells {
  const bySteps = firingSteps(book).map((step) =>
    book.sheets.pieces.rows.filter((piece) => pieces.get(piece.id)?.[`${step.id}.load`] === row.cells.id),
  );
  const load = bySteps.flat();
  const sum = (basis: string) => load.reduce((total, piece) => total + bulkOf(book, piece, basis), 0);
  const { piece_foot: foot, piece_height: height } = inputsOf(book);
  const sizeOf = (piece: Row): Size => ({
    foot: typedNumber(piece, "foot", foot),
    height: typedNumber(piece, "height", height),
  });
  const sizes = bySteps.map((some) => some.map(sizeOf));
  const guests = ["other", "with"].map((who) => guestsOf(book, row, who));
  const inKiln = [...sizes.flat(), ...guests.flatMap((one) => one.sizes)];
  const [otherPart, withPart] = bulkOfOthers(book, row);
  const parts = [otherPart, withPart];
  const isUnsaid = guests.some(({ says }, at) => says && parts[at] === 0);
  return {
    pieces: load.length,
    load_kg: sum("weight"),
    load_cm2: sum("shelf area"),
    ...guests[0]?.usual,
    ...{ other_part: otherPart, with_part: withPart, others: otherPart + withPart },
    all: load.length + typedNumber(row, "other_count", 0) + typedNumber(row, "with_count", 0),
    weight: sum(String(row.cells.basis)) + otherPart + withPart,
    ours: partBorne(book, row),
    sizes: [writtenSizes(sizes), ...guests.map(({ text }) => text)].join(""),
    full: kiln ? (inKiln.length > 0 ? fullLoadOf(kiln, inKiln) : plannedRoom(book, kiln) || "") : "",
    load_mind: isUnsaid ? `what else is in it has no ${row.cells.basis}` : kiln ? whatKeepsOut(kiln, inKiln) : "",
  };
}

/** Other ware (“other”, by the usual piece where only its count is typed) or other editions' pieces (“with”). */
function guestsOf(book: Workbook, row: Row, who: string) {
  const { piece_kg: kg = 0, piece_foot: foot = 0, piece_height: height = 0 } = inputsOf(book);
  const count = typedNumber(row, `${who}_count`, 0);
  const isUsual = who === "other" && row.cells.other_count !== undefined;
  const said = (key: string, usually: number) => typedNumber(row, `${who}_${key}`, isUsual ? usually : 0);
  const [all, area, tall] = [said("kg", count * kg), said("cm2", count * foot), said("height", height)];
  const stand = Math.max(1, count);
  const isThere = count + area > 0;
  return {
    says: count + all + area > 0,
    text: isThere ? `;${area / stand} ${tall} ${stand}` : "",
    sizes: isThere ? Array.from({ length: stand }, (): Size => ({ foot: area / stand, height: tall })) : [],
    usual: Object.fromEntries(
      (
        [
          ["other_kg", all],
          ["other_cm2", area],
          ["other_height", tall],
        ] as const
      ).map(([key, value]) => [key, isUsual || row.cells[key] !== undefined ? value : ""]),
    ),
  };
}

function energyOf(book: Workbook, row: Row, kiln: Row | undefined, loadKg: number): Cells {
  const stood = typedNumber(row, "meter_before", stoodBefore(book, row));
  const read = typedNumber(row, "meter_after", Number.NaN) - stood;
  const metered = typedNumber(row, "meter", read);
  const hours = typedNumber(row, "hours", typedNumber(kiln, "hours"));
  const duty = typedNumber(row, "duty", typedNumber(kiln, "duty"));
  const rule = typedNumber(kiln, "kw") * hours * duty;
  const ware = { ware_kg: typedNumber(row, "ware_kg", loadKg), water_kg: typedNumber(row, "water_kg", 0) };
  const firing = kiln?.cells.brick === undefined ? undefined : simulated(book, row, ware.ware_kg, ware.water_kg);
  const model = firing?.kwh;
  const flat = inputsOf(book).tariff ?? 0;
  return {
    meter_before: Number.isNaN(stood) ? "" : stood,
    kwh_by: Number.isNaN(metered) ? (firing ? "the model" : "its plate") : "the meter",
    give:
      Number.isNaN(metered) && kiln && firedHow(book, row) !== "not yet"
        ? (model ?? rule) * giveOrTake(kiln, firing !== undefined)
        : "",
    heat_mind: firing ? hotFaces(kiln, firing) : "",
    ...{ ...ware, duty, rule, model: model ?? "", meter: Number.isNaN(metered) ? "" : metered },
    kwh: firedHow(book, row) === "not yet" ? "" : Number.isNaN(metered) ? (model ?? rule) : metered,
    tariff: typedNumber(row, "tariff", priceOf(book, row, Number.isNaN(metered) ? firing : undefined, flat)),
    priced: pricedBy(book, row, Number.isNaN(metered) && firing !== undefined),
  };
}

/** What the meter showed after the kiln's firing before, where that one is known and was read. */
function stoodBefore(book: Workbook, row: Row): number {
  const when = ({ cells }: Row) => `${cells.date ?? ""} ${cells.start ?? "00:00"}`;
  const own = book.sheets.firings.rows.filter(({ cells }) => cells.kiln === row.cells.kiln && cells.date !== undefined);
  if (row.cells.date === undefined || own.some((one) => one !== row && when(one) === when(row))) return Number.NaN;
  const earlier = own.filter((one) => when(one) < when(row)).sort((a, b) => (when(a) < when(b) ? 1 : -1));
  const [last, next] = earlier;
  if (!last || (next && when(next) === when(last))) return Number.NaN;
  return typedNumber(last, "meter_after", Number.NaN);
}

/** Share by which a calculated energy may be off: the kiln's, once fitted, for what the model says; 40 % otherwise. */
export function giveOrTake(kiln: Row, isByModel: boolean): number {
  return isByModel && kiln.cells.brick !== undefined ? typedNumber(kiln, "spread", 0.4) : 0.4;
}

/** The hot face is as hot as the chamber: above its class where the firing's peak is. Layers behind are the model's word. */
function hotFaces(kiln: Row | undefined, firing: Firing): string {
  const classes: Record<string, number> = { "brick-1260": 1260, "brick-1400": 1400, "brick-1540": 1540, fibre: 1260 };
  const limit = classes[String(kiln?.cells.brick)] ?? Number.POSITIVE_INFINITY;
  const peak = firing.temperatureC.reduce((most, celsius) => Math.max(most, celsius), 0);
  const behind = firing.hotLayers.filter((layer) => layer.behind > 0).map(() => "backing above its limit");
  return [...(peak > limit ? ["hot face above its class"] : []), ...behind].join("; ");
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
function priceOf(book: Workbook, row: Row, firing: Firing | undefined, flat: number): number {
  const hour = hoursOf(row.cells.start);
  if (hour === undefined || typeof row.cells.date !== "string") return flat;
  const day = (Date.parse(row.cells.date) - Date.UTC(1899, 11, 30)) / 86_400_000;
  const bands = must(bandsFrom(recordsOf(book.sheets.tariffs), flat));
  if (firing) {
    const { cost, kwh } = must(bandedCost(firing.powerKw, minuteOfWeek(day, hour), bands));
    return cost / kwh;
  }
  // Metered, or not known to the model: minute by minute of the hours typed, each counting alike.
  const minutes = typedNumber(row, "hours") * 60;
  if (minutes === 0) return flat;
  let paid = 0;
  for (let minute = 0; minute < minutes; minute += 1) {
    const part = Math.min(1, minutes - minute);
    paid += part * must(bandedCost([60], (minuteOfWeek(day, hour) + minute) % 10080, bands)).cost;
  }
  return paid / minutes;
}

function pricedBy(book: Workbook, row: Row, isByModel: boolean): string {
  if (book.sheets.tariffs.rows.every((band) => band.cells.price === undefined)) return "flat price";
  if (row.cells.start === undefined || row.cells.date === undefined) return "flat price: no date and start";
  if (isByModel) return "bands, hour by hour of the model";
  return row.cells.hours === undefined ? "flat price: its hours are not typed" : "bands, even over its hours";
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
  const part = partBorne(book, row);
  const fullKwh = fullEnergy(book, row, load, energy);
  return {
    ...{ wear, loading, labour, overhead, cost, fired, full_kwh: fullKwh },
    energy: cost === "" ? "" : spent,
    ran_in: cost === "" ? "" : String(kiln?.cells.id ?? ""),
    each: count === 0 ? "" : (part * Number(cost)) / count,
    each_full:
      fullKwh === "" || cost === ""
        ? ""
        : (cost + (fullKwh - numberIn(energy, "kwh")) * numberIn(energy, "tariff")) / numberIn(load, "full"),
    charged: count === 0 ? 0 : part * Number(cost),
    ...{ kwh_here: part * numberIn(energy, "kwh"), energy_here: part * spent, wear_here: part * wear },
    ...{ labour_here: part * labour, overhead_here: part * overhead, loading_here: part * loading },
  };
}

/** Energy of the firing if it were full: as used, in the proportion in which the model gives more for more ware. */
function fullEnergy(book: Workbook, row: Row, load: Cells, energy: Cells): number | "" {
  const [used, full, count] = [numberIn(energy, "kwh"), numberIn(load, "full"), numberIn(load, "all")];
  if (load.full === "" || energy.kwh === "") return "";
  if (full <= count || energy.model === "") return used;
  const [ware, water] = [numberIn(energy, "ware_kg"), numberIn(energy, "water_kg")];
  const filled = simulated(book, row, (ware * full) / count, (water * full) / count);
  return filled ? (used * filled.kwh) / numberIn(energy, "model") : used;
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

/** Pieces of the planned size that a kiln takes. */
export function plannedRoom(book: Workbook, kiln: Row): number {
  const { piece_foot: foot = 0, piece_height: height = 0 } = inputsOf(book);
  return roomOfKiln(kiln, { foot, height });
}

/** Energy of a full load of a planned firing: by the kiln's build and programme, or by its plate. */
export function loadEnergy(book: Workbook, step: Row, kiln: Row, isRaw: boolean): number {
  const rule = typedNumber(kiln, "kw") * typedNumber(kiln, "hours") * typedNumber(kiln, "duty");
  if (typeof step.cells.programme !== "string" || kiln.cells.brick === undefined) return rule;
  const ware = plannedRoom(book, kiln) * (inputsOf(book).piece_kg ?? 0);
  const { kiln: build, furnitureKg } = must(kilnFrom(recordsOf(book.sheets.kilns), String(kiln.cells.id)));
  const programme = must(programmeFrom(recordsOf(book.sheets.programmes), step.cells.programme));
  return must(simulate(build, programme, loadFrom(ware, 0, isRaw ? 0.5 : 0, furnitureKg))).kwh;
}
