// The units that are known, as data. Factors are exact and lead to the SI units without a prefix (m, kg, s, K, J, W).
// Sources: BIPM, SI brochure, 9th edition (2019), tables 2, 4, 7 and 8; NIST Special Publication 811 (2008), appendix B.8,
// where the foot is 0.3048 m and the pound 0.453 592 37 kg exactly; US liquid measures: NIST Handbook 44, appendix C
// (1 gallon is 231 cubic inches). Other units follow from these by definition.
import { type Dimension, PLAIN } from "./dimension";

/** One unit by itself. */
export interface NamedUnit {
  /** What it is written as. */
  readonly symbol: string;
  readonly name: string;
  readonly dimension: Dimension;
  /** How much of the SI unit it is, as an exact decimal or fraction. */
  readonly factor: string;
  /** Reading of absolute zero below its own zero; only for readings of temperature. */
  readonly zero?: string;
  /** Other ways to write it. */
  readonly aliases: readonly string[];
  readonly source: "SI" | "SP 811" | "HB 44" | "own";
  /** Symbol of the unit that stands for it where US customary units are shown. */
  readonly us?: string;
}

const LENGTH: Dimension = [1, 0, 0, 0, 0];
const VOLUME: Dimension = [3, 0, 0, 0, 0];
const MASS: Dimension = [0, 1, 0, 0, 0];
const TIME: Dimension = [0, 0, 1, 0, 0];
const HEAT: Dimension = [0, 0, 0, 1, 0];
const MONEY: Dimension = [0, 0, 0, 0, 1];
const ENERGY: Dimension = [2, 1, -2, 0, 0];
const POWER: Dimension = [2, 1, -3, 0, 0];
const FLOW: Dimension = [3, 0, -1, 0, 0];

type Line = readonly [symbol: string, name: string, factor: string, aliases: string, us?: string];

const of = (dimension: Dimension, source: NamedUnit["source"], lines: readonly Line[]): NamedUnit[] =>
  lines.map(([symbol, name, factor, aliases, us]) => ({
    symbol,
    name,
    dimension,
    factor,
    aliases: aliases === "" ? [] : aliases.split("|"),
    source,
    ...(us ? { us } : {}),
  }));

const SI_UNITS = [
  ...of(LENGTH, "SI", [
    ["m", "metre", "1", "metre|metres|meter|meters", "ft"],
    ["cm", "centimetre", "0.01", "centimetre|centimetres|centimeter|centimeters", "in"],
    ["mm", "millimetre", "0.001", "millimetre|millimetres|millimeter|millimeters", "in"],
    ["µm", "micrometre", "0.000001", "μm|um|micron|microns|micrometre|micrometres"],
    ["nm", "nanometre", "0.000000001", "nanometre|nanometres|nanometer|nanometers"],
  ]),
  ...of(VOLUME, "SI", [
    ["L", "litre", "0.001", "l|litre|litres|liter|liters", "gal"],
    ["mL", "millilitre", "0.000001", "ml|cc|millilitre|millilitres|milliliter|milliliters", "fl oz"],
  ]),
  ...of(MASS, "SI", [
    ["t", "tonne", "1000", "tonne|tonnes|metric ton"],
    ["kg", "kilogram", "1", "kilogram|kilograms|kilo|kilos", "lb"],
    ["g", "gram", "0.001", "gram|grams|gm|gr", "oz"],
    ["mg", "milligram", "0.000001", "milligram|milligrams"],
  ]),
  ...of(TIME, "SI", [
    ["s", "second", "1", "sec|secs|second|seconds"],
    ["min", "minute", "60", "mins|minute|minutes"],
    ["h", "hour", "3600", "hr|hrs|hour|hours"],
    ["labour h", "hour of work", "3600", "labor h|labour hour|labour hours|labor hour|labor hours"],
    ["days", "day", "86400", "d|day"],
  ]),
  ...of(ENERGY, "SI", [
    ["kWh", "kilowatt-hour", "3600000", "kwh|KWH|kilowatt-hours"],
    ["Wh", "watt-hour", "3600", "wh"],
    ["MJ", "megajoule", "1000000", ""],
    ["kJ", "kilojoule", "1000", "kj"],
    ["J", "joule", "1", ""],
  ]),
  ...of(POWER, "SI", [
    ["kW", "kilowatt", "1000", "kw|KW"],
    ["W", "watt", "1", "w|watts"],
  ]),
];

const US_UNITS = [
  ...of(LENGTH, "SP 811", [
    ["in", "inch", "0.0254", `inch|inches|"|″|''|′′`],
    ["ft", "foot", "0.3048", "foot|feet|'|′"],
    ["yd", "yard", "0.9144", "yard|yards"],
  ]),
  ...of(VOLUME, "HB 44", [
    ["fl oz", "US fluid ounce", "0.0000295735295625", "floz|fluid ounce|fluid ounces|fl. oz|fl. oz."],
    ["cup", "US cup", "0.0002365882365", "cups"],
    ["pt", "US pint", "0.000473176473", "pint|pints"],
    ["qt", "US quart", "0.000946352946", "quart|quarts"],
    ["gal", "US gallon", "0.003785411784", "gallon|gallons"],
  ]),
  ...of(MASS, "SP 811", [
    ["lb", "pound", "0.45359237", "lbs|pound|pounds"],
    ["oz", "ounce", "0.028349523125", "ounce|ounces"],
    ["oz t", "troy ounce", "0.0311034768", "ozt|troy oz|troy ounce|troy ounces"],
    ["dwt", "pennyweight", "0.00155517384", "pennyweight|pennyweights"],
  ]),
  ...of(ENERGY, "SP 811", [["Btu", "British thermal unit (IT)", "1055.05585262", "BTU|btu"]]),
  ...of(FLOW, "SP 811", [["cfm", "cubic foot per minute", "0.028316846592/60", "CFM"]]),
];

const TEMPERATURES: readonly NamedUnit[] = [
  {
    symbol: "°C",
    name: "degree Celsius",
    dimension: HEAT,
    factor: "1",
    zero: "273.15",
    aliases: ["C", "ºC", "˚C", "℃", "deg C", "degC", "celsius"],
    source: "SI",
  },
  {
    symbol: "°F",
    name: "degree Fahrenheit",
    dimension: HEAT,
    factor: "5/9",
    zero: "459.67",
    aliases: ["F", "ºF", "˚F", "℉", "deg F", "degF", "fahrenheit"],
    source: "SP 811",
  },
  { symbol: "K", name: "kelvin", dimension: HEAT, factor: "1", zero: "0", aliases: ["kelvin"], source: "SI" },
  { symbol: "Δ°C", name: "difference in °C", dimension: HEAT, factor: "1", aliases: ["ΔC", "∆°C"], source: "SI" },
  {
    symbol: "Δ°F",
    name: "difference in °F",
    dimension: HEAT,
    factor: "5/9",
    aliases: ["ΔF", "∆°F"],
    source: "SP 811",
  },
];

/** Words for things that are counted and for shares: plain numbers with a word beside them. */
const PLAIN_WORDS = of(PLAIN, "own", [
  ["pieces", "piece", "1", "piece|pcs|pc"],
  ["casts", "cast", "1", "cast"],
  ["runs", "run of an edition", "1", "run"],
  ["coats", "coat", "1", "coat"],
  ["firings", "firing", "1", "firing"],
  ["loads", "load", "1", "load"],
  ["packs", "pack", "1", "pack"],
  ["moulds", "mould", "1", "mould|mold|molds"],
  ["times", "time", "1", "time"],
  ["×", "times as much", "1", "x"],
  ["of price", "share of the price", "1", ""],
  ["of net price", "share of the price without tax", "1", ""],
]);

const MONEY_UNIT: NamedUnit = {
  symbol: "¤",
  name: "the edition's currency",
  dimension: MONEY,
  factor: "1",
  aliases: [],
  source: "own",
};

/** A percentage: what is kept is the fraction (D-010), so it counts as it stands. */
const PERCENT: NamedUnit = { symbol: "%", name: "percent", dimension: PLAIN, factor: "1", aliases: [], source: "own" };

/** Every unit that is known by itself. */
export const UNITS: readonly NamedUnit[] = [
  ...SI_UNITS,
  ...US_UNITS,
  ...TEMPERATURES,
  ...PLAIN_WORDS,
  MONEY_UNIT,
  PERCENT,
];

/** Units of no dimension of their own: what is counted there depends on another choice. */
export const OPEN_UNITS: readonly string[] = ["as shared"];
