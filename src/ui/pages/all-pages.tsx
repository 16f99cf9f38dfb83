// The pages in one chunk: loaded when the first one opens.
import "./pages.css";
import "./record.css";
import type { Page, Session } from "../../app/session";
import { AccountantPage } from "./accountant-page";
import { JournalPage } from "./journal-page";
import { LogPage } from "./log-page";
import { RecordPage } from "./record-page";
import { RescuePage } from "./rescue-page";

/** The page of that name. */
export function AnyPage({ session, page }: { readonly session: Session; readonly page: Page }) {
  switch (page) {
    case "record":
      return <RecordPage session={session} />;
    case "log":
      return <LogPage session={session} />;
    case "rescue":
      return <RescuePage session={session} />;
    case "journal":
      return <JournalPage session={session} />;
    case "accountant":
      return <AccountantPage session={session} />;
  }
}
