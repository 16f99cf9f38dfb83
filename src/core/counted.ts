// Counts and lists in words, by the rules of the language they are written in. Everything a maker reads is English.
import { wholeText } from "./problem";

const made: { plurals?: Intl.PluralRules; lists?: Intl.ListFormat } = {};

/** The form of a word that goes with a count: `plural(2, "piece")` is "pieces", `plural(1, "is", "are")` is "is". */
export function plural(count: number, one: string, many = `${one}s`): string {
  made.plurals ??= new Intl.PluralRules("en");
  return made.plurals.select(count) === "one" ? one : many;
}

/** A count with its word: "1 piece", "1 200 pieces", "1 copy". `text` is the count where it is written already. */
export function counted(count: number, one: string, many?: string, text = wholeText(count)): string {
  return `${text} ${plural(count, one, many)}`;
}

/** Names in a sentence: "cast", "cast and fettle", "cast, fettle and dry"; beyond `most`: "cast, fettle and 3 more". */
export function listed(names: readonly string[], most = names.length): string {
  made.lists ??= new Intl.ListFormat("en-GB");
  return made.lists.format(
    names.length > most ? [...names.slice(0, most - 1), `${names.length - most + 1} more`] : names,
  );
}
