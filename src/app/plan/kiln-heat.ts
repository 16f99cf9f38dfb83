// Firings of an open edition put before the heat model: what one takes, when to start it, and how its kiln fits its meter.
import type { Calibration, MeterReading } from "../../ceramics/kiln/calibrate";
import type { Firing } from "../../ceramics/kiln/firing";
import type { KilnSpec } from "../../ceramics/kiln/kiln-spec";
import type { HotLayer } from "../../ceramics/kiln/limits";
import type { FiringProgramme } from "../../ceramics/kiln/programme";
import { rememberFirings } from "../../ceramics/kiln/remember";
import { type CheapestStart, cheapestStart } from "../../ceramics/kiln/tariff";
import { DATA_C, WALL_MATERIALS } from "../../ceramics/kiln/wall-materials";
import { rowOf } from "../../core/document/access";
import type { SheetKey } from "../../core/document/workbook";
import { fail, ok, problem, type Result } from "../../core/problem";
import { bandsFrom, kilnFrom, loadFrom, programmeFrom, type SheetRecord } from "../../engine/kiln-records";
import { isCellError } from "../../engine/values";
import { writeCells } from "../commands/commands";
import { shownAmount } from "../edition/display";
import { editableNumber } from "../edition/format";
import type { Session } from "../edition/session";
import type { FitQuestion } from "./fit-client";

/** The card asks for the same firing at every stroke. */
const simulate = rememberFirings(50);

/** The rows of a sheet as plain records of values. */
export function recordsOf(session: Session, sheet: SheetKey): readonly SheetRecord[] {
  const { rows, columns } = session.book.value.sheets[sheet];
  return rows.map((row) =>
    Object.fromEntries(
      columns.map((column) => {
        const value = session.value({ sheet, row: row.id, column: column.key });
        return [column.key, value === undefined || isCellError(value) || value === "" ? null : value];
      }),
    ),
  );
}

/** A firing of the Firings sheet with everything the model needs of it. */
export interface ModelledFiring {
  readonly name: string;
  readonly kiln: KilnSpec;
  readonly furnitureKg: number;
  readonly programme: FiringProgramme;
  readonly wareKg: number;
  readonly waterKg: number;
  readonly clayShare: number;
  readonly meteredKwh: number | undefined;
  /** Nothing where it holds no pieces yet. */
  readonly loads: LoadComparison | undefined;
}

const number = (value: unknown) => (typeof value === "number" ? value : undefined);

/** Reads a firing by its row id. */
export function plannedFiring(session: Session, id: string): Result<ModelledFiring> {
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
    meteredKwh: number(record.meter),
    loads: loadsOf(record),
  });
}

function loadsOf(record: SheetRecord): LoadComparison | undefined {
  const [pieces, capacity, here, full] = ["all", "full", "each", "each_full"].map((key) => number(record[key]));
  if (!pieces || capacity === undefined || here === undefined || full === undefined) return undefined;
  return { here, full, capacity, pieces };
}

/** Simulates a firing as planned. */
export function fire(planned: ModelledFiring): Result<Firing> {
  const { kiln, programme, wareKg, waterKg, clayShare, furnitureKg } = planned;
  return simulate(kiln, programme, loadFrom(wareKg, waterKg, clayShare, furnitureKg), { withCooling: true });
}

/** What a piece's firing costs in this load and in a full one, as the Firings sheet says. */
interface LoadComparison {
  readonly here: number;
  readonly full: number;
  readonly capacity: number;
  readonly pieces: number;
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

/** What a kiln is fitted to: its plain build, and its metered firings with their names. */
export interface FitInput extends FitQuestion {
  readonly names: readonly string[];
}

/** The metered firings of this edition that a kiln can be fitted to. */
export function fitInput(session: Session, kilnId: string): Result<FitInput> {
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
  return ok({ kiln: { ...kiln.value.kiln, wallLossFactor: 1, storedHeatFactor: 1 }, readings, names });
}

/** Takes a fit: both factors and how far to trust them, in one step of the history. */
export function useFit(session: Session, kilnId: string, fit: Calibration): boolean {
  const write = (column: string, value: number) => ({
    cell: { sheet: "kilns", row: kilnId, column } as const,
    typed: editableNumber(Number(value.toPrecision(4)), { kind: "input", type: "number" }, session.formats.locale),
  });
  return writeCells(
    session,
    [
      write("wall_factor", fit.wallLossFactor),
      write("heat_factor", fit.storedHeatFactor),
      write("spread", fit.trust.percent),
    ],
    "typed",
  );
}

/** Says of layers that get hotter than they are made for how hot, and what comes of it. */
export function hotLayerWords(session: Session, layers: readonly HotLayer[]): readonly string[] {
  const degrees = (celsius: number) => shownAmount(session, celsius, "°C", 0);
  return layers.map(({ material, behind, hottestC, limitC, isBeyondData }) => {
    const { title } = WALL_MATERIALS[material];
    const part = behind === 0 ? "The hot face" : "The layer behind it";
    const advice =
      behind === 0 ? "it shrinks and wears sooner than below" : "it needs more brick in front of it, or a better board";
    const data = isBeyondData
      ? ` Its heat data end at ${degrees(DATA_C[material])} and are carried straight on: what it conducts there may be 15 % off.`
      : "";
    return `${part} (${title}) gets to ${degrees(hottestC)}, above its ${degrees(limitC)}: ${advice}.${data}`;
  });
}

/** A programme in a kiln that gets too hot for a layer of it. */
export interface HotUse {
  readonly kiln: string;
  readonly programme: string;
  readonly words: readonly string[];
}

/** What the programmes that Route and Firings fire in a kiln, or the kilns that fire a programme, get too hot for. */
export function hotUses(
  session: Session,
  of: { readonly kiln?: string; readonly programme?: string },
): readonly HotUse[] {
  const { route, firings } = session.book.value.sheets;
  const pairs = new Map<string, readonly [kiln: string, programme: string]>();
  for (const { cells } of [...route.rows, ...firings.rows]) {
    const { kiln, programme } = cells;
    if (typeof kiln !== "string" || typeof programme !== "string") continue;
    if ((of.kiln ?? kiln) === kiln && (of.programme ?? programme) === programme)
      pairs.set(`${kiln}\n${programme}`, [kiln, programme]);
  }
  const [kilns, programmes] = [recordsOf(session, "kilns"), recordsOf(session, "programmes")];
  return [...pairs.values()].flatMap(([kiln, programme]): HotUse[] => {
    const [build, ramps] = [kilnFrom(kilns, kiln), programmeFrom(programmes, programme)];
    if (!build.ok || !ramps.ok) return [];
    const firing = simulate(build.value.kiln, ramps.value, loadFrom(0, 0, 0, build.value.furnitureKg));
    const words = firing.ok ? hotLayerWords(session, firing.value.hotLayers) : [];
    return words.length > 0 ? [{ kiln, programme, words }] : [];
  });
}
