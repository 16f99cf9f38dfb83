// Firings of an open edition put before the heat model: what one takes, when to start it, and how its kiln fits its meter.
import { type Calibration, calibrate, type MeterReading } from "../ceramics/kiln/calibrate";
import type { Firing } from "../ceramics/kiln/firing";
import type { KilnSpec } from "../ceramics/kiln/kiln-spec";
import type { FiringProgramme } from "../ceramics/kiln/programme";
import { simulateFiring } from "../ceramics/kiln/simulate";
import { type CheapestStart, cheapestStart } from "../ceramics/kiln/tariff";
import { rowOf } from "../core/access";
import { fail, ok, problem, type Result } from "../core/problem";
import type { SheetKey } from "../core/workbook";
import { bandsFrom, kilnFrom, loadFrom, programmeFrom, type SheetRecord } from "../engine/kiln-records";
import { isTrouble } from "../engine/values";
import type { Session } from "./session";

/** The rows of a sheet as plain records of values. */
export function recordsOf(session: Session, sheet: SheetKey): readonly SheetRecord[] {
  const { rows, columns } = session.book.value.sheets[sheet];
  return rows.map((row) =>
    Object.fromEntries(
      columns.map((column) => {
        const value = session.value({ sheet, row: row.id, column: column.key });
        return [column.key, value === undefined || isTrouble(value) || value === "" ? null : value];
      }),
    ),
  );
}

/** A firing of the Firings sheet with everything the model needs of it. */
export interface PlannedFiring {
  readonly name: string;
  readonly kiln: KilnSpec;
  readonly furnitureKg: number;
  readonly programme: FiringProgramme;
  readonly wareKg: number;
  readonly waterKg: number;
  readonly clayShare: number;
  readonly pieces: number;
  readonly capacity: number;
  readonly meteredKwh: number | undefined;
  readonly usedKwh: number | undefined;
  readonly cost: number | undefined;
  /** Energy cost is in `cost`; this is the rest of it, which does not change with the hour. */
  readonly tariff: number;
}

const number = (value: unknown) => (typeof value === "number" ? value : undefined);

/** Reads a firing by its row id. */
export function plannedFiring(session: Session, id: string): Result<PlannedFiring> {
  const row = rowOf(session.book.value, "firings", id);
  if (!row)
    return fail(problem({ code: "firing.none", where: "Firings", found: id, allowed: "a firing of the sheet" }));
  const record = recordsOf(session, "firings")[session.book.value.sheets.firings.rows.indexOf(row)] ?? {};
  const name = String(row.cells.id ?? id);
  const kilns = recordsOf(session, "kilns");
  const kiln = kilnFrom(kilns, String(record.kiln ?? ""));
  const programme = programmeFrom(recordsOf(session, "programmes"), String(record.programme ?? ""));
  if (!kiln.ok) return kiln;
  if (!programme.ok) return programme;
  return ok({
    name,
    kiln: kiln.value.kiln,
    furnitureKg: kiln.value.furnitureKg,
    programme: programme.value,
    wareKg: number(record.ware_kg) ?? 0,
    waterKg: number(record.water_kg) ?? 0,
    clayShare: record.ware === "raw" ? 0.5 : 0,
    pieces: number(record.pieces) ?? 0,
    capacity: number(kilns.find((one) => one.id === record.kiln)?.capacity) ?? 1,
    meteredKwh: number(record.meter),
    usedKwh: number(record.kwh),
    cost: number(record.cost),
    tariff: number(record.tariff) ?? 0,
  });
}

/** Simulates a firing as planned, or with another weight of ware. */
export function fire(planned: PlannedFiring, wareKg = planned.wareKg): Result<Firing> {
  const water = planned.wareKg > 0 ? (planned.waterKg * wareKg) / planned.wareKg : 0;
  return simulateFiring(
    planned.kiln,
    planned.programme,
    loadFrom(wareKg, water, planned.clayShare, planned.furnitureKg),
  );
}

/** What a piece's firing costs in this load and in a full one: the energy of the fuller load is reckoned, the rest is the same. */
export interface LoadComparison {
  readonly here: number;
  readonly full: number;
  readonly capacity: number;
  readonly pieces: number;
}

/** Compares this load with a full one; undefined where nothing is in it or its cost is not known. */
export function compareLoads(planned: PlannedFiring, firing: Firing): LoadComparison | undefined {
  const { pieces, capacity, cost, usedKwh, tariff } = planned;
  if (pieces === 0 || cost === undefined || usedKwh === undefined) return undefined;
  const each = planned.wareKg / pieces;
  const full = fire(planned, each * capacity);
  if (!full.ok) return undefined;
  // The meter is believed: the model says only by how much a full load would take more.
  const fullKwh = (usedKwh * full.value.kwh) / firing.kwh;
  return { here: cost / pieces, full: (cost + (fullKwh - usedKwh) * tariff) / capacity, capacity, pieces };
}

/** Where starting a firing between two times costs least. */
export function bestStart(
  session: Session,
  firing: Firing,
  window: { readonly earliestMinuteOfWeek: number; readonly latestMinuteOfWeek: number },
): Result<CheapestStart> {
  const flat = number(session.result("tariff", "edition")) ?? 0;
  const bands = bandsFrom(recordsOf(session, "tariffs"), flat);
  if (!bands.ok) return bands;
  return cheapestStart(firing.powerKw, bands.value, { ...window, everyMinutes: 15 });
}

/** Fits a kiln to the metered firings of this edition. */
export function fitKiln(
  session: Session,
  kilnId: string,
): Result<{ readonly calibration: Calibration; readonly names: readonly string[] }> {
  const kilnName = rowOf(session.book.value, "kilns", kilnId)?.cells.id;
  const kiln = kilnFrom(recordsOf(session, "kilns"), String(kilnName ?? ""));
  if (!kiln.ok) return kiln;
  const names: string[] = [];
  const readings: MeterReading[] = [];
  for (const row of session.book.value.sheets.firings.rows.filter((one) => one.cells.kiln === kilnName)) {
    const planned = plannedFiring(session, row.id);
    if (!planned.ok || planned.value.meteredKwh === undefined) continue;
    const { programme, wareKg, waterKg, clayShare, furnitureKg, meteredKwh } = planned.value;
    readings.push({ programme, load: loadFrom(wareKg, waterKg, clayShare, furnitureKg), meteredKwh });
    names.push(planned.value.name);
  }
  const plain: KilnSpec = { ...kiln.value.kiln, wallLossFactor: 1, storedHeatFactor: 1 };
  const calibration = calibrate(plain, readings);
  return calibration.ok ? ok({ calibration: calibration.value, names }) : calibration;
}
