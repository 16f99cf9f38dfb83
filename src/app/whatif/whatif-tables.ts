// Answers as tables: shown beside the picture, and saved as a file with every digit.
import { cellKeyOf } from "../../core/document/access";
import type { Crossing } from "../../whatif/questions/break-even";
import type { Session } from "../edition/session";
import type { Answer, AnswerOf } from "./whatif-answers";
import { type AskCell, bareText, differenceText, valueText } from "./whatif-cells";

/** A number with the words it is shown in; a gap has no number. */
interface TableCell {
  readonly text: string;
  readonly value: number | string;
}

export interface AnswerTable {
  readonly title: string;
  /** With their units. */
  readonly columns: readonly string[];
  readonly rows: readonly (readonly TableCell[])[];
}

const titled = ({ title, unit }: AskCell) => (unit === "" ? title : `${title}, ${unit}`);
const textCell = (text: string): TableCell => ({ text, value: text });

/** The answer's numbers, in one table or several. */
export function tablesOf(session: Session, found: Answer): readonly AnswerTable[] {
  const cell = (of: AskCell, value: number): TableCell => ({ text: bareText(session, of, value), value });
  switch (found.kind) {
    case "losses":
    case "sweep":
      return sweepTables(found, cell);
    case "table":
      return [twoWayTable(found, cell)];
    case "ranking":
      return [rankingTable(session, found, cell)];
    case "breakEven":
      return [breakEvenTable(found, cell)];
    case "cases":
      return [casesTable(session, found, cell)];
    case "chance":
      return chanceTables(session, found);
  }
}

type Cell = (of: AskCell, value: number) => TableCell;

function sweepTables(found: AnswerOf<"losses"> | AnswerOf<"sweep">, cell: Cell): readonly AnswerTable[] {
  const lines = found.kind === "losses" ? found.lines : [found.line];
  return lines.map(({ of, sweep }) => ({
    title: of.title,
    columns: [titled(of), ...found.results.map(titled)],
    rows: Array.from(sweep.values, (x, at) => [
      cell(of, x),
      ...found.results.map((result, output) => cell(result, sweep.outputs[output]?.[at] ?? Number.NaN)),
    ]),
  }));
}

function twoWayTable({ aim, across, down, table }: AnswerOf<"table">, cell: Cell): AnswerTable {
  const width = table.across.values.length;
  return {
    title: titled(aim),
    columns: [`${titled(down)} \\ ${titled(across)}`, ...Array.from(table.across.values, (x) => cell(across, x).text)],
    rows: Array.from(table.down.values, (y, row) => [
      cell(down, y),
      ...Array.from({ length: width }, (_, at) => cell(aim, table.cells[row * width + at] ?? Number.NaN)),
    ]),
  };
}

function rankingTable(session: Session, found: AnswerOf<"ranking">, cell: Cell): AnswerTable {
  const { aim, inputs, ranking } = found;
  return {
    title: `What moves ${aim.title}`,
    columns: ["Input", "low", "high", `${titled(aim)}, at low`, "at high", "moves it by"],
    rows: ranking.ranked.flatMap(({ input, low, high, atLow, atHigh, effect }) => {
      const of = inputs.get(cellKeyOf(input));
      if (!of) return [];
      const moved = { text: differenceText(session, aim, effect).replace("+", ""), value: effect };
      return [[textCell(of.title), cell(of, low), cell(of, high), cell(aim, atLow), cell(aim, atHigh), moved]];
    }),
  };
}

function breakEvenTable({ of, aim, found }: AnswerOf<"breakEven">, cell: Cell): AnswerTable {
  const points = found.crossings.flatMap(
    (one): readonly { readonly x: number; readonly y: number; readonly label: string }[] => {
      if (one.kind === "met") return [{ ...one.at, label: "met" }];
      if (one.kind === "stretch")
        return [
          { ...one.from, label: "from here" },
          { ...one.to, label: "to here" },
        ];
      return [
        { ...one.before, label: "before the step" },
        { ...one.after, label: "after the step" },
      ];
    },
  );
  return {
    title: `Where ${aim.title} is met`,
    columns: [titled(of), titled(aim), "what it is"],
    rows: points.map(({ x, y, label }) => [cell(of, x), cell(aim, y), textCell(label)]),
  };
}

function casesTable(session: Session, { results, today, cases }: AnswerOf<"cases">, cell: Cell): AnswerTable {
  return {
    title: "Cases side by side",
    columns: ["", "Today", ...cases.flatMap(({ title }) => [title, `${title}: against today`])],
    rows: results.map((of, at) => [
      textCell(titled(of)),
      cell(of, today[at] ?? Number.NaN),
      ...cases.flatMap(({ values }) => {
        const value = values[at] ?? Number.NaN;
        const difference = value - (today[at] ?? Number.NaN);
        return [cell(of, value), { text: differenceText(session, of, difference), value: difference }];
      }),
    ]),
  };
}

function chanceTables(session: Session, { chance: found }: AnswerOf<"chance">): readonly AnswerTable[] {
  const number = (value: number, text: string): TableCell => ({ text, value });
  const money = (value: number) => number(value, moneyOf(session, value));
  const share = (value: number) => number(value, shareText(session, value));
  const count = (value: number, digits = 0) => number(value, countText(session, value, digits));
  const { chance, weighed } = found;
  return [
    {
      title: "Middle and 80 % band",
      columns: ["", "one in ten below", "middle", "one in ten above"],
      rows: [
        [textCell("Good pieces"), count(chance.good.low), count(chance.good.median), count(chance.good.high)],
        [textCell("Planned cost"), money(chance.cost.low), money(chance.cost.median), money(chance.cost.high)],
        [textCell("The run leaves"), money(chance.profit.low), money(chance.profit.median), money(chance.profit.high)],
      ],
    },
    {
      title: "Starts weighed",
      columns: [
        "Pieces to start",
        "chance of delivering",
        "good ones expected",
        "short",
        "over",
        "planned cost",
        "expected to be left",
      ],
      rows: weighed.map((one) => [
        count(one.starts),
        share(one.chance),
        count(one.expectedGood, 1),
        count(one.expectedShort, 2),
        count(one.expectedOver, 1),
        money(one.cost),
        money(one.profit),
      ]),
    },
  ];
}

const plain = (format: "money" | "percent" | "whole" | undefined, decimals: number | undefined): AskCell => ({
  ...{
    cell: { sheet: "edition", row: "", column: "" },
    title: "",
    group: "",
    unit: "",
    isWhole: false,
    scale: undefined,
  },
  spec: {
    kind: "computed",
    type: "number",
    ...(format ? { format } : {}),
    ...(decimals === undefined ? {} : { decimals }),
  },
});

/** An amount of money without its sign of currency. */
export function moneyOf(session: Session, value: number): string {
  return bareText(session, plain("money", undefined), value);
}

/** A share as a percentage. */
export function shareText(session: Session, value: number): string {
  return bareText(session, plain("percent", 1), value);
}

/** A count, with decimals where it is an expected one. */
export function countText(session: Session, value: number, digits = 0): string {
  return bareText(session, plain(undefined, digits), value);
}

/** What a crossing says. */
export function crossingText(session: Session, { of, aim }: AnswerOf<"breakEven">, crossing: Crossing): string {
  const at = (x: number) => preciseText(session, of, x);
  const is = (y: number) => valueText(session, aim, y);
  switch (crossing.kind) {
    case "met":
      return `${of.title} ${at(crossing.at.x)}`;
    case "stretch":
      return `from ${at(crossing.from.x)} to ${at(crossing.to.x)}`;
    case "step":
      return `between ${at(crossing.before.x)} and ${at(crossing.after.x)}: there it steps from ${is(crossing.before.y)} to ${is(crossing.after.y)} and is never just that`;
  }
}

/** A found value with two more digits than its cell shows. */
export function preciseText(session: Session, of: AskCell, value: number): string {
  if (of.isWhole) return valueText(session, of, value);
  const { format, decimals = 1, ...rest } = of.spec;
  const spec =
    format === "percent"
      ? { ...of.spec, decimals: decimals + 1 }
      : format === "money"
        ? { ...rest, decimals: session.digits }
        : of.spec;
  return valueText(session, { ...of, spec }, value);
}
