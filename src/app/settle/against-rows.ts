// The causes between plan and run as a table: what was planned, what it was, what it came to, and the cells behind each number.
import { CAUSES, type Cause, type CauseGroup, type Variance } from "../../accounts/plan-causes";
import type { RoundedCause, RoundedVariances } from "../../accounts/variance-rounding";
import type { Session } from "../edition/session";
import { measureText, partName, signedMoney, verdictOf } from "./cause-sentences";
import { CAUSE_WORDS, cellOfCause, GROUP_TITLES } from "./cause-words";
import type { StoryNumber } from "./story";

/** A number of the table: as text where its cell is not there any more. */
export type TableNumber = StoryNumber | string;

export interface AgainstRow {
  readonly key: string;
  readonly cause: Cause;
  readonly title: string;
  /** What the cause is; blank for one of its parts. */
  readonly words: string;
  readonly planned: TableNumber;
  readonly real: TableNumber;
  readonly amount: TableNumber;
  readonly minor: number;
  readonly verdict: string;
  /** What it is made of; nothing where it is one thing. */
  readonly parts: readonly AgainstRow[];
}

/** Causes shown together, with their sum. */
export interface AgainstGroup {
  readonly group: CauseGroup;
  readonly title: string;
  readonly minor: number;
  readonly amount: string;
  readonly rows: readonly AgainstRow[];
}

/** The table, group by group in the fixed order. */
export function againstGroups(session: Session, { causes }: RoundedVariances): readonly AgainstGroup[] {
  const groups = [...new Set(causes.map(({ cause }) => CAUSES[cause]))];
  return groups.map((group): AgainstGroup => {
    const those = causes.filter(({ cause }) => CAUSES[cause] === group);
    const minor = those.reduce((sum, one) => sum + one.minor, 0);
    const rows = those.map((one) => causeRow(session, one));
    return { group, title: GROUP_TITLES[group], minor, amount: signedMoney(session, minor), rows };
  });
}

function causeRow(session: Session, { cause, minor, parts }: RoundedCause): AgainstRow {
  const { title, words, measure } = CAUSE_WORDS[cause];
  const moved = parts.filter((part) => part.minor !== 0);
  const only = moved.length === 1 ? moved[0] : undefined;
  const sum = (of: "planned" | "real") =>
    measure.isRate || parts.every((part) => part[of] === undefined)
      ? undefined
      : parts.reduce((total, part) => total + (part[of] ?? 0), 0);
  const whole: Variance = only ?? {
    ...{ cause, amount: 0 },
    ...(sum("planned") === undefined ? {} : { planned: sum("planned") ?? 0 }),
    ...(sum("real") === undefined ? {} : { real: sum("real") ?? 0 }),
  };
  const name = only ? partName(session, only.of) : "";
  const row = rowOf(session, cause, name === "" ? title : `${title}: ${name}`, whole, minor);
  return { ...row, words, parts: only ? [] : moved.map((part) => partRow(session, part)) };
}

const partRow = (session: Session, part: RoundedCause["parts"][number]): AgainstRow =>
  rowOf(session, `${part.cause} ${part.of}`, partName(session, part.of), part, part.minor);

function rowOf(session: Session, key: string, title: string, of: Variance, minor: number): AgainstRow {
  const book = session.book.value;
  const number = (text: string, which: 0 | 1): TableNumber => {
    const cell = text === "" ? undefined : cellOfCause(book, of, which);
    return cell ? { text, cell } : text;
  };
  const measured = (value: number | undefined) => (value === undefined ? "" : measureText(session, of.cause, value));
  return {
    ...{ key, title, cause: of.cause, words: "", minor, verdict: verdictOf(minor, of.cause), parts: [] },
    ...{ planned: number(measured(of.planned), 0), real: number(measured(of.real), 1) },
    amount: number(signedMoney(session, minor), 1),
  };
}
