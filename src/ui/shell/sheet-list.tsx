import type { Page, Session } from "../../app/edition/session";
import type { SheetKey } from "../../core/document/workbook";
import { fetchPage } from "./any-page";

const GROUPS: readonly { readonly title: string; readonly sheets: readonly SheetKey[] }[] = [
  { title: "Plan", sheets: ["edition", "route", "materials", "kilns", "programmes", "tariffs"] },
  { title: "Run", sheets: ["pieces", "firings"] },
  { title: "Settle", sheets: ["results"] },
  { title: "Ask", sheets: [] },
];
/** Pages that read the sheets and are listed after the sheets of a group. */
const PAGES: Readonly<Record<string, readonly { readonly page: Page; readonly title: string }[]>> = {
  Plan: [{ page: "calendar", title: "Ready when" }],
  Run: [
    { page: "log", title: "Run log" },
    { page: "loads", title: "Loads" },
    { page: "rescue", title: "Rescue" },
    { page: "paper", title: "Paper" },
  ],
  Settle: [
    { page: "journal", title: "Journal" },
    { page: "accountant", title: "For the accountant" },
  ],
  Ask: [{ page: "whatif", title: "What if" }],
};
/** Pages that come before the sheets of a group. */
const FIRST_PAGES: typeof PAGES = {
  Plan: [{ page: "plan", title: "Plan" }],
  Run: [{ page: "record", title: "Record" }],
};
const COUNTED: readonly SheetKey[] = ["route", "materials", "kilns", "tariffs", "pieces", "firings"];

/** The sheets, by when they are used. */
export function SheetList({ session }: { readonly session: Session }) {
  const { sheets } = session.book.value;
  const pageButton = ({ page, title }: { readonly page: Page; readonly title: string }) => (
    <button
      type="button"
      key={page}
      aria-current={session.page.value === page ? "page" : undefined}
      onPointerEnter={() => fetchPage(page)}
      onFocus={() => fetchPage(page)}
      onClick={() => {
        session.page.value = page;
        session.selection.value = undefined;
      }}
    >
      {title}
    </button>
  );
  return (
    <nav class="sheets" aria-label="Sheets">
      {GROUPS.map((group) => (
        <section key={group.title} aria-label={group.title}>
          <h2>{group.title}</h2>
          {(FIRST_PAGES[group.title] ?? []).map(pageButton)}
          {group.sheets.map((key) => (
            <button
              type="button"
              key={key}
              aria-current={session.page.value === undefined && session.sheet.value === key ? "page" : undefined}
              onClick={() => {
                session.page.value = undefined;
                session.sheet.value = key;
                if (session.selection.value?.sheet !== key) session.selection.value = undefined;
              }}
            >
              {sheets[key].title}
              {COUNTED.includes(key) ? <span class="count">{sheets[key].rows.length}</span> : null}
            </button>
          ))}
          {(PAGES[group.title] ?? []).map(pageButton)}
        </section>
      ))}
    </nav>
  );
}
