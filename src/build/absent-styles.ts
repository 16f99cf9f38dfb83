// A style sheet without the rules that nothing on the page can match, by the classes that are known to be absent.

/** Whether a class never stands on the page. */
type IsAbsent = (className: string) => boolean;

const GROUP = /:(not|is|where|has)\(/;
const LANGUAGES_NOT = /:not\((:lang\(\w+\),?)+\)/g;

/** The place behind the bracket that closes the one opened just before `from`. */
function endOfGroup(text: string, from: number): number {
  let depth = 1;
  let at = from;
  while (depth > 0 && at < text.length) {
    if (text[at] === "(") depth += 1;
    if (text[at] === ")") depth -= 1;
    at += 1;
  }
  return at;
}

/** The selectors of a list: commas in brackets part nothing. */
export function selectorsOf(list: string): readonly string[] {
  const found: string[] = [];
  let depth = 0;
  let start = 0;
  for (let at = 0; at < list.length; at += 1) {
    const sign = list[at];
    if (sign === "(" || sign === "[") depth += 1;
    if (sign === ")" || sign === "]") depth -= 1;
    if (sign !== "," || depth > 0) continue;
    found.push(list.slice(start, at));
    start = at + 1;
  }
  return [...found, list.slice(start)];
}

/** Whether a selector can match anything on a page in English: each part it needs may be there. */
export function canMatch(selector: string, isAbsent: IsAbsent): boolean {
  const group = GROUP.exec(selector);
  if (group === null) {
    if (selector.includes(":lang(") || selector.includes("[dir=rtl]")) return false;
    return [...selector.matchAll(/\.([a-zA-Z][\w-]*)/g)].every(([, name]) => !isAbsent(name ?? ""));
  }
  const from = group.index + group[0].length;
  const end = endOfGroup(selector, from);
  const rest = selector.slice(0, group.index) + selector.slice(end);
  if (!canMatch(rest, isAbsent)) return false;
  return group[1] === "not" || selectorsOf(selector.slice(from, end - 1)).some((one) => canMatch(one, isAbsent));
}

/** The rules of a style sheet, comments that must stay among them. */
function rulesOf(css: string): readonly string[] {
  const found: string[] = [];
  let depth = 0;
  let start = 0;
  for (let at = 0; at < css.length; at += 1) {
    if (css[at] === "{") depth += 1;
    if (css[at] !== "}") continue;
    depth -= 1;
    if (depth > 0) continue;
    found.push(css.slice(start, at + 1));
    start = at + 1;
  }
  return found;
}

/** The style sheet without what can't match; the comments of its licence stay. */
export function withoutAbsent(css: string, isAbsent: IsAbsent): string {
  const notices = css.match(/\/\*![\s\S]*?\*\//g) ?? [];
  const bare = css.replaceAll(/\/\*[\s\S]*?\*\//g, "");
  const kept = rulesOf(bare).flatMap((rule) => {
    const open = rule.indexOf("{");
    const head = rule.slice(0, open).trim();
    if (head.startsWith("@media")) {
      const inner = withoutAbsent(rule.slice(open + 1, -1), isAbsent);
      return inner === "" ? [] : [`${head}{${inner}}`];
    }
    if (head.startsWith("@")) return [rule.trim()];
    const selectors = selectorsOf(head).filter((one) => canMatch(one, isAbsent));
    if (selectors.length === 0) return [];
    // One language weighs as much as all of them, and none of them holds.
    return [selectors.join(",").replaceAll(LANGUAGES_NOT, ":not(:lang(ar))") + rule.slice(open)];
  });
  return [...notices, ...kept].join("");
}
