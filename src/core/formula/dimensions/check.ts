// Whether the units of a formula fit: only like is added to like or compared with it, and the result is of the kind that its
// column's unit says. A wrong dimension is refused; a factor that seems to be missing (60, 1000) is only a doubt.

import type { Workbook } from "../../document/workbook";
import type { Problem } from "../../problem";
import { eachSteps } from "../../sheets/each-step";
import { PLAIN, sameDimension } from "../../units/dimension";
import { readFormula } from "../formula";
import type { FormulaCheck, FormulaContext, FormulaFindings } from "../formula-check";
import type { BinarySign, Expression } from "../tree";
import { type Amount, COUNT, commonScales, inUnit, literal, type Measure, OPEN, timesAmount, toPower } from "./measure";
import { type AmountSide, DimensionMessages } from "./messages";
import { measureOfName, measureOfReference } from "./read";
import { branchesOf, unitRule } from "./rules";

/** What a function of ours takes and gives, in units: "any", "as the …" for a parameter, or a unit. */
export interface UnitSignature {
  readonly name: string;
  readonly parameters: readonly { readonly name: string; readonly type: string; readonly unit?: string }[];
  readonly unit: string;
}

/** A check of units that knows the functions of `signatureOf`. */
export function unitCheck(signatureOf: (name: string) => UnitSignature | undefined): FormulaCheck {
  return (book, context, formula) => new Reading(book, context, formula, signatureOf).findings();
}

type Side = readonly [Expression, Measure];

/** One formula, read once from the leaves up. */
class Reading {
  private readonly book: Workbook;
  private readonly context: FormulaContext;
  private readonly formula: string;
  private readonly signatureOf: (name: string) => UnitSignature | undefined;
  private readonly messages: DimensionMessages;
  private readonly problems: Problem[] = [];
  private readonly doubts: Problem[] = [];

  constructor(
    book: Workbook,
    context: FormulaContext,
    formula: string,
    signatureOf: (name: string) => UnitSignature | undefined,
  ) {
    this.book = book;
    this.context = context;
    this.formula = formula;
    this.signatureOf = signatureOf;
    this.messages = new DimensionMessages(book, context, formula);
  }

  findings(): FormulaFindings {
    const tree = readFormula(this.formula, eachSteps(this.book));
    // What is no formula is refused elsewhere, with its reason.
    if (!tree.ok) return { problems: [], doubts: [] };
    const declared = this.context.unit === undefined ? OPEN : inUnit(this.context.unit);
    const found = this.measure(tree.value, declared.kind === "open");
    if (this.problems.length === 0) this.checkResult(found, declared);
    return { problems: this.problems, doubts: this.problems.length > 0 ? [] : this.doubts };
  }

  /** `isOpen` where the part may be of several kinds at once, because nothing depends on which. */
  private measure(part: Expression, isOpen = false): Measure {
    switch (part.kind) {
      case "number":
        return part.value === 0 ? OPEN : literal(part.value);
      case "name":
        return measureOfName(this.book, part.name);
      case "reference":
        return measureOfReference(this.book, part.to, this.context.sheet, this.context.row);
      case "unary": {
        const of = this.measure(part.of, isOpen);
        return of.kind === "amount" && of.literal !== undefined && part.sign === "-" ? literal(-of.literal) : of;
      }
      case "percent": {
        const of = this.measure(part.of);
        return of.kind === "amount" && of.literal !== undefined ? literal(of.literal / 100) : of;
      }
      case "binary":
        return this.binary(part);
      case "call":
        return this.call(part, isOpen);
      default:
        return OPEN;
    }
  }

  private binary(part: Extract<Expression, { kind: "binary" }>): Measure {
    const left: Side = [part.left, this.measure(part.left)];
    const right: Side = [part.right, this.measure(part.right)];
    switch (part.sign) {
      case "&":
        return OPEN;
      case "+":
      case "-":
        return this.sum(part, left, right);
      case "*":
      case "/":
        return this.product(left[1], right[1], part.sign === "*" ? 1 : -1);
      case "^":
        return this.power(part, left[1], right[1]);
      default:
        this.alike(part, [left, right], `on both sides of ${part.sign}`);
        return OPEN;
    }
  }

  private sum(part: Extract<Expression, { kind: "binary" }>, left: Side, right: Side): Measure {
    const [a, b] = [left[1], right[1]];
    if (a.kind === "amount" && b.kind === "amount" && a.literal !== undefined && b.literal !== undefined)
      return literal(part.sign === "+" ? a.literal + b.literal : a.literal - b.literal);
    const degrees = degreesOfSum(part.sign, a, b);
    if (degrees === "refused") {
      this.problems.push(this.messages.readings(part));
      return OPEN;
    }
    const either = (side: Side): Side => [
      side[0],
      side[1].kind === "amount" ? { ...side[1], degrees: "either" } : side[1],
    ];
    const sum = this.alike(part, [either(left), either(right)], `on both sides of ${part.sign}`);
    return sum.kind === "amount" ? { ...sum, degrees } : sum;
  }

  private product(left: Measure, right: Measure, power: 1 | -1): Measure {
    // A factor that is not known leaves the product open.
    return left.kind === "amount" && right.kind === "amount" ? timesAmount(left, right, power) : OPEN;
  }

  private power(part: Expression, base: Measure, power: Measure): Measure {
    if (base.kind === "open" || power.kind === "open") return OPEN;
    if (sameDimension(base.dimension, PLAIN) && base.literal === undefined) return COUNT;
    const raised = power.literal === undefined ? undefined : toPower(base, power.literal);
    if (raised) return raised;
    if (base.literal !== undefined) return COUNT;
    this.problems.push(this.messages.power(part, base));
    return OPEN;
  }

  /** What several parts come to that must be of one kind unless `isOpen`; a bare number is of the kind of the others. */
  private alike(part: Expression, sides: readonly Side[], where: string, isOpen = false): Measure {
    const amounts = sides.flatMap(([one, measure]): AmountSide[] =>
      measure.kind === "amount" ? [[one, measure]] : [],
    );
    const [first, ...others] = amounts.filter(([, { literal: value }]) => value === undefined);
    // Of bare numbers alone nothing is known but that they are bare.
    if (!first)
      return amounts.length === 0 ? OPEN : sides.length === 1 ? (amounts[0]?.[1] ?? OPEN) : literal(Number.NaN);
    let [, kept] = first;
    for (const other of others) {
      if (!isSameKind(kept, other[1])) {
        if (!isOpen) this.problems.push(this.messages.unlike(part, first, other, where));
        return OPEN;
      }
      const scales = commonScales(kept.scales, other[1].scales);
      if (scales.length === 0) this.doubts.push(this.messages.unlikeScale(part, kept, other[1]));
      const degrees = kept.degrees === "either" ? other[1].degrees : kept.degrees;
      kept = { ...kept, degrees, scales: scales.length === 0 ? kept.scales : scales };
    }
    return kept;
  }

  private call(part: Extract<Expression, { kind: "call" }>, isOpen: boolean): Measure {
    const signature = this.signatureOf(part.name);
    if (signature) return this.ours(part, signature);
    const rule = unitRule(part.name);
    if (rule?.kind === "branches") return this.branches(part, rule.how, isOpen);
    const given = part.given.map((one): Side => [one, this.measure(one, rule === undefined)]);
    const at = (index: number) => given[index]?.[1] ?? OPEN;
    switch (rule?.kind) {
      case "alike":
        return this.alike(part, given, `in ${part.name}`);
      case "as": {
        const from = given.length > rule.at ? rule.at : 0;
        const sides = [from, ...(rule.with ?? [])].flatMap((index) => (given[index] ? [given[index]] : []));
        return this.alike(part, sides, `in ${part.name}`);
      }
      case "count":
        return COUNT;
      case "plain":
        for (const [one, measure] of given) this.mustBe(part, one, measure, COUNT, `in ${part.name}`);
        return COUNT;
      case "product":
        return this.productOf(part, given);
      case "quotient":
        return this.product(at(0), at(1), -1);
      case "power":
        return this.power(part, at(0), at(1));
      case "root":
        return this.power(part, at(0), literal(0.5));
      default:
        return OPEN;
    }
  }

  /** The product of a whole column is of no known kind, unless it is of plain numbers. */
  private productOf(part: Extract<Expression, { kind: "call" }>, given: readonly Side[]): Measure {
    let product: Measure = literal(1);
    for (const [one, measure] of given) {
      const isColumn = part.name === "PRODUCT" && one.kind === "reference" && one.to.kind === "column";
      if (isColumn) this.mustBe(part, one, measure, COUNT, "in PRODUCT of a column");
      product = this.product(product, measure, 1);
    }
    return product;
  }

  private branches(
    part: Extract<Expression, { kind: "call" }>,
    how: Parameters<typeof branchesOf>[0],
    isOpen: boolean,
  ): Measure {
    const { values, compared } = branchesOf(how, part.given.length);
    const sides = part.given.map((one, at): Side => [one, this.measure(one, isOpen && values.includes(at))]);
    const pick = (indices: readonly number[]) => indices.flatMap((at) => (sides[at] ? [sides[at]] : []));
    if (compared.length > 0) this.alike(part, pick([0, ...compared]), `in ${part.name}`);
    return this.alike(part, pick(values), `in ${part.name}`, isOpen);
  }

  /** A function of ours, by its declaration. */
  private ours(part: Extract<Expression, { kind: "call" }>, { name, parameters, unit }: UnitSignature): Measure {
    const given = part.given.map((one, at): Measure => {
      const parameter = parameters[at];
      const wanted = parameter ? wantedOf(parameter) : OPEN;
      const measure = this.measure(one, wanted.kind === "open");
      if (wanted.kind === "amount" && parameter)
        this.mustBe(part, one, measure, wanted, `for ${parameter.name} of ${name}`);
      return measure;
    });
    const like = /^as the (\w+)$/.exec(unit)?.[1];
    if (like === undefined) return inUnit(unit);
    return given[parameters.findIndex((parameter) => parameter.name === like)] ?? OPEN;
  }

  private mustBe(part: Expression, one: Expression, found: Measure, wanted: Amount, what: string): void {
    if (found.kind === "open" || found.literal !== undefined) return;
    if (!isSameKind(found, wanted)) this.problems.push(this.messages.argument(part, [one, found], wanted, what));
    else if (commonScales(found.scales, wanted.scales).length === 0)
      this.doubts.push(this.messages.wrongScale(part, found, wanted, what));
  }

  private checkResult(found: Measure, declared: Measure): void {
    if (found.kind === "open" || declared.kind === "open" || found.literal !== undefined) return;
    if (!isSameKind(found, declared)) this.problems.push(this.messages.result(found, declared));
    else if (commonScales(found.scales, declared.scales).length === 0)
      this.doubts.push(this.messages.wrongScale(undefined, found, declared, ""));
  }
}

function wantedOf({ type, unit }: UnitSignature["parameters"][number]): Measure {
  if (unit === "any") return OPEN;
  return unit === undefined ? (type === "number" ? COUNT : OPEN) : inUnit(unit);
}

function isSameKind(a: Amount, b: Amount): boolean {
  const isMixed = a.degrees !== "either" && b.degrees !== "either" && a.degrees !== b.degrees;
  return sameDimension(a.dimension, b.dimension) && !isMixed;
}

/** Readings differ by differences; two readings can't be added. */
function degreesOfSum(sign: BinarySign, a: Measure, b: Measure): Amount["degrees"] | "refused" {
  const of = (measure: Measure) =>
    measure.kind === "amount" && measure.literal === undefined ? measure.degrees : "either";
  const [left, right] = [of(a), of(b)];
  if (left === "reading" && right === "reading") return sign === "+" ? "refused" : "difference";
  if (left === "reading" || right === "reading") return "reading";
  return left === "either" ? right : left;
}
