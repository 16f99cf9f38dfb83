// COUNTIF, SEARCH and their like turn * and ? into a regular expression, and some of those run longer than anybody lives.
// Here a pattern is followed character by character with all its open ways at once: as long as text × pattern, no more.
import type { Matcher, PatternMaker } from "./library";
import type { EnginePatch } from "./patch";

/** One of the pattern: a character, “?” for one character or none, “*” for any number; neither stands for a line's end. */
type Part = number | "?" | "*";

const LINE_ENDS = new Set([0x0a, 0x0d, 0x2028, 0x2029]);

export const WILDCARDS: EnginePatch = {
  name: "wildcards",
  buys: "safety: a pattern with * and ? is matched with bounded work",
  replaces: { patterns: ["buildRegex"] },
  uses: { patterns: ["normalizeString"] },
  apply: ({ patterns }) => boundPatterns(patterns),
};

/** Makes every helper that has this prototype match with bounded work. */
function boundPatterns(prototype: PatternMaker): void {
  prototype.buildRegex = function buildBounded(this: PatternMaker, pattern, isWhole = true): Matcher {
    const parts = partsOf(this.normalizeString(pattern));
    return {
      test: (text) => findStart(parts, text, isWhole) !== undefined,
      exec(text) {
        const index = findStart(parts, text, isWhole);
        return index === undefined ? null : { index };
      },
    };
  };
}

/** A tilde takes its meaning from the sign after it. */
function partsOf(pattern: string): readonly Part[] {
  const parts: Part[] = [];
  for (let at = 0; at < pattern.length; at += 1) {
    const sign = pattern.charAt(at);
    if (sign === "~" && at + 1 < pattern.length) at += 1;
    else if (sign === "*" || sign === "?") {
      parts.push(sign);
      continue;
    }
    parts.push(pattern.charCodeAt(at));
  }
  return parts;
}

/**
 * The first position where the pattern begins to match; with `isWhole` from the text's beginning to its end.
 * For every part, the earliest beginning of a match that has come so far.
 */
function findStart(parts: readonly Part[], text: string, isWhole: boolean): number | undefined {
  const last = parts.length;
  let now = new Float64Array(last + 1).fill(Number.POSITIVE_INFINITY);
  let next = new Float64Array(last + 1);
  let found = Number.POSITIVE_INFINITY;
  for (let at = 0; at <= text.length; at += 1) {
    if (!isWhole || at === 0) now[0] = Math.min(now[0] ?? at, at);
    skipOptional(parts, now);
    if (!isWhole) {
      found = Math.min(found, now[last] ?? found);
      if (now.subarray(0, last).every((start) => start >= found)) break;
    }
    if (at === text.length) break;
    step(parts, text.charCodeAt(at), now, next);
    [now, next] = [next, now];
  }
  if (isWhole) found = now[last] ?? found;
  return Number.isFinite(found) ? found : undefined;
}

/** Parts that may stand for nothing are passed. */
function skipOptional(parts: readonly Part[], now: Float64Array): void {
  for (let at = 0; at < parts.length; at += 1)
    if (typeof parts[at] !== "number") now[at + 1] = Math.min(now[at + 1] ?? 0, now[at] ?? 0);
}

function step(parts: readonly Part[], code: number, now: Float64Array, next: Float64Array): void {
  next.fill(Number.POSITIVE_INFINITY);
  const isLineEnd = LINE_ENDS.has(code);
  for (let at = 0; at < parts.length; at += 1) {
    const part = parts[at];
    const start = now[at] ?? 0;
    if (typeof part === "number" ? part !== code : isLineEnd) continue;
    if (part === "*") next[at] = Math.min(next[at] ?? start, start);
    else next[at + 1] = Math.min(next[at + 1] ?? start, start);
  }
}
