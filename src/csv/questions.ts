// The questions of an import, each with the options that answer it.
import { counted, plural } from "../core/counted";
import { LABEL_COLUMNS } from "../core/document/access";
import type { SheetKey, Workbook } from "../core/document/workbook";
import type { DateReading } from "./date-text";
import { lossesQuestion } from "./earlier-losses";
import { csvColumns, type HeaderMatch } from "./headers";
import type { FileCell, ImportOptions, ImportQuestion, Rejected } from "./import-options";
import type { DecimalReading } from "./number-text";
import type { SheetTable } from "./read";

/** What the questions are drawn from. */
export interface ImportFindings {
  readonly book: Workbook;
  readonly sheet: SheetKey;
  readonly table: SheetTable;
  readonly matches: readonly HeaderMatch[];
  readonly decimal: DecimalReading;
  readonly dates: DateReading;
  readonly rejected: readonly Rejected[];
  readonly options: ImportOptions;
}

/** Enough to see what is meant. */
const MOST_EXAMPLES = 5;

/** Everything an import has to ask, the most far-reaching first. */
export function questionsOf(findings: ImportFindings): readonly ImportQuestion[] {
  return [
    ...labelQuestion(findings),
    ...unitQuestions(findings),
    ...namelessQuestions(findings),
    ...repeatedQuestions(findings),
    ...twiceQuestion(findings),
    ...decimalQuestion(findings),
    ...thousandsQuestion(findings),
    ...datesQuestion(findings),
    ...percentQuestion(findings),
    ...zerosQuestion(findings),
    ...missingQuestion(findings),
    ...formulasQuestion(findings),
    ...lossesQuestion(findings.sheet, findings.matches, findings.options),
  ];
}

function examplesOf({ rejected }: ImportFindings, code: string): readonly FileCell[] {
  return rejected
    .filter((one) => one.code === code)
    .slice(0, MOST_EXAMPLES)
    .map(({ line, column, found }) => ({ line, column, found }));
}

function labelQuestion({ book, sheet, matches, options }: ImportFindings): ImportQuestion[] {
  if (matches.some((match) => match.kind === "label")) return [];
  const key = LABEL_COLUMNS[sheet];
  const name = csvColumns(book, sheet).find((entry) => entry.column.key === key)?.header ?? key;
  const answers = matches
    .filter((match) => match.kind === "unknown" && match.header !== "")
    .map(({ header }) => ({ label: header, options: { columns: { ...options.columns, [header]: key } } }));
  return [{ about: "label", text: `Which column of the file says “${name}”?`, examples: [], answers }];
}

function unitQuestions({ book, sheet, matches, options }: ImportFindings): ImportQuestion[] {
  return matches.flatMap((match): ImportQuestion[] => {
    if (match.kind !== "unit") return [];
    const ours = csvColumns(book, sheet).find((entry) => entry.column.key === match.column.key)?.header ?? "";
    const choose = (key: string) => ({ columns: { ...options.columns, [match.header]: key } });
    return [
      {
        about: "unit",
        text: `The file has “${match.header}”, the sheet has “${ours}”. Are the numbers meant as on the sheet?`,
        examples: [{ line: 1, column: match.header, found: match.header }],
        answers: [
          { label: `Yes, as “${ours}”`, options: choose(match.column.key) },
          { label: "No, leave the column out", options: choose("") },
        ],
      },
    ];
  });
}

/** Cells of a column that hold something, the first few. */
function valuesIn({ rows }: SheetTable, at: number, column: string): readonly FileCell[] {
  const examples: FileCell[] = [];
  for (const { line, cells } of rows) {
    const found = cells[at] ?? "";
    if (found.trim() !== "") examples.push({ line, column, found });
    if (examples.length >= MOST_EXAMPLES) break;
  }
  return examples;
}

function namelessQuestions({ table, matches, options }: ImportFindings): ImportQuestion[] {
  return matches.flatMap(({ at, header, kind }): ImportQuestion[] => {
    if (kind !== "unknown" || !table.nameless.includes(header)) return [];
    return [
      {
        about: "nameless",
        text: `A column of the file holds values and has no name (${header}). Choose above where it goes, or leave it out.`,
        examples: valuesIn(table, at, header),
        answers: [{ label: "Leave it out", options: { columns: { ...options.columns, [header]: "" } } }],
      },
    ];
  });
}

function repeatedQuestions({ table, matches, options }: ImportFindings): ImportQuestion[] {
  return matches.flatMap((match): ImportQuestion[] => {
    if (match.kind !== "twice") return [];
    const first = matches.find((one) => "column" in one && one.column.key === match.column.key);
    const textAt = (cells: readonly string[], at: number) => (cells[at] ?? "").trim();
    const differs = first && table.rows.find(({ cells }) => textAt(cells, first.at) !== textAt(cells, match.at));
    if (!first || !differs) return [];
    const takes = (taken: HeaderMatch, left: HeaderMatch) => ({
      label: `“${taken.header}”`,
      options: { columns: { ...options.columns, [taken.header]: match.column.key, [left.header]: "" } },
    });
    return [
      {
        about: "repeated",
        text: `Two columns of the file are for “${match.column.title}” and differ. Which counts?`,
        examples: [first, match].map(({ at, header }) => ({
          ...{ line: differs.line, column: header, found: differs.cells[at] ?? "" },
        })),
        answers: [takes(first, match), takes(match, first)],
      },
    ];
  });
}

function twiceQuestion(findings: ImportFindings): ImportQuestion[] {
  const examples = examplesOf(findings, "csv.differs");
  if (examples.length === 0) return [];
  return [
    {
      about: "twice",
      text: "Several lines are for one row and differ. Which counts?",
      examples,
      answers: [
        { label: "The first of them", options: { twice: "first" } },
        { label: "The last of them", options: { twice: "last" } },
      ],
    },
  ];
}

function decimalQuestion({ decimal }: ImportFindings): ImportQuestion[] {
  if (decimal.why !== "mixed" && decimal.why !== "unclear") return [];
  const text =
    decimal.why === "mixed"
      ? "Some numbers have a decimal point and others a decimal comma. Which is the decimal mark?"
      : "Is the mark in these numbers a decimal mark, or does it separate thousands?";
  return [
    {
      about: "decimal",
      text,
      examples: decimal.examples,
      answers: [
        { label: "1,234.5: the point is the decimal mark", options: { decimal: ".", grouped: true } },
        { label: "1.234,5: the comma is the decimal mark", options: { decimal: ",", grouped: true } },
      ],
    },
  ];
}

function thousandsQuestion(findings: ImportFindings): ImportQuestion[] {
  const examples = examplesOf(findings, "entry.ambiguous");
  if (examples.length === 0 || findings.options.grouped) return [];
  const other = findings.decimal.decimal === "," ? "point" : "comma";
  return [
    {
      about: "thousands",
      text: `Does the ${other} in these numbers separate thousands?`,
      examples,
      answers: [{ label: "Yes, it separates thousands", options: { grouped: true } }],
    },
  ];
}

function datesQuestion({ dates }: ImportFindings): ImportQuestion[] {
  if (dates.why !== "mixed" && dates.why !== "unclear") return [];
  const isShort = dates.examples.some(({ found }) => /\D\d\d\s*$/.test(found));
  return [
    {
      about: "dates",
      text:
        dates.why === "mixed"
          ? "Some dates have the day first and others the month. Which is meant?"
          : "Which comes first in these dates?",
      examples: dates.examples,
      answers: [
        { label: "The day: 31/12/2026", options: { dates: "dmy" } },
        { label: "The month: 12/31/2026", options: { dates: "mdy" } },
        ...(isShort ? [{ label: "The year: 26/12/31", options: { dates: "ymd" } } as const] : []),
      ],
    },
  ];
}

function percentQuestion(findings: ImportFindings): ImportQuestion[] {
  const examples = examplesOf(findings, "csv.percent");
  if (examples.length === 0) return [];
  return [
    {
      about: "percent",
      text: "Are these numbers percentages, or fractions of one?",
      examples,
      answers: [
        { label: "Percentages: 12.5 is 12.5 %", options: { percent: "percent" } },
        { label: "Fractions: 0.125 is 12.5 %", options: { percent: "fraction" } },
      ],
    },
  ];
}

function zerosQuestion(findings: ImportFindings): ImportQuestion[] {
  const examples = examplesOf(findings, "csv.zeros");
  if (examples.length === 0) return [];
  return [
    {
      about: "zeros",
      text: "These names differ from names on the sheet only by noughts in front. Are they the same?",
      examples,
      answers: [
        { label: "The same: 7 is 007", options: { zeros: "same" } },
        { label: "Different: 7 is not 007", options: { zeros: "different" } },
      ],
    },
  ];
}

function missingQuestion(findings: ImportFindings): ImportQuestion[] {
  const examples = examplesOf(findings, "csv.missing");
  if (examples.length === 0) return [];
  const count = findings.rejected.filter((one) => one.code === "csv.missing").length;
  return [
    {
      about: "missing",
      text: `The sheet has no row for ${counted(count, "line")} of the file. Add ${plural(count, "it", "them")}?`,
      examples,
      answers: [{ label: "Add", options: { addMissing: true } }],
    },
  ];
}

function formulasQuestion(findings: ImportFindings): ImportQuestion[] {
  const examples = examplesOf(findings, "csv.formula");
  if (examples.length === 0) return [];
  return [
    {
      about: "formulas",
      text: "These cells hold formulas typed by hand. Put the numbers of the file in their place?",
      examples,
      answers: [{ label: "Put the numbers there", options: { replaceFormulas: true } }],
    },
  ];
}
