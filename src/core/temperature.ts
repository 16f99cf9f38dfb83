// Temperatures are kept in °C. A maker who thinks in °F sees and types °F.
import type { Column, Workbook } from "./workbook";

/** How numbers of a column are shown where that differs from how they are kept. */
export interface Scale {
  readonly unit: string;
  readonly toShown: (kept: number) => number;
  readonly toKept: (shown: number) => number;
}

// A converted number must come back as it was typed: 1922 °F is kept as 1050 °C and shown as 1922 again.
const tidy = (value: number) => Number(value.toPrecision(12));

const FAHRENHEIT: Scale = {
  unit: "°F",
  toShown: (celsius) => tidy(celsius * 1.8 + 32),
  toKept: (fahrenheit) => tidy((fahrenheit - 32) / 1.8),
};
const FAHRENHEIT_RATE: Scale = {
  unit: "°F/h",
  toShown: (rate) => tidy(rate * 1.8),
  toKept: (rate) => tidy(rate / 1.8),
};

/** The scale a column is shown in; undefined where it is shown as it is kept. */
export function scaleOf(book: Workbook, column: Pick<Column, "unit">): Scale | undefined {
  if (book.meta.temperature !== "F") return undefined;
  if (column.unit === "°C") return FAHRENHEIT;
  return column.unit === "°C/h" ? FAHRENHEIT_RATE : undefined;
}
