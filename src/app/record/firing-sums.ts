// What a firing that is not planned yet would cost and take: by the kiln's build and programme, otherwise by its plate.
import { coolingHours } from "../../ceramics/kiln/cooling";
import { dutyKwh } from "../../ceramics/kiln/duty";
import { rememberFirings } from "../../ceramics/kiln/remember";
import type { SimulationOptions } from "../../ceramics/kiln/simulate";
import type { LoadCost } from "../../ceramics/loads/propose";
import type { Problem } from "../../core/problem";
import { kilnFrom, loadFrom, programmeFrom, type SheetRecord } from "../../engine/kiln-records";
import type { Session } from "../edition/session";
import { recordsOf } from "../plan/kiln-heat";

const simulate = rememberFirings(400);
/** What a kiln takes to cool where neither it nor its build says: common practice is to leave it overnight; no source. */
export const GUESSED_COOLING_HOURS = 16;

/** Records of the sheets that firings are calculated from, read once. */
export interface FiringSheets {
  readonly kilns: readonly SheetRecord[];
  readonly programmes: readonly SheetRecord[];
  readonly loadingMinutes: number;
  /** What an hour of loading costs: the wage, and overhead where loading carries any. */
  readonly loadingHour: number;
  readonly tariff: number;
}

/** A firing as asked about: its programme where it has one, and what goes in. */
export interface AskedFiring {
  readonly kiln: string;
  readonly programme: string | undefined;
  readonly kgEach: number;
  readonly isRaw: boolean;
}

const number = (value: unknown) => (typeof value === "number" ? value : undefined);

/** What an hour of loading a kiln costs: the wage, and overhead where the edition says that loading carries any. */
export function loadingHour(session: Session): number {
  const input = (id: string) => number(session.result(id, "edition")) ?? 0;
  return input("wage") + (session.result("overhead_loading", "edition") === "yes" ? input("overhead_normal") : 0);
}

/** Reads what firings are calculated from. */
export function firingRecords(session: Session): FiringSheets {
  const input = (id: string) => number(session.result(id, "edition")) ?? 0;
  return {
    kilns: recordsOf(session, "kilns"),
    programmes: recordsOf(session, "programmes"),
    loadingMinutes: input("loading_minutes"),
    loadingHour: loadingHour(session),
    tariff: input("tariff"),
  };
}

/** Simulates a firing with so many pieces; nothing where kiln or programme is not described. */
function simulated(sheets: FiringSheets, asked: AskedFiring, pieces: number, options: SimulationOptions = {}) {
  const kiln = kilnFrom(sheets.kilns, asked.kiln);
  const programme = programmeFrom(sheets.programmes, asked.programme ?? "");
  if (!kiln.ok || !programme.ok) return undefined;
  const load = loadFrom(asked.kgEach * pieces, 0, asked.isRaw ? 0.5 : 0, kiln.value.furnitureKg);
  return simulate(kiln.value.kiln, programme.value, load, options);
}

function recordOf(sheets: FiringSheets, kiln: string): SheetRecord {
  return sheets.kilns.find((one) => one.id === kiln) ?? {};
}

/** What a firing costs and what a piece more adds, or why the kiln can't fire it. */
export type AskedCost =
  | { readonly ok: true; readonly cost: LoadCost }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** Calculates what a firing costs in a kiln: energy, wear and loading; pieces add the energy that heats them. */
export function costOfFiring(sheets: FiringSheets, asked: AskedFiring): AskedCost {
  const kiln = recordOf(sheets, asked.kiln);
  const room = Math.max(1, number(kiln.capacity) ?? 1);
  const fixed = (number(kiln.wear) ?? 0) + (sheets.loadingMinutes / 60) * sheets.loadingHour;
  const [one, full] = [simulated(sheets, asked, 0), simulated(sheets, asked, room)];
  if (!one || !full) {
    const rule = dutyKwh(number(kiln.kw) ?? 0, number(kiln.hours) ?? 0, number(kiln.duty) ?? 0);
    return { ok: true, cost: { empty: fixed + (rule.ok ? rule.value : 0) * sheets.tariff, each: 0 } };
  }
  if (!one.ok) return one;
  if (!full.ok) return full;
  const eachKwh = Math.max(0, full.value.kwh - one.value.kwh) / room;
  return { ok: true, cost: { empty: fixed + one.value.kwh * sheets.tariff, each: eachKwh * sheets.tariff } };
}

/** How long a kiln is taken by a firing, and how that is known. */
export interface KilnHours {
  readonly hours: number;
  readonly how: "typed" | "by its build" | "guessed";
}

/** Hours from switching on until the kiln can be unloaded: typed, by the heat model, or the usual hours and a guess at the cooling. */
export function hoursOfFiring(sheets: FiringSheets, asked: AskedFiring, pieces: number): KilnHours {
  const kiln = recordOf(sheets, asked.kiln);
  const typed = number(kiln.taken);
  if (typed !== undefined) return { hours: typed, how: "typed" };
  const firing = simulated(sheets, asked, pieces, { withCooling: true });
  const cooled = firing?.ok ? coolingHours(firing.value, number(kiln.open_at) ?? 100) : undefined;
  if (firing?.ok && cooled?.ok) return { hours: firing.value.heatingHours + cooled.value, how: "by its build" };
  return { hours: (number(kiln.hours) ?? 0) + GUESSED_COOLING_HOURS, how: "guessed" };
}
