/** Date and time of a copy or file in the maker's own way of writing. */
export function whenOf(at: string, locale: string | undefined): string {
  return new Date(at).toLocaleString(locale, { dateStyle: "medium", timeStyle: "short" });
}
