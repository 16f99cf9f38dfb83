// Numbers as a maker writes them. The only reader of them: what is typed, pasted and brought in from files goes through it.

/** The marks a maker's numbers are written with. */
export interface NumberMarks {
  readonly decimal: "." | ",";
  /** That the other mark is known to part thousands, so that 1,234 is not asked about. */
  readonly isGrouped?: boolean;
}

/** More characters than the longest double has when it is written out; longer text is not looked at. */
export const NUMBER_MOST = 400;

const BEGINS = /^[-+\u2212]?\s*[\d.,]/;
/** What nearly every number in a file is; a double has no more digits, so it can't grow beyond one. */
const PLAIN = /^-?\d{1,17}(?:\.\d{1,17})?$/;

/** What may stand between groups of digits, beside the other mark: spaces of every width, and apostrophes. */
const PARTING = " \u00a0\u2009\u202f'\u2019";

/**
 * A number as typed; "ambiguous" where a mark could be a decimal or a thousands mark; undefined where it is none. Marks
 * inside it count only between whole groups, in threes (1 234 567) or as lakh and crore (12,34,567); a % makes it a share,
 * and so does `as` "percent" without one.
 */
export function readNumber(
  typed: string,
  marks: NumberMarks,
  as: "number" | "percent" = "number",
): number | "ambiguous" | undefined {
  const text = typed.trim();
  if (text.length > NUMBER_MOST || !BEGINS.test(text)) return undefined;
  if (as === "number" && marks.decimal === "." && PLAIN.test(text)) return Number(text) + 0;
  const hasPercent = text.endsWith("%");
  const bare = hasPercent ? text.slice(0, -1).trimEnd() : text;
  const [, sign = "", body = "", power = "0"] = /^([-+\u2212]?)\s*([^eE]+)(?:[eE]([-+]?\d+))?$/.exec(bare) ?? [];
  const [whole = "", decimals = "", ...rest] = body.split(marks.decimal);
  if (rest.length > 0 || !/^\d*$/.test(decimals)) return undefined;
  const grouped = /^\d*$/.test(whole) ? undefined : groupsOf(whole, marks.decimal === "." ? "," : ".");
  const digits = grouped?.digits ?? whole;
  if (!/^\d*$/.test(digits) || digits + decimals === "") return undefined;
  if (grouped && power !== "0") return undefined;
  const isPlain = !body.includes(marks.decimal);
  if (grouped?.couldBeDecimal && isPlain && !marks.isGrouped) return "ambiguous";
  // The point is moved in the text, not by arithmetic: 99.999 % must be the same number as 0.99999.
  const exponent = Number(power) - (as === "percent" || hasPercent ? 2 : 0);
  const number = Number(`${sign === "" || sign === "+" ? "" : "-"}${digits || "0"}.${decimals || "0"}e${exponent}`);
  // Adding 0 makes −0 plain 0.
  return Number.isFinite(number) ? number + 0 : undefined;
}

/** The digits of whole groups parted by one kind of mark; undefined where they are no such groups. */
function groupsOf(
  whole: string,
  other: string,
): { readonly digits: string; readonly couldBeDecimal: boolean } | undefined {
  const mark = /[^\d]/.exec(whole)?.[0] ?? "";
  if (mark !== other && !PARTING.includes(mark)) return undefined;
  const groups = whole.split(mark);
  const [first = "", ...rest] = groups;
  const last = rest.at(-1) ?? "";
  const isThrees = /^[1-9]\d{0,2}$/.test(first) && rest.every((group) => group.length === 3);
  const isLakh =
    /^[1-9]\d?$/.test(first) &&
    rest.length > 1 &&
    last.length === 3 &&
    rest.slice(0, -1).every((group) => group.length === 2);
  if (!isThrees && !isLakh) return undefined;
  return { digits: groups.join(""), couldBeDecimal: mark === other && rest.length === 1 };
}

/** What can be said of a text of digits and marks that is no number: the decimal mark is another, or its groups are odd. */
export function whyNoNumber(text: string, marks: NumberMarks): string | undefined {
  const decimal = marks.decimal === "." ? "," : ".";
  const other = readNumber(text, { decimal, isGrouped: true });
  if (typeof other === "number") {
    const said = `${text.trim().endsWith("%") ? `${Number((other * 100).toPrecision(15))} %` : other}`;
    const [here, there] = decimal === "," ? ["point", "comma"] : ["comma", "point"];
    return `The decimal mark here is a ${here}, not a ${there}: write ${said.replace(".", marks.decimal)}.`;
  }
  if (text.length > NUMBER_MOST) return `It is longer than ${NUMBER_MOST} characters.`;
  if (!isOnlyMarks(text) || !/\d[^\d]+\d/.test(text)) return undefined;
  return "Marks and spaces inside a number part whole groups only, as in 1 234 567 or 12,34,567.";
}

/** Whether a text holds nothing but digits and the marks and spaces of numbers. */
export function isOnlyMarks(text: string): boolean {
  return text.length <= NUMBER_MOST && /^[\d.,'\u2019\s+\-\u2212]*$/.test(text);
}
