// Losses of an earlier edition: its Route sheet as a file, or losses.csv of its papers for the accountant, says how many pieces
// entered each step and were lost there. Steps are found by their titles, and the counts become “seen before”.
import type { SheetKey } from "../core/document/workbook";
import { type HeaderMatch, plainHeader } from "./headers";
import type { ImportOptions, ImportQuestion } from "./import-options";

type Pair = readonly [entered: HeaderMatch, lost: HeaderMatch];

/** Asks what becomes of such counts; leaving them out is no loss, so the question may stay open. */
export function lossesQuestion(
  sheet: SheetKey,
  matches: readonly HeaderMatch[],
  options: ImportOptions,
): ImportQuestion[] {
  const its = pairOf(matches, "entered", "lost");
  if (sheet !== "route" || options.losses !== undefined || !its) return [];
  const all = pairOf(matches, "known_entered", "known_lost") ?? its;
  const take = (losses: "add" | "replace", pair: Pair): ImportOptions => ({ losses, columns: onlyPair(matches, pair) });
  return [
    {
      about: "losses",
      text: "The file says how many pieces entered each step and were lost there. Is it of an earlier edition?",
      examples: [],
      answers: [
        { label: "Yes: add them to those seen before", options: take("add", its) },
        { label: "Yes: put all it had seen in their place", options: take("replace", all) },
        { label: "No: leave them out", options: { losses: "leave" } },
      ],
    },
  ];
}

function pairOf(matches: readonly HeaderMatch[], entered: string, lost: string): Pair | undefined {
  const find = (key: string) =>
    matches.find((match) =>
      match.kind === "computed"
        ? match.column.key === key
        : match.kind === "unknown" && plainHeader(match.header) === key,
    );
  const [first, second] = [find(entered), find(lost)];
  return first && second && [first, second];
}

/** The two columns go where losses seen before stand, and no other comes in with them. */
function onlyPair(matches: readonly HeaderMatch[], [entered, lost]: Pair): Readonly<Record<string, string>> {
  const others = matches.filter(({ kind }) => kind !== "label").map(({ header }) => [header, ""] as const);
  return { ...Object.fromEntries(others), [entered.header]: "seen_entered", [lost.header]: "seen_lost" };
}
