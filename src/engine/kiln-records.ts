// Kilns, programmes and tariff bands as they stand on the sheets, turned into what the heat model takes.
// Used by the sheet's functions and by the page's pictures, so that both calculate the same firing.
import { coneTemperature } from "../ceramics/cones";
import type { KilnSpec, WallLayer } from "../ceramics/kiln/kiln-spec";
import type { Load } from "../ceramics/kiln/load";
import { type ConeProgramme, type FiringProgramme, resolveCones } from "../ceramics/kiln/programme";
import type { TariffBand } from "../ceramics/kiln/tariff";
import { isWallMaterialName } from "../ceramics/kiln/wall-materials";
import type { LoadKiln } from "../ceramics/loads/kiln-room";
import { fail, ok, type Problem, problem, type Result } from "../core/problem";

/** A row of a sheet by column key; blanks are null. */
export type SheetRecord = Readonly<Record<string, number | string | boolean | null>>;

export const KILN_KEYS = [
  "id",
  "kw",
  "shape",
  "width",
  "depth",
  "height",
  "brick",
  "brick_mm",
  "backing",
  "backing_mm",
  "furniture",
  "vent",
  "wall_factor",
  "heat_factor",
] as const;
/** What the room in a kiln is read from. */
export const ROOM_KEYS = ["id", "capacity", "shelf", "levels", "gap", "height"] as const;
export const PROGRAMME_KEYS = ["programme", "ramp", "rate", "cone", "celsius", "soak", "vent"] as const;
export const TARIFF_KEYS = ["id", "days", "from", "to", "price"] as const;

/** Rows of whole columns, in the order of their keys; rows without the first are passed over. */
export function recordsFrom(keys: readonly string[], read: readonly unknown[]): readonly SheetRecord[] {
  const lists = read.map((list): readonly SheetRecord[string][] => (Array.isArray(list) ? list : []));
  const [first = []] = lists;
  return first.flatMap((name, at) =>
    (name ?? null) === null ? [] : [Object.fromEntries(keys.map((key, k) => [key, lists[k]?.[at] ?? null]))],
  );
}

const number = (value: number | string | boolean | null | undefined) => (typeof value === "number" ? value : undefined);
const text = (value: number | string | boolean | null | undefined) =>
  value === null || value === undefined ? "" : String(value);
const same = (a: unknown, b: unknown) => String(a ?? "").toLowerCase() === String(b ?? "").toLowerCase();

function missing(where: string, what: string, allowed: string): Problem {
  return problem({
    code: "kiln.missing",
    where: `${where}, ${what}`,
    found: "",
    allowed,
    fix: "Enter it on the Kilns sheet.",
  });
}

/** The kiln of that name, ready for the heat model, with the weight of its furniture. */
export function kilnFrom(
  records: readonly SheetRecord[],
  name: string,
): Result<{ readonly kiln: KilnSpec; readonly furnitureKg: number }> {
  const record = records.find((one) => same(one.id, name));
  if (!record || name === "") return fail(noKiln(name));
  const problems: Problem[] = [];
  const need = (key: string, what: string) => {
    const value = number(record[key]);
    if (value === undefined) problems.push(missing(name, what, "a number"));
    return value ?? 0;
  };
  const shape = text(record.shape);
  const width = need("width", "width or diameter") * 10;
  const heightMm = need("height", "chamber height") * 10;
  if (shape !== "round" && shape !== "rectangular") problems.push(missing(name, "shape", "round or rectangular"));
  const chamber =
    shape === "rectangular"
      ? ({ kind: "rectangular", widthMm: width, depthMm: need("depth", "depth") * 10, heightMm } as const)
      : ({ kind: "round", diameterMm: width, heightMm } as const);
  const wall = wallFrom(record, name, problems);
  if (problems.length > 0) return fail(...problems);
  const kiln: KilnSpec = {
    name: text(record.id),
    chamber,
    wall,
    ratedKw: number(record.kw) ?? 0,
    ...optional("ventLitresPerSecond", number(record.vent)),
    ...optional("wallLossFactor", number(record.wall_factor)),
    ...optional("storedHeatFactor", number(record.heat_factor)),
  };
  return ok({ kiln, furnitureKg: number(record.furniture) ?? 0 });
}

/** The room in the kiln of that name; what is blank or nothing is not known. */
export function loadKilnFrom(records: readonly SheetRecord[], name: string): Result<LoadKiln> {
  const record = records.find((one) => same(one.id, name));
  if (!record || name === "") return fail(noKiln(name));
  const size = (key: (typeof ROOM_KEYS)[number]) => {
    const value = number(record[key]);
    return value !== undefined && value > 0 ? value : undefined;
  };
  return ok({
    id: text(record.id),
    capacity: size("capacity") ?? 1,
    ...optional("shelfCm2", size("shelf")),
    ...optional("levels", size("levels")),
    ...optional("gapCm", size("gap")),
    ...optional("heightCm", size("height")),
  });
}

function noKiln(found: string): Problem {
  return problem({ code: "kiln.none", where: "Kiln", found, allowed: "a kiln of the Kilns sheet" });
}

function optional<K extends string>(key: K, value: number | undefined): { readonly [P in K]?: number } {
  return value === undefined ? {} : ({ [key]: value } as { readonly [P in K]: number });
}

function wallFrom(record: SheetRecord, name: string, problems: Problem[]): readonly WallLayer[] {
  const layers: WallLayer[] = [];
  for (const [key, what] of [
    ["brick", "hot face"],
    ["backing", "backing"],
  ] as const) {
    const material = text(record[key]);
    if (material === "") {
      if (key === "brick") problems.push(missing(name, what, "a class of brick or fibre"));
      continue;
    }
    const thicknessMm = number(record[`${key}_mm`]);
    if (!isWallMaterialName(material)) problems.push(missing(name, what, "a class of brick or fibre"));
    else if (thicknessMm === undefined) problems.push(missing(name, `${what} thickness`, "millimetres"));
    else layers.push({ material, thicknessMm });
  }
  return layers;
}

/** The programme of that name: its ramps in order, cones turned into °C. */
export function programmeFrom(records: readonly SheetRecord[], name: string): Result<FiringProgramme> {
  const ramps = records
    .filter((one) => name !== "" && same(one.programme, name))
    .sort((a, b) => (number(a.ramp) ?? 0) - (number(b.ramp) ?? 0));
  if (ramps.length === 0)
    return fail(
      problem({
        code: "programme.none",
        where: "Programme",
        found: name,
        allowed: "a programme of the Programmes sheet",
      }),
    );
  const problems: Problem[] = [];
  const segments = ramps.map((ramp): ConeProgramme["segments"][number] => {
    const celsius = number(ramp.celsius);
    const cone = text(ramp.cone);
    if (celsius === undefined && cone === "")
      problems.push(
        problem({
          code: "programme.target",
          where: `${name}, ramp ${ramp.ramp}`,
          found: "",
          allowed: "a cone or a temperature to go to",
        }),
      );
    return {
      rateCPerHour: number(ramp.rate) ?? "fastest",
      target: celsius === undefined ? { cone } : { celsius },
      soakMinutes: number(ramp.soak) ?? 0,
      ...optional("ventLitresPerSecond", number(ramp.vent)),
    };
  });
  if (problems.length > 0) return fail(...problems);
  return resolveCones({ name, segments }, (cone, rate) => coneTemperature(cone, Math.min(300, Math.max(30, rate))));
}

/** A load from the weights of a firing; `clayShare` is the part of raw ware that is clay mineral, 0 for fired ware. */
export function loadFrom(wareKg: number, waterKg: number, clayShare: number, furnitureKg: number): Load {
  return { wareKg, furnitureKg, freeWaterKg: waterKg, kaoliniteKg: wareKg * clayShare };
}

const DAYS: Readonly<Record<string, readonly number[]>> = {
  "every day": [1, 2, 3, 4, 5, 6, 7],
  weekdays: [1, 2, 3, 4, 5],
  weekend: [6, 7],
};

/** Hours of a time of day such as 22:30; undefined where it is none. */
export function hoursOf(time: unknown): number | undefined {
  const match = /^(\d{1,2}):(\d{2})$/.exec(String(time ?? ""));
  return match ? Number(match[1]) + Number(match[2]) / 60 : undefined;
}

/** Tariff bands, with the flat price for every minute that no band covers. */
export function bandsFrom(records: readonly SheetRecord[], flat: number): Result<readonly TariffBand[]> {
  const bands: TariffBand[] = [];
  for (const record of records.filter((one) => text(one.id) !== "")) {
    const [from, to, price, days] = [
      hoursOf(record.from),
      hoursOf(record.to),
      number(record.price),
      DAYS[text(record.days)],
    ];
    if (from === undefined || to === undefined || price === undefined || !days)
      return fail(
        problem({
          code: "tariff.band",
          where: `Band ${text(record.id)}`,
          found: "",
          allowed: "days, from, to and a price",
          fix: "Complete it on the Tariffs sheet.",
        }),
      );
    bands.push({ name: text(record.id), days, fromHour: from, toHour: to, pricePerKwh: price });
  }
  return ok([...bands, ...flatBands(bands, flat)]);
}

/** The hours of the week that no band covers, at the flat price: whole minutes, day by day. */
function flatBands(bands: readonly TariffBand[], flat: number): TariffBand[] {
  const taken = new Uint8Array(7 * 1440);
  for (const band of bands)
    for (const day of band.days) {
      const start = (day - 1) * 1440 + Math.round(band.fromHour * 60);
      const length = Math.round(((band.toHour > band.fromHour ? band.toHour : band.toHour + 24) - band.fromHour) * 60);
      for (let at = 0; at < length; at += 1) taken[(start + at) % taken.length] = 1;
    }
  const free: TariffBand[] = [];
  for (let day = 0; day < 7; day += 1) {
    let from: number | undefined;
    for (let minute = 0; minute <= 1440; minute += 1) {
      const isFree = minute < 1440 && taken[day * 1440 + minute] === 0;
      if (isFree && from === undefined) from = minute;
      if (!isFree && from !== undefined) {
        free.push({ name: "flat", days: [day + 1], fromHour: from / 60, toHour: minute / 60, pricePerKwh: flat });
        from = undefined;
      }
    }
  }
  return free;
}

/** Minute of the week, Monday 00:00 being 0, of a day in the engine's count (day 0 is Saturday 30 December 1899). */
export function minuteOfWeek(day: number, startHour: number): number {
  const weekday = (((Math.floor(day) + 5) % 7) + 7) % 7;
  return weekday * 1440 + Math.round(startHour * 60);
}
