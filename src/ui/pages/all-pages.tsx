// The pages in one chunk: loaded when the first one opens.
import "./pages.css";
import type { Page, Session } from "../../app/session";
import { AccountantPage } from "./accountant-page";
import { JournalPage } from "./journal-page";
import { WhatIfPage } from "./whatif/whatif-page";

/** The page of that name. */
export function AnyPage({ session, page }: { readonly session: Session; readonly page: Page }) {
  switch (page) {
    case "journal":
      return <JournalPage session={session} />;
    case "accountant":
      return <AccountantPage session={session} />;
    case "whatif":
      return <WhatIfPage session={session} />;
  }
}
