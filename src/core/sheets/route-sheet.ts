// The Route sheet: a row a step, what is planned of it and what came of it.
import type { Column } from "../document/workbook";
import { choiceFrom, choiceInput, computed, computedMoney, numberInput, textInput } from "./column";
import { byKind, ofKinds, PRECIOUS, switchKind, USING_MATERIAL, USING_MOULDS, WORK } from "./kind-formulas";
import { LOSS_COLUMNS } from "./loss-columns";
import { PLAN_COLUMNS, SEEN_COLUMNS } from "./route-plan";
import { amountOf, KIND_INPUTS, STEP_KINDS } from "./step-kinds";

const fromMaterial = (column: string) => `=IF({material}="","",PICK({material},{materials:id},{materials:${column}}))`;

/** Which pieces a step is for; blank means all. */
const STEP_FOR = ["all", "special", "as needed"] as const;

/** Columns of the Route sheet. */
export const ROUTE_COLUMNS: readonly Column[] = [
  { key: "key", title: "key", unit: "", kind: "input", type: "text", hidden: true, unique: true },
  // Below 0 only in editions whose first steps were added by an earlier program.
  numberInput("order", "order", "", { hidden: true, min: -1_000_000 }),
  textInput("title", "Step", { required: true, unique: true, width: 170 }),
  choiceInput("kind", "kind", STEP_KINDS, { required: true }),
  textInput("method", "how", {}),
  choiceInput("who", "for", STEP_FOR, {
    words: "all pieces where it is blank; only the special ones; or those that need it",
  }),
  numberInput("needed", "expected for", "%", {
    format: "percent",
    below: 1,
    words:
      "of a step as needed: the share of the pieces coming this far that will need it, so that it is planned and priced",
  }),
  numberInput("loss", "planned loss", "%", { format: "percent", below: 1 }),
  choiceFrom("material", "material", "materials:id", {}),
  numberInput("minutes", "time", "min", { max: 1440, words: "minutes a piece; for coats, minutes a coat" }),
  ...KIND_INPUTS,
  numberInput("rest", "then rests", "days", {
    max: 365,
    decimals: 1,
    words: "days it must dry or rest before the next step",
  }),
  choiceFrom("kiln", "kiln", "kilns:id", {}),
  choiceFrom("programme", "programme", "programmes:programme", {}),
  computed("per_gram", "price", "¤/g", fromMaterial("per_gram"), {
    decimals: 5,
    words: "price per gram of the material",
  }),
  computed("fraction", "metal", "%", ofKinds(PRECIOUS, `PICK({material},{materials:id},{materials:fraction})`), {
    format: "percent",
    words: "metal content of the preparation",
  }),
  computed("carat", "carat", "", ofKinds(PRECIOUS, `PICK({material},{materials:id},{materials:carat})`), {
    words: "carat of that metal",
  }),
  ...PLAN_COLUMNS,
  computed("done", "had it", "pieces", "=COUNT({pieces:@.cost})", {
    format: "whole",
    words: "pieces that have had this step",
  }),
  computed("lost", "lost", "pieces", "=COUNT_BY({key},{pieces:lost_at})", {
    format: "whole",
    words: "pieces lost at this step",
  }),
  computed("entered", "entered", "pieces", "={done}+COUNT_BY({key},{pieces:lost_bare})", {
    format: "whole",
    words: "pieces that have had the step, or were lost while it was done",
  }),
  computed("rate", "actual loss", "%", `=IF({entered}=0,"",{lost}/{entered})`, {
    format: "percent",
    words: "lost ÷ entered",
  }),
  computed("grams_used", "material", "g", materialUsed(), { decimals: 1, words: "grams this step has used" }),
  computed("fine_used", "fine metal", "g", ofKinds(PRECIOUS, "SUM({pieces:@.fine})"), {
    decimals: 3,
    words: "grams of fine metal this step has used",
  }),
  computedMoney("material_cost", "material", ofKinds(USING_MATERIAL, "SUM({pieces:@.material})"), {
    words: "what its material has cost",
  }),
  computedMoney("labour_cost", "labour", ofKinds(WORK, "SUM({pieces:@.labour})"), {
    words: "what its labour has cost",
  }),
  computed("hours", "labour", "h", hoursWorked(), {
    decimals: 1,
    words: "what its labour has cost ÷ wage; without a wage, the minutes of the pieces that had it",
  }),
  computed("casts", "casts", "", ofKinds(USING_MOULDS, "COUNT({pieces:@.labour})"), { hidden: true, format: "whole" }),
  computedMoney("wear_cost", "moulds", ofKinds(USING_MOULDS, "SUM({pieces:@.wear})"), {
    words: "what it has worn off the moulds",
  }),
  computedMoney("overhead_cost", "overhead", `=IF({hours}="","",{hours}*overhead_hour)`, {
    words: "labour hours × overhead an hour",
  }),
  computedMoney("cost", "cost so far", "=SUM({pieces:@.cost})", { words: "what this step has cost over all pieces" }),
  computedMoney("lost_cost", "lost here", "=TOTAL_BY({key},{pieces:lost_at},{pieces:own})", {
    words: "what the pieces lost at this step had cost until then",
  }),
  computedMoney("reclaimed", "clay back", "=TOTAL_BY({key},{pieces:lost_at},{pieces:reclaim})", {
    words: "clay won back from the pieces lost at this step",
  }),
  computedMoney("scrapped", "scrap", "=TOTAL_BY({key},{pieces:lost_at},{pieces:scrap})", {
    words: "what the pieces lost at this step fetched as scrap",
  }),
  ...LOSS_COLUMNS,
  ...SEEN_COLUMNS,
];

function materialUsed(): string {
  return `=${byKind(({ material }) => material && `SUM({pieces:@.${material.usedColumn}})`, '""')}`;
}

function hoursWorked(): string {
  const of = (column: string) => `TOTAL_BY(0,{pieces:@.labour},{pieces:@.${column}})`;
  const minutes = switchKind((rules) => {
    const column = amountOf(rules)?.column;
    if (rules.time === undefined || column === undefined) return undefined;
    if (rules.time === "a piece") return "COUNT({pieces:@.labour})*{minutes}";
    return rules.time === "entered" ? of(column) : `${of(column)}*{minutes}`;
  });
  return `=IF({labour_cost}="","",IF(wage>0,{labour_cost}/wage,${minutes}/60))`;
}
