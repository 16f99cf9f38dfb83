// The pages, each in a part of the program of its own that is loaded when it is first wanted.
import type { ComponentType, JSX } from "preact";
import type { Page, Session } from "../../app/edition/session";
import type { Studio } from "../../app/keeping/studio";
import { lazily } from "./lazily";

interface PageProps {
  readonly session: Session;
  readonly platform: Studio["printPlatform"];
  readonly studio: Studio;
}

const LOADERS: Readonly<Record<Page, () => Promise<ComponentType<PageProps>>>> = {
  plan: () => import("../plan/plan-page").then(({ PlanPage }) => PlanPage),
  shelf: () => import("../shelf/shelf-page").then(({ ShelfPage }) => ShelfPage),
  record: () => import("../record/record-page").then(({ RecordPage }) => RecordPage),
  log: () => import("../record/log-page").then(({ LogPage }) => LogPage),
  rescue: () => import("../rescue/rescue-page").then(({ RescuePage }) => RescuePage),
  paper: () => import("../paper/paper-page").then(({ PaperPage }) => PaperPage),
  loads: () => import("../loads/loads-page").then(({ LoadsPage }) => LoadsPage),
  calendar: () => import("../calendar/calendar-page").then(({ CalendarPage }) => CalendarPage),
  sales: () => import("../record/sales-page").then(({ SalesPage }) => SalesPage),
  against: () => import("../settle/against-page").then(({ AgainstPage }) => AgainstPage),
  progress: () => import("../settle/progress-page").then(({ ProgressPage }) => ProgressPage),
  journal: () => import("../settle/journal-page").then(({ JournalPage }) => JournalPage),
  accountant: () => import("../settle/accountant-page").then(({ AccountantPage }) => AccountantPage),
  sides: () => import("../shelf/side-by-side-page").then(({ SideBySidePage }) => SideBySidePage),
  whatif: () => import("../whatif/whatif-page").then(({ WhatIfPage }) => WhatIfPage),
};

const PAGES = Object.fromEntries(
  (Object.keys(LOADERS) as Page[]).map((page) => [page, lazily<PageProps>(LOADERS[page])]),
) as Readonly<Record<Page, (props: PageProps) => JSX.Element | null>>;

/** Fetches a page that is likely to be opened next; what can't be had is said when it is opened. */
export function fetchPage(page: Page): void {
  LOADERS[page]().catch(() => undefined);
}

interface AnyPageProps {
  readonly session: Session;
  readonly page: Page;
  readonly studio: Studio;
}

/** The page of that name. */
export function AnyPage({ session, page, studio }: AnyPageProps) {
  const Shown = PAGES[page];
  return <Shown session={session} platform={studio.printPlatform} studio={studio} />;
}
