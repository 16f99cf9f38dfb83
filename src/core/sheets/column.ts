// Short ways to write a column down.
import type { Column } from "../document/workbook";

type Extra = Partial<Omit<Column, "key" | "title" | "unit" | "kind" | "type" | "formula">>;

/** A column that takes a number of 0 or more unless `extra` says otherwise. */
export function numberInput(key: string, title: string, unit: string, extra: Extra = {}): Column {
  return { key, title, unit, kind: "input", type: "number", min: 0, ...extra };
}

/** A number that starts from a formula and may be typed over. */
export function numberFrom(key: string, title: string, unit: string, formula: string, extra: Extra = {}): Column {
  return { key, title, unit, kind: "input", type: "number", min: 0, formula, ...extra };
}

export function textInput(key: string, title: string, extra: Extra = {}): Column {
  return { key, title, unit: "", kind: "input", type: "text", ...extra };
}

export function dateInput(key: string, title: string, extra: Extra = {}): Column {
  return { key, title, unit: "", kind: "input", type: "date", ...extra };
}

export function timeInput(key: string, title: string, extra: Extra = {}): Column {
  return { key, title, unit: "", kind: "input", type: "time", ...extra };
}

export function choiceInput(key: string, title: string, choices: readonly string[], extra: Extra = {}): Column {
  return { key, title, unit: "", kind: "input", type: "choice", choices, ...extra };
}

/** A choice among the rows of another sheet, `from` as `sheet:column`. */
export function choiceFrom(key: string, title: string, from: string, extra: Extra = {}): Column {
  return { key, title, unit: "", kind: "input", type: "choice", from, ...extra };
}

/** A computed text, such as an outcome. */
export function computedText(key: string, title: string, formula: string, extra: Extra = {}): Column {
  return { key, title, unit: "", kind: "computed", type: "text", formula, ...extra };
}

export function computed(key: string, title: string, unit: string, formula: string, extra: Extra = {}): Column {
  return { key, title, unit, kind: "computed", type: "number", formula, ...extra };
}

/** A computed amount in the edition's currency; the unit `¤` is shown as its code. */
export function computedMoney(key: string, title: string, formula: string, extra: Extra = {}): Column {
  return computed(key, title, "¤", formula, { format: "money", ...extra });
}
