// Numbers as a maker writes them.

/** The marks a maker's numbers are written with. */
export interface NumberMarks {
  readonly decimal: "." | ",";
}

/** A number as typed; "ambiguous" where a mark could be a decimal or a thousands mark; undefined where it is none. */
export function readNumber(typed: string, marks: NumberMarks, isPercent: boolean): number | "ambiguous" | undefined {
  let text = typed.replace(/[\s\u00a0\u202f']/g, "").replace(/^\u2212/, "-");
  const hasPercent = text.endsWith("%");
  if (hasPercent) text = text.slice(0, -1);
  const other = marks.decimal === "." ? "," : ".";
  if (text.includes(other)) {
    const grouped = new RegExp(`^[-+]?\\d{1,3}(\\${other}\\d{3})+(\\${marks.decimal}\\d+)?$`);
    if (!grouped.test(text)) return undefined;
    if (!text.includes(marks.decimal) && text.split(other).length === 2) return "ambiguous";
    text = text.replaceAll(other, "");
  }
  text = text.replace(marks.decimal, ".");
  if (!/^[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?$/.test(text)) return undefined;
  // The point is moved in the text, not by arithmetic: 99.999 % must be the same number as 0.99999.
  const [digits = "", exponent = "0"] = text.toLowerCase().split("e");
  const number = Number(`${digits}e${Number(exponent) - (isPercent || hasPercent ? 2 : 0)}`);
  // Adding 0 makes −0 plain 0.
  return Number.isFinite(number) ? number + 0 : undefined;
}
