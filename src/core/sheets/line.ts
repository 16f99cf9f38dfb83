// How a line of the Edition and Results sheets is written down: a name, a value with its rules, its unit and a note.
import type { CellSpec, Row } from "../document/workbook";

interface Line {
  readonly id: string;
  readonly label: string;
  readonly unit: string;
  readonly note?: string;
  readonly value?: number | string;
  readonly line: CellSpec;
}

function toRow({ id, label, unit, note, value, line }: Line): Row {
  const cells: Record<string, string | number> = { label, unit };
  if (note) cells.note = note;
  if (value !== undefined) cells.value = value;
  return { id, cells, line };
}

type Limits = Partial<Omit<CellSpec, "kind" | "type">>;
export const input = (
  id: string,
  label: string,
  unit: string,
  value: number,
  limits: Limits = {},
  note?: string,
): Row =>
  toRow({
    id,
    label,
    unit,
    value,
    line: { kind: "input", type: "number", min: 0, ...limits },
    ...(note ? { note } : {}),
  });
/** A number that may be left out. */
export const optional = (id: string, label: string, unit: string, limits: Limits, note: string): Row =>
  toRow({ id, label, unit, note, line: { kind: "input", type: "number", min: 0, ...limits } });
/** One of a few words. */
export const choice = (id: string, label: string, choices: readonly string[], value: string, note?: string): Row =>
  toRow({
    ...{ id, label, unit: "", value },
    line: { kind: "input", type: "choice", choices: [...choices], required: true },
    ...(note ? { note } : {}),
  });
export const result = (
  id: string,
  label: string,
  unit: string,
  formula: string,
  note: string,
  more: Limits = {},
): Row => toRow({ id, label, unit, note, line: { kind: "computed", type: "number", formula, words: note, ...more } });

export const money = { format: "money" } as const;
export const percent = { format: "percent", below: 1 } as const;
export const wholeNumber = { format: "whole" } as const;

/** Special pieces to deliver, at most all. */
export const SPECIALS = "MIN(special_wanted,wanted)";
const YIELD_OF_SPECIAL = "YIELD_CHAIN({route:loss_special})";
/** Wanted pieces and yields of both tiers, as the functions on starts take them. */
export const TIER_PLAN = `wanted-${SPECIALS},${SPECIALS},YIELD_CHAIN({route:loss_all}),${YIELD_OF_SPECIAL}`;
/** What the losses leave of the pieces wanted, each tier by its own steps. */
export const YIELD_OF_WANTED = `YIELD_CHAIN({route:loss_all})*IF(wanted=0,1,wanted/(wanted-${SPECIALS}+${SPECIALS}/${YIELD_OF_SPECIAL}))`;

/** The sum of a column over the pieces of one outcome. */
export const byOutcome = (outcome: string, column: string) =>
  `TOTAL_BY("${outcome}",{pieces:outcome},{pieces:${column}})`;
/** How many pieces have one outcome. */
export const countOf = (outcome: string) => `COUNT_BY("${outcome}",{pieces:outcome})`;
/** The value of another Results line. */
export const atLine = (id: string) => `{results[${id}]:value}`;
