// The journal: what the edition moves between accounts, each reference balanced, under names the maker gives.

import { dayText } from "../../app/edition/written-days";
import { pageLocale } from "../controls/page-locale";
import "../shell/pages.css";
import { type AccountNames, type JournalLine, USUAL_ACCOUNT_NAMES } from "../../accounts/journal";
import type { Session } from "../../app/edition/session";
import type { PrintPlatform } from "../../app/keeping/studio-platform";
import { accountNamesOf, journalHeadOf } from "../../app/settle/settle";
import { nameAccount, setJournalHead } from "../../app/settle/settle-commands";
import { DateInput } from "../controls/date-input";
import { PageWords } from "../controls/page-words";
import { TableHead } from "../controls/table-head";
import { showDialog } from "../shell/open-dialog";
import { minorText, settledOf, Unsettled } from "./settled";

interface JournalPageProps {
  readonly session: Session;
  readonly world: PrintPlatform;
}

/** The journal of the open edition. */
export function JournalPage({ session, world }: JournalPageProps) {
  session.valuesVersion.value;
  const result = settledOf(session);
  const { title, currency } = session.book.value.meta;
  return (
    <article class="paper" id="sheet" tabIndex={-1} aria-label="Journal" data-testid="journal">
      <header>
        <h2>Journal of {title}</h2>
        <p class="quiet">
          {currency}, rounded once to the currency's digits. Each reference balances; what did not happen is left out.
        </p>
        <PageWords page="journal" />
      </header>
      <Head session={session} world={world} />
      <Unsettled session={session} result={result} />
      {result.ok ? <Lines lines={result.value.journal} digits={result.value.ledger.digits} /> : null}
      <Accounts session={session} />
    </article>
  );
}

function Head({ session, world }: JournalPageProps) {
  const head = journalHeadOf(session.book.value, session.today());
  return (
    <div class="paper-tools">
      <label>
        <span>Day</span>
        <DateInput
          value={head.date}
          onChange={(event) =>
            event.currentTarget.value && setJournalHead(session, { date: event.currentTarget.value })
          }
        />
      </label>
      <label>
        <span>References begin with</span>
        <input
          value={head.reference}
          maxLength={60}
          onChange={(event) => setJournalHead(session, { reference: event.currentTarget.value })}
        />
      </label>
      <button type="button" onClick={() => showDialog("pack")}>
        Save the papers…
      </button>
      <button type="button" onClick={() => world.print()}>
        Print
      </button>
    </div>
  );
}

function Lines({ lines, digits }: { readonly lines: readonly JournalLine[]; readonly digits: number }) {
  const references = [...new Set(lines.map(({ reference }) => reference))];
  return (
    <table class="plain-table wide">
      <TableHead titles={["Reference", "Day", "Account", "Debit", "Credit"]} />
      {references.map((reference) => (
        <Entry key={reference} lines={lines.filter((line) => line.reference === reference)} digits={digits} />
      ))}
    </table>
  );
}

function Entry({ lines, digits }: { readonly lines: readonly JournalLine[]; readonly digits: number }) {
  const debit = lines.reduce((sum, line) => sum + line.debitMinor, 0);
  const credit = lines.reduce((sum, line) => sum + line.creditMinor, 0);
  const [first] = lines;
  return (
    <tbody>
      <tr class="memo">
        <th scope="rowgroup" colSpan={5}>
          {first?.memo}
        </th>
      </tr>
      {lines.map((line, at) => (
        <tr key={`${line.account} ${at}`}>
          <td>{at === 0 ? line.reference : ""}</td>
          <td>{at === 0 ? dayText(line.date, pageLocale()) : ""}</td>
          <td class={line.creditMinor > 0 ? "credit" : ""}>{line.account}</td>
          <td>{minorText(line.debitMinor, digits)}</td>
          <td>{minorText(line.creditMinor, digits)}</td>
        </tr>
      ))}
      <tr class="sum">
        <td colSpan={3}>{debit === credit ? "balances" : "does not balance"}</td>
        <td>{minorText(debit, digits)}</td>
        <td>{minorText(credit, digits)}</td>
      </tr>
    </tbody>
  );
}

function Accounts({ session }: { readonly session: Session }) {
  const names = accountNamesOf(session.book.value);
  const keys = Object.keys(USUAL_ACCOUNT_NAMES) as (keyof AccountNames)[];
  return (
    <details class="accounts">
      <summary>What the accounts are called</summary>
      <p class="quiet">Names or numbers as in your books. A blank gives the usual name back.</p>
      <div class="account-names">
        {keys.map((key) => (
          <label key={key}>
            <span>{USUAL_ACCOUNT_NAMES[key]}</span>
            <input
              value={names[key]}
              maxLength={120}
              onChange={(event) => {
                nameAccount(session, key, event.currentTarget.value);
                event.currentTarget.value = accountNamesOf(session.book.value)[key];
              }}
            />
          </label>
        ))}
      </div>
    </details>
  );
}
