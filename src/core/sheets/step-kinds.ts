// Every kind of step: the columns its group has on the Pieces sheet, and the cautions that go with it.
// To add a kind, add it here; Route, Pieces, templates and tests follow from this table.
import { STEP_KINDS } from "../document/sheet-keys";
import type { Column } from "../document/workbook";
import { choiceFrom, computed, computedMoney, computedText, numberFrom, numberInput, textInput } from "./column";

export { STEP_KINDS };
export type StepKind = (typeof STEP_KINDS)[number];

export interface StepKindRules {
  readonly title: string;
  readonly summary: string;
  /** The input whose entry says that a piece has had the step. */
  readonly doneColumn: string;
  /** The Route columns that mean something for this kind. */
  readonly routeColumns: readonly string[];
  readonly columns: (step: string) => readonly Column[];
}

/** True of a piece that had been lost before the step: it bears nothing of it. */
const lostBefore = (step: string) => `{lost_order}<{route[${step}]:order}`;
const blankUnless = (step: string, column: string, value: string) =>
  `=IF(OR({${step}.${column}}="",${lostBefore(step)}),"",${value})`;
const blankWith = (column: string, value: string) => `=IF({${column}}="","",${value})`;

function castColumns(step: string): readonly Column[] {
  return [
    numberInput(`${step}.slip`, "slip kept", "g", { step }),
    textInput(`${step}.mould`, "mould", { step }),
    computedMoney(`${step}.material`, "slip", blankUnless(step, "slip", `{${step}.slip}*{route[${step}]:per_gram}`), {
      step,
      words: "slip kept × price per gram of the slip",
    }),
    computedMoney(`${step}.wear`, "mould", blankWith(`${step}.material`, "mould_wear"), {
      step,
      words: "wear of a mould, a cast, as on the Edition sheet",
    }),
    computedMoney(`${step}.labour`, "labour", blankWith(`${step}.material`, `{route[${step}]:minutes}/60*wage`), {
      step,
      words: "minutes of the step on the Route sheet ÷ 60 × wage",
    }),
    computedMoney(
      `${step}.cost`,
      "cost",
      blankWith(
        `${step}.material`,
        `{${step}.material}+{${step}.wear}+{${step}.labour}+{route[${step}]:minutes}/60*overhead_hour`,
      ),
      { step, staysFolded: true, words: "slip + mould + labour + overhead for its minutes" },
    ),
  ];
}

function handColumns(step: string): readonly Column[] {
  return [
    numberInput(`${step}.minutes`, "time", "min", { step, max: 1440 }),
    computedMoney(`${step}.labour`, "labour", blankUnless(step, "minutes", `{${step}.minutes}/60*wage`), {
      step,
      words: "minutes ÷ 60 × wage",
    }),
    computedMoney(
      `${step}.cost`,
      "cost",
      blankWith(`${step}.labour`, `{${step}.labour}+{${step}.minutes}/60*overhead_hour`),
      { step, staysFolded: true, words: "labour + overhead for its minutes" },
    ),
  ];
}

const areaColumn = (step: string) =>
  numberFrom(`${step}.area`, "area", "cm²", blankWith(`${step}.coats`, `{route[${step}]:area}`), {
    step,
    words: "the area on the Route sheet, unless this piece has its own",
  });

const coatsColumn = (step: string) => numberInput(`${step}.coats`, "coats", "", { step, whole: true, max: 50 });

const coatLabour = (step: string, after: string) => [
  computedMoney(
    `${step}.labour`,
    "labour",
    blankUnless(step, "coats", `{${step}.coats}*{route[${step}]:minutes}/60*wage`),
    {
      step,
      words: "coats × minutes a coat ÷ 60 × wage",
    },
  ),
  computedMoney(
    `${step}.cost`,
    "cost",
    blankWith(after, `{${step}.material}+{${step}.labour}+{${step}.coats}*{route[${step}]:minutes}/60*overhead_hour`),
    { step, staysFolded: true, words: "material + labour + overhead for its minutes" },
  ),
];

function coatColumns(step: string): readonly Column[] {
  return [
    areaColumn(step),
    coatsColumn(step),
    computed(
      `${step}.grams`,
      "on piece",
      "g",
      blankUnless(step, "coats", `{${step}.area}*{${step}.coats}*{route[${step}]:laydown}`),
      { step, decimals: 1, words: "area × coats × dry grams laid down per cm² and coat" },
    ),
    computed(
      `${step}.used`,
      "used",
      "g",
      blankWith(
        `${step}.grams`,
        `COAT_GRAMS({${step}.area},{${step}.coats},{route[${step}]:laydown},{route[${step}]:transfer})`,
      ),
      { step, decimals: 1, words: "grams on the piece ÷ the share of the spray that lands on it" },
    ),
    computedMoney(
      `${step}.material`,
      "material",
      blankWith(`${step}.grams`, `{${step}.used}*{route[${step}]:per_gram}`),
      {
        step,
        words: "grams used × price per gram",
      },
    ),
    ...coatLabour(step, `${step}.grams`),
  ];
}

function metalColumns(step: string): readonly Column[] {
  return [
    areaColumn(step),
    coatsColumn(step),
    computed(
      `${step}.used`,
      "used",
      "g",
      blankUnless(
        step,
        "coats",
        `LUSTRE_GRAMS({${step}.area},{${step}.coats},{route[${step}]:laydown},{route[${step}]:waste})`,
      ),
      { step, decimals: 3, words: "area × coats × laydown ÷ (1 − what stays in the brush, the dish and the bottle)" },
    ),
    computed(
      `${step}.fine`,
      "fine metal",
      "g",
      blankWith(`${step}.used`, `FINE_METAL({${step}.used},{route[${step}]:fraction},{route[${step}]:carat})`),
      { step, decimals: 4, words: "preparation used × its metal content × carat ÷ 24" },
    ),
    computedMoney(
      `${step}.material`,
      "material",
      blankWith(`${step}.used`, `{${step}.used}*{route[${step}]:per_gram}`),
      {
        step,
        words: "grams of preparation used × price per gram",
      },
    ),
    ...coatLabour(step, `${step}.used`),
  ];
}

function firingColumns(step: string): readonly Column[] {
  const load = `{${step}.load}`;
  const weight = `SWITCH(PICK(${load},{firings:id},{firings:basis}),"weight",{kg},"shelf area",{foot},1)`;
  return [
    choiceFrom(`${step}.firing`, "firing", "firings:id", { step }),
    computedText(`${step}.load`, "in load", blankUnless(step, "firing", `{${step}.firing}`), {
      step,
      hidden: true,
      words: "the firing, if the piece was still there when it was fired",
    }),
    computedMoney(`${step}.cost`, "share", blankWith(`${step}.load`, `FIRING_SHARE(${load},${weight})`), {
      step,
      staysFolded: true,
      words: "cost of the firing, shared over the pieces really in it as the firing says",
    }),
  ];
}

const common = ["title", "needed", "loss", "rest", "seen_entered", "seen_lost"];

/** What the workbook knows of each kind of step. */
export const STEP_KIND_RULES: Readonly<Record<StepKind, StepKindRules>> = {
  cast: {
    title: "Cast",
    summary: "Slip poured into a mould, kept and drained.",
    doneColumn: "slip",
    routeColumns: [...common, "material", "minutes", "grams"],
    columns: castColumns,
  },
  hand: {
    title: "Work by hand",
    summary: "Throw, press, fettle, cut, dry, sand, mask, wipe, inspect or pack.",
    doneColumn: "minutes",
    routeColumns: [...common, "minutes"],
    columns: handColumns,
  },
  coat: {
    title: "Coat",
    summary: "Slip, underglaze or glaze, by spray, brush or dip.",
    doneColumn: "coats",
    routeColumns: [...common, "material", "minutes", "area", "coats", "laydown", "transfer"],
    columns: coatColumns,
  },
  metal: {
    title: "Lustre",
    summary: "A precious-metal preparation, laid on by brush or spray.",
    doneColumn: "coats",
    routeColumns: [...common, "material", "minutes", "area", "coats", "laydown", "waste"],
    columns: metalColumns,
  },
  firing: {
    title: "Firing",
    summary: "Bisque, glaze or low firing; a row on the Firings sheet holds what it took.",
    doneColumn: "firing",
    routeColumns: [...common, "kiln", "programme"],
    columns: firingColumns,
  },
};

/** Whether a text is a kind of step. */
export function isStepKind(text: unknown): text is StepKind {
  return (STEP_KINDS as readonly unknown[]).includes(text);
}
