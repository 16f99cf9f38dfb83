// The pages in one chunk: loaded when the first one opens.
import "./pages.css";
import "./record.css";
import type { Page, Session } from "../../app/session";
import type { Studio } from "../../app/studio";
import { AccountantPage } from "./accountant-page";
import { CalendarPage } from "./calendar-page";
import { JournalPage } from "./journal-page";
import { LoadsPage } from "./loads-page";
import { LogPage } from "./log-page";
import { PaperPage } from "./paper-page";
import { RecordPage } from "./record-page";
import { RescuePage } from "./rescue-page";
import { WhatIfPage } from "./whatif/whatif-page";

interface AnyPageProps {
  readonly session: Session;
  readonly page: Page;
  readonly studio: Studio;
}

/** The page of that name. */
export function AnyPage({ session, page, studio }: AnyPageProps) {
  switch (page) {
    case "record":
      return <RecordPage session={session} />;
    case "log":
      return <LogPage session={session} />;
    case "rescue":
      return <RescuePage session={session} />;
    case "paper":
      return <PaperPage session={session} world={studio.printWorld} />;
    case "loads":
      return <LoadsPage session={session} />;
    case "calendar":
      return <CalendarPage session={session} />;
    case "journal":
      return <JournalPage session={session} />;
    case "accountant":
      return <AccountantPage session={session} />;
    case "whatif":
      return <WhatIfPage session={session} />;
  }
}
