// What was seen, here and in earlier editions, held against the plan: in words, with how well it is known, and to be taken
// over one by one or together.

import { type Known, type Measured, meanAcross, rateAcross } from "../../ceramics/across";
import { counted, plural } from "../../core/counted";
import { type CellName, columnOf, rawAt, rowLabel } from "../../core/document/access";
import type { Operation } from "../../core/document/change";
import { isAllowed, takesEntry } from "../../core/document/entry";
import type { Row, SeenEdition, SeenStep, Workbook } from "../../core/document/workbook";
import { seenUntilNow } from "../../core/steps/seen";
import { textInUnit, unitOf } from "../edition/display";
import { showNumber } from "../edition/format";
import type { Session } from "../edition/session";
import { textWithUnit } from "../edition/text-with-unit";
import { elsewhereOf, withElsewhere } from "./seen-elsewhere";

/** How sure the intervals are. */
export const CONFIDENCE = 0.95;

/** A number of the plan of which something was seen. */
export interface SeenNumber {
  readonly cell: CellName;
  /** “Fettling took 16.2 min in 133 pieces; the plan says 14 min.” */
  readonly words: string;
  /** “15.8 to 16.6 min”; undefined where one piece says nothing of it. */
  readonly range: string | undefined;
  /** What would be planned, as it is shown. */
  readonly plannable: string;
  /** What the cell would hold. */
  readonly value: number;
  /** Editions it was seen in. */
  readonly editions: number;
  /** `takes`: the plan is outside of what was seen; `fits`: inside; `same`: it is as good as what was seen; `can't`: it can't be planned. */
  readonly stands: "takes" | "fits" | "same" | "can't";
  /** Why it is for information only, in words; absent where the plan can take it over. */
  readonly notPlannable?: string;
}

/** Everything that was seen of the numbers the plan asks for, in the order of the way; with other editions once they were looked at. */
export function seenNumbers(session: Session): readonly SeenNumber[] {
  const book = session.book.value;
  const seen = seenOfSteps(book, elsewhereOf(session).value?.seen ?? []);
  return book.sheets.route.rows.flatMap((row) => {
    const steps = seen.get(row.id) ?? [];
    return steps.length === 0 ? [] : numbersOf(session, row, steps);
  });
}

/** What each edition saw of a step, by the step; a step of another kind under the same id is another one. */
function seenOfSteps(book: Workbook, elsewhere: readonly SeenEdition[]): ReadonlyMap<string, readonly SeenStep[]> {
  const found = new Map<string, SeenStep[]>();
  const kinds = new Map(book.sheets.route.rows.map((row) => [row.id, row.cells.kind]));
  for (const { steps } of withElsewhere(seenUntilNow(book), elsewhere))
    for (const step of steps)
      if (kinds.get(step.step) === step.kind) found.set(step.step, [...(found.get(step.step) ?? []), step]);
  return found;
}

function numbersOf(session: Session, row: Row, steps: readonly SeenStep[]): readonly SeenNumber[] {
  const title = rowLabel("route", row);
  const count = (number: number, noun = "piece") => counted(number, noun);
  const rate = (column: string, counts: readonly Rate[], words: (lost: number, of: string) => string) => {
    const some = counts.filter(({ entered }) => entered > 0);
    const known = some.length === 0 ? undefined : rateAcross(some, CONFIDENCE);
    if (!known?.ok) return [];
    const [lost, entered] = [sum(some.map((one) => one.lost)), sum(some.map((one) => one.entered))];
    return seenNumber(session, row, column, known.value, some.length, () => words(lost, count(entered)));
  };
  const amount = (column: string, of: string, convert: (known: Known) => Known, words: AmountWords) => {
    const samples = steps.flatMap(({ amounts }) => amounts[of] ?? []);
    const known = samples.length === 0 ? undefined : meanAcross(samples, CONFIDENCE);
    if (!known?.ok) return [];
    const pieces = count(sum(samples.map((one: Measured) => one.count)));
    return seenNumber(session, row, column, convert(known.value), samples.length, (shown) =>
      words(title, shown, pieces),
    );
  };
  const needed = steps.flatMap((step) => (step.needed ? [{ entered: step.needed.came, lost: step.needed.had }] : []));
  return [
    ...rate("loss", steps, (lost, of) => `${title}: ${lost} of ${of} ${plural(lost, "was", "were")} lost`),
    ...(row.cells.who === "as needed"
      ? rate("needed", needed, (had, of) => `${title}: ${had} of ${of} needed it`)
      : []),
    ...AMOUNTS.flatMap(({ column, of, convert, words }) => amount(column, of, convert, words)),
  ];
}

type Rate = Pick<SeenStep, "entered" | "lost">;
type AmountWords = (title: string, shown: string, pieces: string) => string;

interface SeenAmount {
  /** The column of the Route that plans it. */
  readonly column: string;
  /** What was measured. */
  readonly of: string;
  readonly convert: (known: Known) => Known;
  readonly words: AmountWords;
}

const asIs = (known: Known) => known;
/** Grams used for each on the piece as the share of them that lands there, and as the share that does not. */
const landed = ({ value, low, high, between }: Known): Known => ({
  ...{ value: 1 / value, low: 1 / high, high: low > 0 ? 1 / low : 1, between },
});
const wasted = (known: Known): Known => {
  const { value, low, high, between } = landed(known);
  return { value: 1 - value, low: 1 - high, high: 1 - low, between };
};

const AMOUNTS: readonly SeenAmount[] = [
  {
    ...{ column: "minutes", of: "minutes", convert: asIs },
    words: (title, shown, pieces) => `${title} took ${shown} in ${pieces}`,
  },
  {
    ...{ column: "grams", of: "grams", convert: asIs },
    words: (title, shown, pieces) => `${title} kept ${shown} of slip in ${pieces}`,
  },
  {
    ...{ column: "coats", of: "coats", convert: asIs },
    words: (title, shown, pieces) => `${title} took ${shown} ${plural(Number(shown), "coat")} in ${pieces}`,
  },
  {
    ...{ column: "area", of: "area", convert: asIs },
    words: (title, shown, pieces) => `${title} covered ${shown} in ${pieces}`,
  },
  {
    ...{ column: "transfer", of: "usage", convert: landed },
    words: (title, shown, pieces) => `${title}: ${shown} of what was used landed on the piece, weighed for ${pieces}`,
  },
  {
    ...{ column: "waste", of: "usage", convert: wasted },
    words: (title, shown, pieces) => `${title}: ${shown} stayed in brush and dish, weighed for ${pieces}`,
  },
];

function seenNumber(
  session: Session,
  row: Row,
  key: string,
  known: Known,
  editions: number,
  words: (shown: string) => string,
): readonly SeenNumber[] {
  const book = session.book.value;
  const column = columnOf(book, "route", key);
  if (!column || !takesEntry("route", row, column)) return [];
  const cell: CellName = { sheet: "route", row: row.id, column: key };
  const value = column.whole ? Math.round(known.value) : tidy(known.value, column.format === "percent");
  const raw = rawAt(book, cell);
  const plan = typeof raw === "number" ? raw : raw === undefined ? 0 : undefined;
  const show = (amount: number) => textOf(session, cell, amount);
  // A count of its own may be between two whole ones.
  const shown = column.whole ? showNumber(known.value, 0, 1, session.formats.locale) : show(value);
  const says = raw === undefined ? "nothing" : plan === undefined ? "a formula" : show(plan);
  const isKnown = Number.isFinite(known.low) && Number.isFinite(known.high);
  const ends = [Math.max(0, known.low), known.high].map((end) => show(tidy(end, column.format === "percent")));
  const isRate = key === "loss" || key === "needed";
  const isWithin = plan === undefined || !isKnown || (plan >= known.low && plan <= known.high);
  // Nothing lost in a few pieces is no reason to plan for nothing.
  const isSame = (raw !== undefined && says === show(value)) || (isRate && value === 0 && isWithin);
  return [
    {
      ...{ cell, value, editions },
      plannable: show(value),
      words: `${words(shown)}${isRate ? ` (${shown})` : ""}; the plan says ${says}.`,
      range: isKnown ? ends.join(" to ") : undefined,
      stands: !isAllowed(book, column, value) ? "can't" : isSame ? "same" : isWithin ? "fits" : "takes",
    },
  ];
}

/** An amount of a cell as it is shown there, with its unit. */
function textOf(session: Session, cell: CellName, amount: number): string {
  const column = columnOf(session.book.value, cell.sheet, cell.column);
  if (!column) return String(amount);
  const text = textInUnit(session, column, column.unit, amount);
  return textWithUnit(session, text, column.format === "percent" ? "" : unitOf(session, cell));
}

/** To a hundredth of a percent, or three figures: finer than any count or watch can tell. */
const tidy = (value: number, isShare: boolean) =>
  isShare ? Math.round(value * 10_000) / 10_000 : Number(value.toPrecision(3));

/** Plans with numbers that were seen, as one step of the history. */
export function takeSeen(session: Session, numbers: readonly SeenNumber[]): boolean {
  const book = session.book.value;
  const operations = numbers
    .filter(({ stands, notPlannable }) => (stands === "takes" || stands === "fits") && !notPlannable)
    .map(({ cell, value }): Operation => ({ kind: "cell", ...cell, was: rawAt(book, cell), is: value }));
  const first = numbers[0];
  const what = numbers.length === 1 && first ? first.words.split(";")[0] : counted(operations.length, "number");
  const label = `Plan with what was seen: ${what}`.slice(0, 200);
  return session.commit({ label, operations });
}

const sum = (numbers: readonly number[]) => numbers.reduce((total, one) => total + one, 0);
