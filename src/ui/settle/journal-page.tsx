// The journal of a period: what the edition moved between accounts, each reference balanced, under names the maker gives.
import "../shell/pages.css";
import type { Session } from "../../app/edition/session";
import type { PrintPlatform } from "../../app/keeping/studio-platform";
import { AfterPaint } from "../controls/after-paint";
import { PageWords } from "../controls/page-words";
import { booksOf } from "./books-now";
import { Accounts } from "./books-parts";
import { DaysPart } from "./days-part";
import { PeriodHead } from "./period-head";
import { Postings } from "./postings";
import { settledOf, Unsettled } from "./settled";

interface JournalPageProps {
  readonly session: Session;
  readonly platform: PrintPlatform;
}

/** The journal of the open edition. */
export function JournalPage({ session, platform }: JournalPageProps) {
  const { title, currency } = session.book.value.meta;
  return (
    <article class="paper" id="sheet" tabIndex={-1} aria-label="Journal" data-testid="journal">
      <header>
        <h2>Journal of {title}</h2>
        <p class="quiet">
          {currency}, rounded once to the currency's digits. Each reference balances and leads to what it is made of;
          what did not happen in the period is left out.
        </p>
        <PageWords page="journal" />
      </header>
      <PeriodHead session={session} platform={platform} />
      <AfterPaint>{() => <Books session={session} />}</AfterPaint>
      <Accounts session={session} />
    </article>
  );
}

function Books({ session }: { readonly session: Session }) {
  session.valuesVersion.value;
  const settled = settledOf(session);
  if (!settled.ok) return <Unsettled session={session} result={settled} />;
  const books = booksOf(session);
  return (
    <>
      <DaysPart session={session} />
      <Unsettled session={session} result={books} />
      {books.ok ? <Postings session={session} period={books.value.period} /> : null}
    </>
  );
}
