// A unit as written, such as `g/cm²`, `¤/kWh` or `sq in`, taken apart into units of the table.
import { didYouMean } from "../formula/did-you-mean";
import { type Dimension, PLAIN, timesPower } from "./dimension";
import { type Fraction, fraction, ONE, timesFraction } from "./fraction";
import { type NamedUnit, OPEN_UNITS, UNITS } from "./table";

/** A unit of the table to a whole power. */
interface UnitTerm {
  readonly unit: NamedUnit;
  readonly power: number;
}

/** A unit, alone or put together. */
export interface Unit {
  /** As it is written: the text of a compound, the symbol of a unit by itself. */
  readonly text: string;
  readonly dimension: Dimension;
  /** How much of the SI unit it is. */
  readonly factor: Fraction;
  /** Reading of absolute zero below its own zero, for readings of temperature. */
  readonly zero?: Fraction;
  readonly terms: readonly UnitTerm[];
}

const NO_UNIT: Unit = { text: "", dimension: PLAIN, factor: ONE, terms: [] };

const exact = new Map<string, NamedUnit>();
const loose = new Map<string, NamedUnit>();
for (const unit of UNITS)
  for (const way of [unit.symbol, ...unit.aliases]) {
    exact.set(way, unit);
    if (!loose.has(way.toLowerCase())) loose.set(way.toLowerCase(), unit);
  }

const known = new Map<string, Unit | undefined>();

/** Characters of the longest unit; the document keeps no more of one. */
const UNIT_MOST = 40;

/** The unit that a text stands for; no text is a plain number; undefined where it is none of ours. */
export function parseUnit(text: string): Unit | undefined {
  if (text.length > UNIT_MOST) return undefined;
  if (!known.has(text)) {
    if (known.size > 500) known.clear();
    known.set(text, readUnit(text.trim()));
  }
  return known.get(text);
}

/** Whether a unit's dimension is left open, because another choice decides what is counted. */
export function isOpenUnit(text: string): boolean {
  return OPEN_UNITS.includes(text);
}

function readUnit(text: string): Unit | undefined {
  if (text === "") return NO_UNIT;
  const alone = exact.get(text);
  if (alone) return unitOfTerms([{ unit: alone, power: 1 }]);
  const [above = "", ...below] = text.replaceAll(/\s+per\s+/g, "/").split("/");
  const top = above.trim() === "1" ? [] : termsOf(above, 1);
  const bottom = below.map((part) => termsOf(part, -1));
  const lists = [top, ...bottom];
  const terms = lists.flatMap((list) => list ?? []);
  return lists.includes(undefined) || terms.length === 0 ? undefined : unitOfTerms(terms);
}

function termsOf(text: string, sign: 1 | -1): UnitTerm[] | undefined {
  const terms = text.split(/[·*]/).map((part) => termOf(part.trim(), sign));
  return terms.includes(undefined) ? undefined : terms.filter((term) => term !== undefined);
}

const POWERS: Readonly<Record<string, number>> = { "²": 2, "³": 3, "^2": 2, "^3": 3, "2": 2, "3": 3 };

function termOf(text: string, sign: 1 | -1): UnitTerm | undefined {
  const alone = exact.get(text) ?? loose.get(text.toLowerCase());
  if (alone) return { unit: alone, power: sign };
  const words = /^(sq|square|cu|cubic)\.?\s+(.+)$/i.exec(text);
  const raised = /^(.+?)(²|³|\^?[23])$/.exec(text);
  const name = (words?.[2] ?? raised?.[1] ?? "").trim();
  const unit = exact.get(name) ?? loose.get(name.toLowerCase());
  const power = words ? (/^s/i.test(words[1] ?? "") ? 2 : 3) : POWERS[raised?.[2] ?? ""];
  return unit && power ? { unit, power: power * sign } : undefined;
}

/** The unit made of terms; readings of temperature become differences where they are part of something. */
export function unitOfTerms(terms: readonly UnitTerm[]): Unit {
  const [only] = terms;
  const zero = terms.length === 1 && only?.power === 1 ? only.unit.zero : undefined;
  return {
    text: textOfTerms(terms),
    dimension: terms.reduce<Dimension>((all, { unit, power }) => timesPower(all, unit.dimension, power), PLAIN),
    factor: terms.reduce((all, { unit, power }) => timesFraction(all, fraction(unit.factor), power), ONE),
    ...(zero === undefined ? {} : { zero: fraction(zero) }),
    terms,
  };
}

const SUPERSCRIPTS = ["", "", "²", "³"];

function textOfTerms(terms: readonly UnitTerm[]): string {
  const write = ({ unit, power }: UnitTerm) => unit.symbol + (SUPERSCRIPTS[Math.abs(power)] ?? "");
  const above = terms.filter(({ power }) => power > 0).map(write);
  const below = terms.filter(({ power }) => power < 0).map(write);
  const top = above.join("·") || (below.length > 0 ? "1" : "");
  return [top, ...below].join("/");
}

/** The way of writing a known unit that is closest to a mistyped one, if one is close enough. */
export function nearUnit(text: string): string | undefined {
  if (text.length < 3 || text.length > UNIT_MOST) return undefined;
  return didYouMean(text, exact.keys());
}
