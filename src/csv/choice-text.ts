// A choice among rows of another sheet is kept as a key and shown as a title; a file holds the title.
import { type Choice, choicesOf } from "../core/document/entry";
import type { CellSpec, Workbook } from "../core/document/workbook";

/** The choices of a cell, found by either side. */
export interface ChoiceTexts {
  /** What a file says for a kept value: its title, or the value itself where several have that title. */
  readonly textOf: (value: string) => string;
  /** The kept value for a title that only one choice has; undefined where there is none such. */
  readonly valueOfTitle: (text: string) => string | undefined;
}

/** Prepares the choices of a cell for a whole column. */
export function choiceTexts(book: Workbook, spec: CellSpec): ChoiceTexts {
  const choices = choicesOf(book, spec);
  const byTitle = new Map<string, Choice | undefined>();
  for (const choice of choices) {
    const title = sameTitle(choice.label);
    byTitle.set(title, byTitle.has(title) ? undefined : choice);
  }
  const titles = new Map(choices.map((choice) => [choice.value, choice.label]));
  return {
    textOf: (value) => {
      const title = titles.get(value);
      return title !== undefined && byTitle.get(sameTitle(title)) ? title : value;
    },
    valueOfTitle: (text) => byTitle.get(sameTitle(text))?.value,
  };
}

function sameTitle(title: string): string {
  return title.trim().toLowerCase();
}
