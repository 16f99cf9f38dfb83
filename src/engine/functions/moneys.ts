import { breakEvenCount } from "../../accounts/break-even";
import { priceForMargin, pricePoint } from "../../accounts/price";
import { roundMoney } from "../../core/money";
import { ok } from "../../core/problem";
import { type FunctionDeclaration, numbers } from "./declare";

const rate = (name: string, what: string) => ({ name, what, type: "number", min: 0, below: 1, default: 0 }) as const;

export const MONEY_FUNCTIONS: readonly FunctionDeclaration[] = [
  {
    name: "MONEY",
    family: "Money",
    summary: "An amount rounded to the coin, exactly half a coin up. The sheets themselves keep every digit.",
    parameters: [
      { name: "amount", what: "amount to round", type: "number", unit: "¤" },
      {
        name: "digits",
        what: "decimal places of the currency",
        type: "number",
        whole: true,
        min: 0,
        max: 4,
        default: 2,
      },
    ],
    unit: "¤",
    examples: [
      { formula: "MONEY(1.005)", gives: 1.01 },
      { formula: "MONEY(0.285)", gives: 0.29 },
    ],
    source: "Council Regulation (EC) 1103/97, article 5: exactly half goes up",
    run: numbers((amount, digits) => ok(roundMoney(amount, digits))),
  },
  {
    name: "PRICE_FOR_MARGIN",
    family: "Money",
    summary: "The price, tax included, that leaves a wanted margin on the price without tax, after fees.",
    parameters: [
      { name: "cost", what: "what the piece costs", type: "number", unit: "¤", min: 0 },
      { name: "margin", what: "share of the price without tax to be left", type: "number", below: 1 },
      rate("fee_rate", "fee as a share of the price paid"),
      { name: "fee_fixed", what: "fixed fee a sale", type: "number", unit: "¤", min: 0, default: 0 },
      rate("tax", "VAT or sales tax, as a share of the price without it"),
    ],
    unit: "¤",
    examples: [{ formula: "PRICE_FOR_MARGIN(144,0.4)", gives: 240, within: 1e-12 }],
    source: "cost 144 is 60 % of 240: Saylor Academy, Managerial Accounting (2012), 7.7",
    run: numbers(priceForMargin),
  },
  {
    name: "PRICE_POINT",
    family: "Money",
    summary: "The next price you would put on a piece, at or above a price: a multiple of a step, or one that ends so.",
    parameters: [
      { name: "price", what: "price that is needed", type: "number", unit: "¤", min: 0 },
      { name: "points", what: "none, “steps of 5”, “ends in .90” …, as on the Edition sheet", type: "text" },
      { name: "step", what: "the step, where it is of your own", type: "number", unit: "¤", above: 0, default: 1 },
    ],
    unit: "¤",
    examples: [
      { formula: `PRICE_POINT(91.2,"steps of 5")`, gives: 95 },
      { formula: `PRICE_POINT(91.91,"ends in .90")`, gives: 92.9 },
      { formula: `PRICE_POINT(91.2,"steps of my own",2.5)`, gives: 92.5 },
    ],
    source: "rounded up, so that the margin asked for holds: common practice, no source",
    run: (price, points, step) => pricePoint(Number(price), String(points), Number(step)),
  },
  {
    name: "BREAK_EVEN",
    family: "Money",
    summary: "How many pieces must be sold before the fixed costs are earned.",
    parameters: [
      { name: "fixed", what: "costs that do not depend on the number", type: "number", unit: "¤", min: 0 },
      { name: "price", what: "what a piece brings in", type: "number", unit: "¤", min: 0 },
      { name: "variable", what: "what a piece costs", type: "number", unit: "¤", min: 0 },
    ],
    unit: "pieces",
    examples: [{ formula: "BREAK_EVEN(18000,100,20)", gives: 225 }],
    source: "OpenStax, Principles of Accounting 2, 3.2",
    run: numbers(breakEvenCount),
  },
];
