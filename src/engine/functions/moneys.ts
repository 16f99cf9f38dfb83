import { roundMoney } from "../../core/money";
import { ok } from "../../core/problem";
import { type FunctionDeclaration, numbers } from "./declare";

export const MONEY_FUNCTIONS: readonly FunctionDeclaration[] = [
  {
    name: "MONEY",
    family: "Money",
    summary: "An amount rounded half up, as it leaves the sheet. Amounts inside the sheet are not rounded.",
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
];
