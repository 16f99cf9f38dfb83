import { coneTemperature } from "../../ceramics/cones";
import { coolingHours } from "../../ceramics/kiln/cooling";
import { dutyKwh } from "../../ceramics/kiln/duty";
import type { Firing } from "../../ceramics/kiln/firing";
import { hotLayerWarning } from "../../ceramics/kiln/limits";
import { type FiringProgramme, oneRamp } from "../../ceramics/kiln/programme";
import { rememberFirings } from "../../ceramics/kiln/remember";
import type { SimulationOptions } from "../../ceramics/kiln/simulate";
import { bandedCost } from "../../ceramics/kiln/tariff";
import { fail, ok, problem, type Result } from "../../core/problem";
import {
  bandsFrom,
  hoursOf,
  KILN_KEYS,
  kilnFrom,
  loadFrom,
  minuteOfWeek,
  PROGRAMME_KEYS,
  programmeFrom,
  recordsFrom,
  type SheetRecord,
  TARIFF_KEYS,
} from "../kiln-records";
import { type Argument, type FunctionDeclaration, numbers, type Parameter } from "./declare";

/** Firings are remembered by their inputs: ten thousand rows asking for the same one calculate it once. */
const simulate = rememberFirings(2000);

const METER_KEYS = ["kiln", "date", "start", "meter_after"] as const;
const columns = (sheet: "kilns" | "programmes" | "tariffs" | "firings", keys: readonly string[]) =>
  keys.map((column) => ({ kind: "column", sheet, column }) as const);
const KILN_COLUMNS = columns("kilns", KILN_KEYS);
const PROGRAMME_COLUMNS = columns("programmes", PROGRAMME_KEYS);
const METER_COLUMNS = columns("firings", METER_KEYS);
const TARIFF_COLUMNS = columns("tariffs", TARIFF_KEYS);

interface FiringArguments {
  readonly kiln: string;
  readonly ware: number;
  readonly water: number;
  readonly clay: number;
}

/** Simulates a firing in a kiln of the Kilns sheet. */
function fire(
  kilns: readonly Argument[],
  of: FiringArguments,
  programme: Result<FiringProgramme>,
  options: SimulationOptions = {},
): Result<Firing> {
  const found = kilnFrom(recordsFrom(KILN_KEYS, kilns), of.kiln);
  if (!found.ok) return found;
  if (!programme.ok) return programme;
  const { kiln, furnitureKg } = found.value;
  return simulate(kiln, programme.value, loadFrom(of.ware, of.water, of.clay, furnitureKg), options);
}

const number = (value: Argument | undefined) => (typeof value === "number" ? value : 0);

/** The reading after the last of a kiln's firings before a time; none where that, or which one it was, is not known. */
function meterBefore(
  firings: readonly SheetRecord[],
  kiln: string,
  at: { readonly date: number; readonly start: string },
): number | undefined {
  const minute = (date: unknown, start: unknown) =>
    typeof date === "number" ? date * 24 + (hoursOf(start) ?? 0) : Number.NaN;
  const now = minute(at.date, at.start);
  const own = firings.filter((one) => String(one.kiln).toLowerCase() === kiln.toLowerCase());
  // Another firing of the same hour may have come before this one.
  if (own.filter((one) => minute(one.date, one.start) === now).length > 1) return undefined;
  const last = Math.max(...own.map((one) => minute(one.date, one.start)).filter((time) => time < now));
  const [only, other] = own.filter((one) => minute(one.date, one.start) === last);
  return other === undefined && typeof only?.meter_after === "number" ? only.meter_after : undefined;
}

function fireToPeak(given: readonly Argument[]): Result<Firing> {
  const [kiln, peak, rate, soak, ware, water] = given;
  const of = { kiln: String(kiln ?? ""), ware: number(ware), water: number(water), clay: 0 };
  return fire(given.slice(6), of, ok(oneRamp(number(peak), number(rate), number(soak))));
}

function fireByProgramme(given: readonly Argument[]): Result<Firing> {
  const [kiln, programme, ware, water, clay] = given;
  const read = given.slice(PROGRAMME_PARAMETERS.length);
  const records = recordsFrom(PROGRAMME_KEYS, read.slice(KILN_KEYS.length, KILN_KEYS.length + PROGRAMME_KEYS.length));
  const of = { kiln: String(kiln ?? ""), ware: number(ware), water: number(water), clay: number(clay) };
  return fire(read.slice(0, KILN_KEYS.length), of, programmeFrom(records, String(programme ?? "")));
}

const kilnName = { name: "kiln", what: "a kiln of the Kilns sheet", type: "text" } as const;
const wareKg = {
  name: "ware_kg",
  what: "weight of the ware",
  type: "number",
  unit: "kg",
  min: 0,
  max: 100_000,
  default: 0,
} as const;
const PEAK_PARAMETERS: readonly Parameter[] = [
  kilnName,
  { name: "peak", what: "highest temperature", type: "number", unit: "°C", above: 20, max: 1500 },
  { name: "rate", what: "heating rate", type: "number", unit: "°C/h", above: 0, max: 3000, default: 100 },
  { name: "soak", what: "minutes at the peak", type: "number", unit: "min", min: 0, default: 0 },
  wareKg,
  { name: "water_kg", what: "water still in the ware", type: "number", unit: "kg", min: 0, default: 0 },
];
const PROGRAMME_PARAMETERS: readonly Parameter[] = [
  kilnName,
  { name: "programme", what: "a programme of the Programmes sheet", type: "text" },
  wareKg,
  { name: "water_kg", what: "water still in the ware", type: "number", unit: "kg", min: 0, default: 0 },
  {
    name: "clay_share",
    what: "share of the ware that is raw clay mineral",
    type: "number",
    min: 0,
    max: 1,
    default: 0,
  },
];

const MODEL_SOURCE =
  "transient heat flow through the wall, with published data of bricks, quartz, alumina and water: tests/published/kiln-heat-flow.test.ts, kiln-enthalpy.test.ts and kiln-firings.test.ts";

function give(firing: Result<Firing>, read: (firing: Firing) => Result<number>): Result<number> {
  return firing.ok ? read(firing.value) : firing;
}

/** Where in time a price is asked for, and what holds where no band does. */
interface AskedHours {
  readonly day: Argument | undefined;
  readonly start: Argument | undefined;
  readonly flat: Argument | undefined;
}

/** The average price of power drawn minute by minute under the bands of the Tariffs sheet. */
function averagePrice(powerKw: ArrayLike<number>, asked: AskedHours, tariffs: readonly Argument[]): Result<number> {
  const hour = hoursOf(asked.start);
  if (hour === undefined)
    return fail(
      problem({ code: "tariff.start", where: "start", found: asked.start, allowed: "a time of day such as 22:00" }),
    );
  const bands = bandsFrom(recordsFrom(TARIFF_KEYS, tariffs), number(asked.flat));
  if (!bands.ok) return bands;
  const cost = bandedCost(powerKw, minuteOfWeek(number(asked.day), hour), bands.value);
  return cost.ok ? ok(cost.value.cost / cost.value.kwh) : cost;
}

/** The price of a firing that the heat model follows. */
function bandedPrice(given: readonly Argument[]): Result<number> {
  const [day, start, flat] = given.slice(PROGRAMME_PARAMETERS.length);
  const read = given.slice(PROGRAMME_PARAMETERS.length + 3);
  const firing = fireByProgramme([...given.slice(0, PROGRAMME_PARAMETERS.length), ...read]);
  if (!firing.ok) return firing;
  return averagePrice(firing.value.powerKw, { day, start, flat }, read.slice(KILN_KEYS.length + PROGRAMME_KEYS.length));
}

/** The price of a firing of which only the hours are known: as if it drew the same power all the time. */
function bandedHours(given: readonly Argument[]): Result<number> {
  const [hours, day, start, flat] = given;
  const minutes = 60 * number(hours);
  const even = Array.from({ length: Math.ceil(minutes) }, (_, minute) => Math.min(1, minutes - minute));
  return averagePrice(even, { day, start, flat }, given.slice(4));
}

const WHEN: readonly Parameter[] = [
  { name: "date", what: "the day it starts", type: "number" },
  { name: "start", what: "the time it starts, such as 22:00", type: "text" },
  { name: "flat", what: "the price where no band holds", type: "number", unit: "¤/kWh", min: 0 },
];

export const KILN_FUNCTIONS: readonly FunctionDeclaration[] = [
  {
    name: "CONE_TEMP",
    family: "Cones and kilns",
    summary: "Temperature at which a self-supporting cone bends, for a heating rate over the last 100 °C.",
    parameters: [
      {
        name: "cone",
        what: `cone number as text: "06" and "6" are different cones; a half cone, "5½", is taken midway between two`,
        type: "any",
      },
      {
        name: "rate",
        what: "heating rate over the last 100 °C",
        type: "number",
        unit: "°C/h",
        above: 0,
        default: 60,
      },
    ],
    unit: "°C",
    examples: [
      { formula: `CONE_TEMP("6",60)`, gives: 1222 },
      { formula: `CONE_TEMP("06",150)`, gives: 1013 },
    ],
    source: "Orton, Temperature Equivalents for Pyrometric Cones, 2016: tests/fixtures/reference/cones.csv",
    run: (cone, rate) => coneTemperature(String(cone ?? ""), Number(rate)),
  },
  {
    name: "DUTY_KWH",
    family: "Cones and kilns",
    summary: "Energy of a firing from the plate on the kiln, the hours and the share of them the elements are on.",
    parameters: [
      { name: "kw", what: "rated power", type: "number", unit: "kW", above: 0, max: 2000 },
      { name: "hours", what: "hours from switching on to peak", type: "number", unit: "h", min: 0 },
      { name: "duty", what: "share of those hours the elements are on", type: "number", min: 0, max: 1, default: 0.5 },
    ],
    unit: "kWh",
    examples: [{ formula: "DUTY_KWH(5.5,8,0.6)", gives: 26.4, within: 1e-12 }],
    source: "rated kW × hours × duty; 26.4 kWh from the Potterycrafts guideline quoted at countryloveceramics.com",
    run: numbers(dutyKwh),
  },
  {
    name: "FIRING_KWH",
    family: "Cones and kilns",
    summary: "Energy of a firing at one rate to a peak, calculated from the kiln's build and the load.",
    parameters: PEAK_PARAMETERS,
    unit: "kWh",
    examples: [],
    source: MODEL_SOURCE,
    reads: KILN_COLUMNS,
    run: (...given) => give(fireToPeak(given), (firing) => ok(firing.kwh)),
  },
  {
    name: "FIRING_HOURS",
    family: "Cones and kilns",
    summary: "Hours from switching on to the end of the soak; longer than asked where the power is short.",
    parameters: PEAK_PARAMETERS,
    unit: "h",
    examples: [],
    source: MODEL_SOURCE,
    reads: KILN_COLUMNS,
    run: (...given) => give(fireToPeak(given), (firing) => ok(firing.heatingHours)),
  },
  {
    name: "COOLING_HOURS",
    family: "Cones and kilns",
    summary: "Hours from the end of a firing until the closed kiln has cooled to where it may be opened.",
    parameters: [
      kilnName,
      { name: "peak", what: "temperature at the end of the firing", type: "number", unit: "°C", above: 20, max: 1500 },
      wareKg,
      {
        name: "open_at",
        what: "temperature to open at",
        type: "number",
        unit: "°C",
        above: 20,
        max: 1500,
        default: 100,
      },
    ],
    unit: "h",
    examples: [],
    source: MODEL_SOURCE,
    reads: KILN_COLUMNS,
    run: (kiln, peak, ware, openAt, ...kilns) => {
      const of = { kiln: String(kiln ?? ""), ware: number(ware), water: 0, clay: 0 };
      const firing = fire(kilns, of, ok(oneRamp(number(peak), 100, 10)), { withCooling: true });
      return give(firing, (cooling) => coolingHours(cooling, number(openAt)));
    },
  },
  {
    name: "PROGRAMME_KWH",
    family: "Cones and kilns",
    summary: "Energy of a firing by a programme of the Programmes sheet.",
    parameters: PROGRAMME_PARAMETERS,
    unit: "kWh",
    examples: [],
    source: MODEL_SOURCE,
    reads: [...KILN_COLUMNS, ...PROGRAMME_COLUMNS],
    run: (...given) => give(fireByProgramme(given), (firing) => ok(firing.kwh)),
  },
  {
    name: "PROGRAMME_HOURS",
    family: "Cones and kilns",
    summary: "Hours from switching on to the end of a programme of the Programmes sheet.",
    parameters: PROGRAMME_PARAMETERS,
    unit: "h",
    examples: [],
    source: MODEL_SOURCE,
    reads: [...KILN_COLUMNS, ...PROGRAMME_COLUMNS],
    run: (...given) => give(fireByProgramme(given), (firing) => ok(firing.heatingHours)),
  },
  {
    name: "FIRING_WARNING",
    family: "Cones and kilns",
    summary:
      "Which layers of the kiln get hotter than they are made for in a firing, briefly; nothing where none does.",
    parameters: PROGRAMME_PARAMETERS,
    unit: "",
    examples: [],
    source: `${MODEL_SOURCE}; class limits: src/ceramics/kiln/wall-materials.ts`,
    reads: [...KILN_COLUMNS, ...PROGRAMME_COLUMNS],
    run: (...given) => {
      const firing = fireByProgramme(given);
      return firing.ok ? ok(hotLayerWarning(firing.value.hotLayers)) : firing;
    },
  },
  {
    name: "BANDED_PRICE",
    family: "Cones and kilns",
    summary: "What a kilowatt-hour of a firing costs on average under the bands of the Tariffs sheet.",
    parameters: [...PROGRAMME_PARAMETERS.map(({ default: _, ...parameter }) => parameter), ...WHEN],
    unit: "¤/kWh",
    examples: [],
    source: "power minute by minute × the price of the minute; own definition",
    reads: [...KILN_COLUMNS, ...PROGRAMME_COLUMNS, ...TARIFF_COLUMNS],
    run: (...given) => bandedPrice(given),
  },
  {
    name: "BANDED_HOURS",
    family: "Cones and kilns",
    summary: "What a kilowatt-hour costs on average over the hours a firing ran, drawing the same power all the time.",
    parameters: [{ name: "hours", what: "hours it ran", type: "number", unit: "h", above: 0, max: 1000 }, ...WHEN],
    unit: "¤/kWh",
    examples: [],
    source: "minutes × the price of the minute; own definition",
    reads: TARIFF_COLUMNS,
    run: (...given) => bandedHours(given),
  },
  {
    name: "METER_BEFORE",
    family: "Cones and kilns",
    summary:
      "Where the meter stood after the kiln's firing before this date and time; nothing where that was not read.",
    parameters: [
      kilnName,
      { name: "date", what: "the day of the firing", type: "number" },
      { name: "start", what: "the time it starts, such as 22:00", type: "text", default: "" },
    ],
    unit: "kWh",
    examples: [],
    source: "own definition: what the meter shows after one firing of a kiln it shows before the next",
    reads: METER_COLUMNS,
    run: (kiln, date, start, ...read) => {
      const firings = recordsFrom(METER_KEYS, read);
      return ok(meterBefore(firings, String(kiln), { date: number(date), start: String(start) }) ?? "");
    },
  },
];
