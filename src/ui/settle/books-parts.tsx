// Parts of the accountant's page about books by the period: the checklist, what was given out, and what accounts are called.
import { ACCOUNT_KEYS } from "../../accounts/as-of";
import { type AccountKey, USUAL_ACCOUNT_NAMES } from "../../accounts/journal";
import { type PeriodBooks, stockMovements } from "../../accounts/period";
import { showNumber } from "../../app/edition/format";
import type { Session } from "../../app/edition/session";
import { dayText, momentText, withDaysWritten } from "../../app/edition/written-days";
import { type AccountPart, accountTermsOf, setAccount } from "../../app/settle/account-terms";
import type { BookCheck } from "../../app/settle/pack-checks";
import { pageLocale } from "../controls/page-locale";
import { Scrolled } from "../controls/scrolled";
import { TableHead } from "../controls/table-head";
import { TextEntry } from "../controls/text-entry";
import { minorText } from "./settled";

/** What an accountant checks, checked, with the numbers held against each other. */
export function Checks({ session, checks }: { readonly session: Session; readonly checks: readonly BookCheck[] }) {
  const written = (text: string) => {
    const [, decimals = ""] = /^-?\d+(?:\.(\d+))?$/.exec(text) ?? [];
    const { length } = decimals;
    return length === 0 ? text : showNumber(Number(text), length, length, session.formats.locale);
  };
  const failed = checks.filter(({ isMet }) => !isMet).length;
  return (
    <section aria-label="Checks" data-testid="checks">
      <h3>Checks</h3>
      <p>{failed === 0 ? `All ${checks.length} hold.` : `${failed} of ${checks.length} do not hold.`}</p>
      <Scrolled label="Checks of the books">
        <table class="plain-table wide">
          <TableHead titles={["check", "is", "is to be", "so"]} />
          <tbody>
            {checks.map(({ area, says, isMet, found, expected }) => (
              <tr key={says} class={isMet ? "" : "sum"}>
                <th scope="row">
                  {area}: {withDaysWritten(says, pageLocale())}
                </th>
                <td>{written(found)}</td>
                <td>{written(expected)}</td>
                <td>{isMet ? "\u2713 holds" : "\u2717 does not hold"}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scrolled>
    </section>
  );
}

/** Work in progress and stock from opening to closing. */
export function StockMovements({ session, period }: { readonly session: Session; readonly period: PeriodBooks }) {
  const accounts = accountTermsOf(session.book.value);
  const { digits } = period.after.ledger;
  return (
    <Scrolled label="Work in progress and stock">
      <table class="plain-table wide">
        <TableHead titles={["account", "what moved", session.formats.currency]} />
        <tbody>
          {stockMovements(period).map(({ account, what, minor }) => {
            const isEnd = what === "Opening" || what === "Closing";
            return (
              <tr key={`${account} ${what}`} class={what === "Closing" ? "sum" : ""}>
                <th scope="row">{accounts[account].name}</th>
                <td class="words">
                  {isEnd
                    ? `${what}, ${dayText(what === "Opening" ? period.terms.from : period.terms.to, pageLocale())}`
                    : what}
                </td>
                <td>{minor < 0 ? `\u2212${minorText(-minor, digits)}` : minorText(minor, digits) || "0"}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </Scrolled>
  );
}

/** Books that were given out; undo takes a line off the list, and not the file out of other hands. */
export function GivenOutList({ session }: { readonly session: Session }) {
  const { packs } = session.book.value.lists;
  if (packs.length === 0) return <p class="quiet">Nothing has been given out yet.</p>;
  const { digits } = session;
  return (
    <>
      <p class="quiet">
        The next period goes on from the last of these; what is changed in them is posted there as a correction. Undo
        takes a line off this list, not the file out of your accountant’s hands: compare its SHA-256 before you give out
        the same days again.
      </p>
      <Scrolled label="Given out">
        <table class="plain-table wide" data-testid="given-out">
          <TableHead titles={["period", "given out", "references", "debits and credits", "SHA-256 of the zip"]} />
          <tbody>
            {packs.map(({ id, from, to, at, reference, first, last, total, checksum }) => (
              <tr key={id}>
                <th scope="row">
                  {dayText(from, pageLocale())} to {dayText(to, pageLocale())}
                </th>
                <td>{momentText(at, pageLocale())}</td>
                <td>{last < first ? "none" : `${reference}-${first} to ${reference}-${last}`}</td>
                <td>{minorText(total, digits) || "0"}</td>
                <td class="words">
                  <code>{checksum}</code>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scrolled>
    </>
  );
}

const PARTS: readonly (readonly [part: AccountPart, title: string, most: number])[] = [
  ["code", "code", 20],
  ["name", "name", 120],
  ["tax", "tax code", 20],
];

/** Code, name and tax code of every account. */
export function Accounts({ session }: { readonly session: Session }) {
  const accounts = accountTermsOf(session.book.value);
  return (
    <details class="accounts">
      <summary>Accounts</summary>
      <p class="quiet">
        Codes, names and tax codes as in your books. Once one account has a code, each that is posted to needs one; an
        account without a name holds the papers back. They come along to the next edition.
      </p>
      <Scrolled label="Accounts">
        <table class="plain-table wide">
          <TableHead titles={["account", ...PARTS.map(([, title]) => title)]} />
          <tbody>
            {ACCOUNT_KEYS.map((key: AccountKey) => (
              <tr key={key}>
                <th scope="row">{USUAL_ACCOUNT_NAMES[key]}</th>
                {PARTS.map(([part, title, most]) => (
                  <td key={part}>
                    <TextEntry
                      aria-label={`${USUAL_ACCOUNT_NAMES[key]}: ${title}`}
                      value={accounts[key][part]}
                      maxLength={most}
                      onTaken={(typed) => setAccount(session, key, part, typed)}
                    />
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </Scrolled>
    </details>
  );
}
