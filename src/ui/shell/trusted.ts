// The last guard against script from data, in browsers that know Trusted Types: whatever is put into the page as markup, by us
// or by a library, passes here first. We put in none; the grid library measures its headings with a few plain tables.

/** The tags and attributes that the grid library measures with. Anything else is no markup that belongs here. */
const PLAIN_TAG =
  /<\/?(?:table|thead|tbody|tr|th|td|div|span|colgroup|col|br)(?:\s+(?:class|data-[a-z-]+|colspan|rowspan|style|role|aria-[a-z]+|tabindex|dir)(?:="[^"<>]*")?)*\s*\/?>/gi;

/** Whether markup is made of plain tags alone, none of which can run anything. */
export function isPlainMarkup(markup: string): boolean {
  return !markup.replace(PLAIN_TAG, "").includes("<");
}

/** Whether a script's address is one of the program's own files: beside the page, or a worker that stands in it. */
export function isOwnScript(address: string, page: string): boolean {
  const url = new URL(address, page);
  if (url.protocol === "blob:") return true;
  return url.protocol.startsWith("http") && url.origin === new URL(page).origin;
}

const trustedTypes = (globalThis as { readonly trustedTypes?: TrustedTypesFactory }).trustedTypes;

interface TrustedTypesFactory {
  createPolicy(
    name: string,
    rules: {
      createHTML(markup: string): string | null;
      createScriptURL?(address: string): string | null;
    },
  ): { createHTML(markup: string): string };
}

/** Sets the guard up; without effect where the browser does not know Trusted Types. Called before anything is drawn. */
export function guardMarkup(): void {
  trustedTypes?.createPolicy("default", {
    createHTML: (markup) => (isPlainMarkup(markup) ? markup : null),
    createScriptURL: (address) => (isOwnScript(address, location.href) ? address : null),
  });
}

let forReading: { createHTML(markup: string): string } | undefined;

/** A document of somebody else's markup, to be read only: nothing in it runs or is loaded, and it is never shown. */
export function readMarkup(markup: string): Document {
  forReading ??= trustedTypes?.createPolicy("reading", { createHTML: (given) => given });
  return new DOMParser().parseFromString(forReading?.createHTML(markup) ?? markup, "text/html");
}
