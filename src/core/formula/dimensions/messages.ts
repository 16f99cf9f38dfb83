// What is said of units that don't fit: both sides named, their units, and where.

import type { Workbook } from "../../document/workbook";
import { type Problem, problem } from "../../problem";
import type { FormulaContext } from "../formula-check";
import type { Expression } from "../tree";
import { readableFormula } from "../typed-formula";
import { type Amount, describeAmount } from "./measure";

/** A part of a formula and the amount it comes to. */
export type AmountSide = readonly [Expression, Amount];

/** Puts the findings of one formula in words. */
export class DimensionMessages {
  private readonly book: Workbook;
  private readonly context: FormulaContext;
  private readonly formula: string;

  constructor(book: Workbook, context: FormulaContext, formula: string) {
    this.book = book;
    this.context = context;
    this.formula = formula;
  }

  readings(part: Expression): Problem {
    return problem({
      code: "units.readings",
      where: this.at(part),
      found: "two temperatures added",
      allowed: "a temperature and a difference",
      fix: "The mean of temperatures is AVERAGE; how far they lie apart is their difference.",
    });
  }

  power(part: Expression, base: Amount): Problem {
    return problem({
      code: "units.power",
      where: this.at(part),
      found: this.described(base),
      allowed: "a power of it that leaves whole powers of its units, such as 2",
    });
  }

  unlike(part: Expression, [left, a]: AmountSide, [right, b]: AmountSide, where: string): Problem {
    return problem({
      code: "units.unlike",
      where: this.at(part),
      found: `${this.described(a)} and ${this.described(b)}`,
      allowed: `amounts of one kind ${where}`,
      fix: `${this.words(left)}: ${this.unitText(a)}; ${this.words(right)}: ${this.unitText(b)}.`,
    });
  }

  argument(part: Expression, [one, found]: AmountSide, wanted: Amount, what: string): Problem {
    return problem({
      code: "units.argument",
      where: this.at(part),
      found: this.described(found),
      allowed: `${this.described(wanted)} ${what}`,
      fix: `${this.words(one)}: ${this.unitText(found)}.`,
    });
  }

  result(found: Amount, declared: Amount): Problem {
    return problem({
      code: "units.result",
      where: this.context.where,
      found: `${this.described(found)} as its result`,
      allowed: `${this.described(declared)}, as its unit says`,
      fix: "Change the formula, or the unit.",
    });
  }

  unlikeScale(part: Expression, kept: Amount, other: Amount): Problem {
    const times = (other.scales[0] ?? 1) / (kept.scales[0] ?? 1);
    return problem({
      code: "units.scale",
      where: this.at(part),
      found: `${this.unitText(kept)} and ${this.unitText(other)}`,
      allowed: "the same unit on both sides",
      fix: `1 ${this.unitText(other)} is ${short(times)} ${this.unitText(kept)}: is that factor missing?`,
    });
  }

  /** Without a part it is the whole result. */
  wrongScale(part: Expression | undefined, found: Amount, wanted: Amount, what: string): Problem {
    const times = (wanted.scales[0] ?? 1) / (found.scales[0] ?? 1);
    const seem =
      times > 1
        ? `${short(times)} times too large: divide by ${short(times)}`
        : `${short(1 / times)} times too small: multiply by ${short(1 / times)}`;
    return problem({
      code: "units.scale",
      where: part ? this.at(part) : this.context.where,
      found: this.unitText(found),
      allowed: `${this.unitText(wanted)}${what === "" ? "" : ` ${what}`}`,
      fix: `The numbers seem ${seem}, unless that is meant.`,
    });
  }

  private described(amount: Amount): string {
    return describeAmount(amount, this.book.meta.currency);
  }

  private unitText({ unit }: Amount): string {
    return unit === "" ? "plain numbers" : unit.replaceAll("¤", this.book.meta.currency);
  }

  /** A part as the maker reads it, shortened. */
  private words(part: Expression): string {
    const text = readableFormula(this.book, this.context.sheet, this.formula.slice(part.start, part.end)).trim();
    return text.length > 60 ? `${text.slice(0, 59)}…` : text;
  }

  private at(part: Expression): string {
    return `${this.context.where}, at “${this.words(part)}”`;
  }
}

const short = (times: number) => String(Number(times.toPrecision(4)));
