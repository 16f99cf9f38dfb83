// What the Route sheet plans of a run, step by step, and what has been seen of each step's losses, earlier editions too.
// Steps for special pieces enter with the share of special pieces, steps as needed with the share expected to need them.
import type { Column } from "../document/workbook";
import { computed, computedMoney, numberInput } from "./column";
import { byKind, FIRING_KINDS, isNoneOf, isOneOf, MAKING, PRECIOUS, USING_MOULDS } from "./kind-formulas";
import { LOADING_IN_PLAN, PLANNED_WEAR } from "./overhead-lines";
import { GIVEN_BACK, STAGE_COLUMNS } from "./stage-columns";
import { amountOf } from "./step-kinds";
import { UNFITTED_SPREAD } from "./stock-sheets";

const hidden = { hidden: true } as const;
const isForAll = `{who}<>"special",{who}<>"as needed"`;
const before = (column: string) => `=KEPT_BEFORE({order},{route:order},{route:${column}})`;
const upTo = (column: string) => `SUM_UP_TO({order},{route:order},{route:${column}})`;
const ofKiln = (column: string) => `PICK({kiln},{kilns:id},{kilns:${column}})`;
/** The share of the pieces coming to a step that has it: all of them, but at a step as needed those expected to need it. */
const OF_ALL = `IF({who}="as needed",{needed}*1,1)`;
/** Share of special pieces among those that come to a step for all. */
const SPECIAL_NOW = "IF(special_share=0,0,special_share*{kept_special}/(1-special_share+special_share*{kept_special}))";

const isFiring = isOneOf(FIRING_KINDS);
/** True where no load can be planned: at what is no firing, and where no kiln is named. */
const hasNoKiln = `OR(${isNoneOf(FIRING_KINDS)},{kiln}="")`;

/** How many times the minutes of the Route a piece takes. */
const times = byKind((rules) => {
  const amount = amountOf(rules);
  return amount && typeof rules.time === "object" ? `{${amount.usual}}*1` : undefined;
}, "1");

function materialOfPiece(): string {
  const material = `IF(OR({per_gram}="",{grams_each}=""),0,{grams_each}*{per_gram})`;
  const mould = `IF(${isOneOf(USING_MOULDS)},${PLANNED_WEAR},0)`;
  return `=IF(${isFiring},"",${material}+${mould})`;
}

/** What a piece takes of a column on its way, at a step for all: at a step as needed, the expected share of it. */
const forAll = (column: string) => `=IF(OR({who}="special",{${column}}=""),0,${OF_ALL}*{${column}})`;

const HAS_NO_MODEL = `OR({programme}="",${ofKiln("brick")}="")`;

function energyOfLoad(): string {
  const rule = `DUTY_KWH(${ofKiln("kw")},${ofKiln("hours")},${ofKiln("duty")})`;
  const model = `PROGRAMME_KWH({kiln},{programme},{room}*piece_kg,0,IF({fired}=1,0.5,0))`;
  return `=IF(${hasNoKiln},"",IF(${HAS_NO_MODEL},${rule},${model}))`;
}

function costOfStep(): string {
  const load = `{load_kwh}*tariff+${ofKiln("wear")}+loading_minutes/60*(wage+${LOADING_IN_PLAN})`;
  return `=IF(${isFiring},IF({plan_loads}="",0,{plan_loads}*(${load})),{plan_entries}*{cost_each})`;
}

/** Columns of the Route sheet that plan a run of as many pieces as the Edition sheet says to start. */
export const PLAN_COLUMNS: readonly Column[] = [
  computed("loss_all", "loss of all", "", `=IF({who}="special",0,${OF_ALL}*{loss})`, hidden),
  computed("loss_special", "loss of special pieces", "", `=IF({who}="special",{loss}*1,0)`, hidden),
  computed("kept_all", "kept until here", "", before("loss_all"), hidden),
  computed("kept_special", "special ones kept until here", "", before("loss_special"), hidden),
  computed("fires", "fires", "", `=IF(${isFiring},1,0)`, hidden),
  computed("fired", "firings up to here", "", `=${upTo("fires")}`, hidden),
  computed("grams_each", "grams a piece", "g", `=${byKind(({ material }) => material?.planned, '""')}`, hidden),
  computed("hours_each", "hours a piece", "h", `=IF(${isFiring},"",{minutes}/60*${times})`, hidden),
  computedMoney("material_each", "material a piece", materialOfPiece(), { ...hidden, words: "material and moulds" }),
  computedMoney(
    "cost_each",
    "cost a piece",
    `=IF(${isFiring},"",{material_each}+{hours_each}*(wage+overhead_normal))`,
    hidden,
  ),
  computedMoney("material_all", "material a piece, for all", forAll("material_each"), hidden),
  computed("hours_all", "hours a piece, for all", "h", forAll("hours_each"), hidden),
  computed("room", "room a load", "pieces", `=IF(${hasNoKiln},"",KILN_ROOM({kiln},piece_foot,piece_height))`, {
    ...hidden,
    format: "whole",
    words: "pieces its kiln takes: by count, shelf area, height and levels",
  }),
  computed("load_kwh", "energy a load", "kWh", energyOfLoad(), { ...hidden, words: "energy of a full load" }),
  computed(
    "plan_entries",
    "enter",
    "pieces",
    `=${OF_ALL}*starts*{kept_all}*IF({who}="special",special_share*{kept_special},1-special_share+special_share*{kept_special})`,
    {
      decimals: 1,
      words:
        "pieces to start × what the planned losses of the steps before leave of them; at a step as needed, the expected share of those",
    },
  ),
  computed("plan_lost", "lost", "pieces", "={plan_entries}*{loss}", {
    decimals: 1,
    words: "pieces that enter × planned loss",
  }),
  computed("plan_loads", "loads", "", `=IF(${hasNoKiln},"",ROUNDUP(MAX(0,{plan_entries}/{room}-0.000000001),0))`, {
    format: "whole",
    words: "pieces that enter ÷ pieces its kiln takes, rounded up",
  }),
  computed("plan_grams", "material", "g", `=IF({grams_each}="","",{plan_entries}*{grams_each})`, {
    decimals: 1,
    width: 92,
    words: "pieces that enter × grams a piece",
  }),
  computed(
    "plan_fine",
    "fine metal",
    "g",
    `=IF(OR(${isNoneOf(PRECIOUS)},{fraction}=""),"",FINE_METAL({plan_grams},{fraction},{carat}))`,
    { decimals: 3, words: "planned grams × metal content × carat ÷ 24" },
  ),
  computed(
    "plan_hours",
    "labour",
    "h",
    `=IF(${isFiring},IF({plan_loads}="",0,{plan_loads}*loading_minutes/60),{plan_entries}*{hours_each})`,
    { decimals: 1, words: "pieces that enter × hours a piece; for a firing, loads × loading" },
  ),
  computed("plan_kwh", "energy", "kWh", `=IF({plan_loads}="","",{plan_loads}*{load_kwh})`, {
    decimals: 0,
    words: "loads × the energy of a full load, by the kiln's build and programme or by its plate",
  }),
  computed(
    "plan_give",
    "energy, give or take",
    "kWh",
    `=IF({plan_kwh}="","",{plan_kwh}*IF(${HAS_NO_MODEL},${UNFITTED_SPREAD},${ofKiln("spread")}))`,
    { decimals: 0, words: "how far the planned energy may be off, either way: energy × the kiln's give or take" },
  ),
  computedMoney("plan_cost", "cost", costOfStep(), { words: "material, moulds, labour, overhead and whole loads" }),
  computedMoney(
    "plan_each",
    "a piece",
    `=IF({plan_entries}>0,{plan_cost}/{plan_entries},IF(${isFiring},"",{cost_each}))`,
    { words: "planned cost of the step ÷ pieces that enter" },
  ),
  computedMoney("each_all", "a piece, for all", forAll("plan_each"), hidden),
  computedMoney("each_special", "a piece, special", `=IF(AND({who}="special",{plan_each}<>""),{plan_each},0)`, hidden),
  computedMoney(
    "clay_each",
    "clay a piece",
    `=IF(AND(${isOneOf(MAKING)},{per_gram}<>""),{grams_each}*{per_gram},0)`,
    hidden,
  ),
  computedMoney(
    "carried",
    "carried",
    `=IF(${OF_ALL}=0,"",${upTo("each_all")}+IF({who}="special",1,${SPECIAL_NOW})*${upTo("each_special")}+IF({plan_each}="",0,(1-${OF_ALL})*{plan_each}))`,
    { words: "what a piece has cost once it has had this step; on average, where only some are special" },
  ),
  computedMoney("loss_costs", "a loss costs", `=IF({carried}="","",{carried}-${GIVEN_BACK})`, {
    words: "what it carries, less the clay that comes back before its first firing or the scrap after it",
  }),
  computedMoney("plan_loss_cost", "losses cost", `=IF({loss_costs}="",0,{plan_lost}*{loss_costs})`, {
    words: "pieces the plan expects to lose here × what one loss here costs",
  }),
  ...STAGE_COLUMNS,
];

/** Columns of the Route sheet for what was seen of a step: this edition's own counts and those of earlier ones. */
export const SEEN_COLUMNS: readonly Column[] = [
  computed(
    "through",
    "through untouched",
    "",
    `=IF({who}="as needed",IF({done}=0,"",1-{done}/{come}),IF({entered}=0,"",1-{rate}))`,
    { ...hidden, words: "share that comes through the step neither lost nor reworked" },
  ),
  computed("through_all", "through, for all", "", `=IF({who}="special","",{through})`, hidden),
  computed("through_special", "through, special", "", `=IF({who}="special",{through},"")`, hidden),
  numberInput("seen_entered", "entered before", "pieces", {
    whole: true,
    words: "pieces that entered this step in earlier editions",
  }),
  numberInput("seen_lost", "lost before", "pieces", { whole: true, words: "those of them that were lost at it" }),
  computed("known_entered", "entered", "pieces", "={seen_entered}+{entered}", {
    format: "whole",
    words: "earlier editions and this one together",
  }),
  computed("known_lost", "lost", "pieces", "={seen_lost}+{lost}", {
    format: "whole",
    words: "earlier editions and this one together",
  }),
  computed("known_rate", "seen loss", "%", `=IF({known_entered}=0,"",{known_lost}/{known_entered})`, {
    format: "percent",
    words: "lost ÷ entered, earlier editions and this one together",
  }),
  ...(
    [
      ["known_low", "at least", "LOSS_LOW", "lowest loss that the counts still speak for, at 95 % (Wilson)"],
      ["known_high", "at most", "LOSS_HIGH", "highest loss that the counts still speak for, at 95 % (Wilson)"],
      ["exact_low", "exact, at least", "LOSS_LOW_EXACT", "the same, never less sure than 95 % (Clopper and Pearson)"],
      ["exact_high", "exact, at most", "LOSS_HIGH_EXACT", "the same, never less sure than 95 % (Clopper and Pearson)"],
    ] as const
  ).map(([key, title, name, words]) =>
    computed(key, title, "%", `=IF({known_entered}=0,"",${name}({known_lost},{known_entered},0.95))`, {
      format: "percent",
      words,
    }),
  ),
  computed("seen_special", "seen, special", "pieces", `=IF({who}="special",{known_entered},"")`, hidden),
  computed(
    "seen_special_kept",
    "seen kept, special",
    "",
    `=IF(AND({who}="special",{known_entered}>0),1-{known_rate},"")`,
    hidden,
  ),
  computed("seen_pieces", "seen, for all", "pieces", `=IF(AND(${isForAll}),{known_entered},"")`, hidden),
  computed("seen_kept", "seen kept, for all", "", `=IF(AND(${isForAll},{known_entered}>0),1-{known_rate},"")`, hidden),
];
