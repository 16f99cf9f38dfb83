// The pages in one chunk: loaded when the first one opens.
import "./pages.css";
import type { ComponentType } from "preact";
import type { Page, Session } from "../../app/session";
import { AccountantPage } from "./accountant-page";
import { CalendarPage } from "./calendar-page";
import { JournalPage } from "./journal-page";
import { LoadsPage } from "./loads-page";

const PAGES: Readonly<Record<Page, ComponentType<{ readonly session: Session }>>> = {
  journal: JournalPage,
  accountant: AccountantPage,
  loads: LoadsPage,
  calendar: CalendarPage,
};

/** The page of that name. */
export function AnyPage({ session, page }: { readonly session: Session; readonly page: Page }) {
  const Shown = PAGES[page];
  return <Shown session={session} />;
}
