// How amounts are shown where that differs from how they are kept. The document stays metric; temperatures follow a
// choice of their own.
import type { Meta } from "../document/workbook";
import { convert, convertShortest } from "./convert";
import { parseUnit, type Unit, unitOfTerms } from "./parse";

/** How numbers of a unit are shown where that differs from how they are kept. */
export interface Scale {
  readonly unit: string;
  readonly toShown: (kept: number) => number;
  readonly toKept: (shown: number) => number;
  /** Decimal places that are worth showing beyond those of the unit it is kept in. */
  readonly moreDigits: number;
}

type Choices = Pick<Meta, "units" | "temperature">;

const made = new Map<string, Scale | undefined>();

/** The scale that amounts kept in a unit are shown in; undefined where they are shown as they are kept. */
export function scaleOfUnit(unit: string, { units, temperature }: Choices): Scale | undefined {
  if (units !== "US" && temperature !== "F") return undefined;
  const key = `${units} ${temperature} ${unit}`;
  if (!made.has(key)) {
    if (made.size > 500) made.clear();
    made.set(key, makeScale(unit, { units, temperature }));
  }
  return made.get(key);
}

function makeScale(text: string, choices: Choices): Scale | undefined {
  const kept = parseUnit(text);
  if (!kept) return undefined;
  const shown = shownUnit(kept, choices);
  if (shown.text === kept.text) return undefined;
  const grown = Math.abs(convert(1, kept, shown) - convert(0, kept, shown));
  return {
    unit: shown.text,
    toKept: (value) => convert(value, shown, kept),
    toShown: (value) => convertShortest(value, kept, shown),
    moreDigits: -Math.round(Math.log10(grown)),
  };
}

/** Kept in litres a second, shown in what fans are rated in. */
const WHOLE_US: Readonly<Record<string, string>> = { "L/s": "cfm" };

function shownUnit(kept: Unit, { units, temperature }: Choices): Unit {
  const whole = units === "US" ? WHOLE_US[kept.text] : undefined;
  const other = whole === undefined ? undefined : parseUnit(whole);
  if (other) return other;
  return unitOfTerms(
    kept.terms.map((term) => {
      const { symbol, us } = term.unit;
      const wanted =
        symbol.endsWith("°C") && temperature === "F" ? symbol.replace("C", "F") : units === "US" ? us : undefined;
      const [swapped] = (wanted === undefined ? undefined : parseUnit(wanted))?.terms ?? [];
      return swapped ? { unit: swapped.unit, power: term.power } : term;
    }),
  );
}
