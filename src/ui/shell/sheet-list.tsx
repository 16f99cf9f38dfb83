import { perSession } from "../../app/edition/per-session";
import type { Page, Session } from "../../app/edition/session";
import { stableComputed } from "../../app/edition/stable-computed";
import { isShelf, SHELF_SHEETS } from "../../core/document/shelf-kind";
import { SHEET_KEYS, type SheetKey } from "../../core/document/workbook";
import { showPage, showSheet } from "../edition/go-to";
import { fetchPage } from "./any-page";

const GROUPS: readonly { readonly title: string; readonly sheets: readonly SheetKey[] }[] = [
  { title: "Plan", sheets: ["edition", "route", "materials", "purchases", "kilns", "programmes", "tariffs"] },
  { title: "Run", sheets: ["pieces", "firings"] },
  { title: "Settle", sheets: ["channels", "results"] },
  { title: "Studio", sheets: [] },
  { title: "Ask", sheets: [] },
];
interface PageButton {
  readonly group: string;
  readonly title: string;
  /** Whether it comes before the sheets of its group. */
  readonly isFirst?: boolean;
}

/** Pages by the group they are listed in, in this order. */
const PAGES: Readonly<Record<Page, PageButton>> = {
  plan: { group: "Plan", title: "Plan", isFirst: true },
  shelf: { group: "Plan", title: "The shelf" },
  calendar: { group: "Plan", title: "Ready when" },
  record: { group: "Run", title: "Record", isFirst: true },
  log: { group: "Run", title: "Run log" },
  loads: { group: "Run", title: "Loads" },
  rescue: { group: "Run", title: "Rescue" },
  paper: { group: "Run", title: "Paper" },
  sales: { group: "Settle", title: "Sales", isFirst: true },
  against: { group: "Settle", title: "Against the plan" },
  progress: { group: "Settle", title: "Work in progress" },
  journal: { group: "Settle", title: "Journal" },
  accountant: { group: "Settle", title: "For the accountant" },
  sides: { group: "Studio", title: "Side by side" },
  whatif: { group: "Ask", title: "What if" },
};
const PAGE_NAMES = Object.keys(PAGES) as Page[];

/** Every page with its title, in the order of the list. */
export const pageTitles = () => PAGE_NAMES.map((page) => ({ page, title: PAGES[page].title }));

/** What the studio's shelf has of all that. */
const OF_SHELF: typeof GROUPS = [{ title: "The shelf", sheets: SHELF_SHEETS }];

/** The title of the page or the sheet that is shown. */
export function placeTitle(session: Session): string {
  const page = session.page.value;
  return page === undefined ? session.book.value.sheets[session.sheet.value].title : PAGES[page].title;
}

/** A list that a press has opened in a narrow window closes at the next; in a wide one it stands on the page. */
export function closesOnPress(list: HTMLElement | null): void {
  list?.addEventListener("click", () => list.matches(":popover-open") && list.hidePopover());
}

const COUNTED: readonly SheetKey[] = [
  "route",
  "materials",
  "purchases",
  "kilns",
  "tariffs",
  "pieces",
  "firings",
  "channels",
];

const listedSheets = perSession((session) =>
  stableComputed(() => {
    const book = session.book.value;
    const sheets = SHEET_KEYS.map((key) => [
      key,
      { title: book.sheets[key].title, rows: book.sheets[key].rows.length },
    ]);
    return { isOfShelf: isShelf(book), sheets: Object.fromEntries(sheets) as ListedSheets };
  }),
);
type ListedSheets = Readonly<Record<SheetKey, { readonly title: string; readonly rows: number }>>;

/** The sheets, by when they are used. */
export function SheetList({ session }: { readonly session: Session }) {
  const { isOfShelf, sheets } = listedSheets(session).value;
  const pageButton = (page: Page) => (
    <button
      type="button"
      key={page}
      aria-current={session.page.value === page ? "page" : undefined}
      onPointerEnter={() => fetchPage(page)}
      onFocus={() => fetchPage(page)}
      onClick={() => showPage(session, page)}
    >
      {PAGES[page].title}
    </button>
  );
  const pagesOf = (group: string): readonly Page[] =>
    isOfShelf ? ["shelf"] : PAGE_NAMES.filter((name) => PAGES[name].group === group);
  const isFirst = (page: Page) => isOfShelf || PAGES[page].isFirst === true;
  return (
    <nav class="sheets" id="sheets" aria-label="Sheets" popover="auto" ref={closesOnPress}>
      {(isOfShelf ? OF_SHELF : GROUPS).map((group) => (
        <section key={group.title} aria-label={group.title}>
          <h2>{group.title}</h2>
          {pagesOf(group.title).filter(isFirst).map(pageButton)}
          {group.sheets.map((key) => (
            <button
              type="button"
              key={key}
              aria-current={session.page.value === undefined && session.sheet.value === key ? "page" : undefined}
              onClick={() => showSheet(session, key)}
            >
              {sheets[key].title}
              {COUNTED.includes(key) ? <span class="count">{sheets[key].rows}</span> : null}
            </button>
          ))}
          {pagesOf(group.title)
            .filter((page) => !isFirst(page))
            .map(pageButton)}
        </section>
      ))}
    </nav>
  );
}
