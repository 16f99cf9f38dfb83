import { usableLocale } from "../../app/edition/format";

/** The locale in which this page writes numbers and days. */
export const pageLocale = (): string => usableLocale(navigator.languages);
