// The pages in one chunk: loaded when the first one opens.
import "./pages.css";
import type { Page, Session } from "../../app/session";
import { AccountantPage } from "./accountant-page";
import { JournalPage } from "./journal-page";

/** The page of that name. */
export function AnyPage({ session, page }: { readonly session: Session; readonly page: Page }) {
  return page === "journal" ? <JournalPage session={session} /> : <AccountantPage session={session} />;
}
