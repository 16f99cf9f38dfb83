// The postings of a period: each reference with its lines, and what it is made of, part by part, each leading to its cell.
import { useState } from "preact/hooks";
import { linesOfMoves, type PeriodBooks, type Posted } from "../../accounts/period";
import type { Session } from "../../app/edition/session";
import { dayText, withDaysWritten } from "../../app/edition/written-days";
import { accountTermsOf } from "../../app/settle/account-terms";
import { cellOfMove, movesByCell } from "../../app/settle/move-cells";
import { counted } from "../../core/counted";
import { LinkedNumber } from "../controls/linked-number";
import { pageLocale } from "../controls/page-locale";
import { Scrolled } from "../controls/scrolled";
import { TableHead } from "../controls/table-head";
import { minorText } from "./settled";

/** How many parts are shown; all of them are in the trail of the papers. */
const MOST_PARTS = 120;

/** The journal of a period. */
export function Postings({ session, period }: { readonly session: Session; readonly period: PeriodBooks }) {
  if (period.posted.length === 0) return <p>Nothing moved in this period.</p>;
  return (
    <Scrolled label="Postings">
      <table class="plain-table wide">
        <TableHead titles={["Reference", "Day", "Account", "Debit", "Credit"]} />
        {period.posted.map((posted) => (
          <Posting key={posted.reference} session={session} posted={posted} digits={period.after.ledger.digits} />
        ))}
      </table>
    </Scrolled>
  );
}

interface PostingProps {
  readonly session: Session;
  readonly posted: Posted;
  readonly digits: number;
}

function Posting({ session, posted, digits }: PostingProps) {
  const accounts = accountTermsOf(session.book.value);
  const { reference, day, memo, document, lines } = posted;
  const debit = lines.reduce((sum, { minor }) => sum + Math.max(0, minor), 0);
  const credit = lines.reduce((sum, { minor }) => sum + Math.max(0, -minor), 0);
  // Debits first, as a journal is read.
  const inOrder = [...lines].sort((a, b) => Number(b.minor > 0) - Number(a.minor > 0));
  return (
    <tbody>
      <tr class="memo">
        <th scope="rowgroup" colSpan={5}>
          {withDaysWritten(memo, pageLocale())}
          {document === undefined ? "" : `, ${document}`}
        </th>
      </tr>
      {inOrder.map(({ account, minor }, at) => (
        <tr key={account}>
          <td>{at === 0 ? reference : ""}</td>
          <td>{at === 0 ? dayText(day, pageLocale()) : ""}</td>
          <td class={minor < 0 ? "credit" : ""}>
            {[accounts[account].code, accounts[account].name].filter(Boolean).join(" ")}
          </td>
          <td>{minorText(Math.max(0, minor), digits)}</td>
          <td>{minorText(Math.max(0, -minor), digits)}</td>
        </tr>
      ))}
      <tr class="sum">
        <td colSpan={3}>{debit === credit ? "balances" : "does not balance"}</td>
        <td>{minorText(debit, digits)}</td>
        <td>{minorText(credit, digits)}</td>
      </tr>
      <tr>
        <td colSpan={5}>
          <Parts session={session} posted={posted} digits={digits} />
        </td>
      </tr>
    </tbody>
  );
}

/** Opened on demand: a posting may be made of thousands of parts. */
function Parts({ session, posted, digits }: PostingProps) {
  const [isOpen, setOpen] = useState(false);
  const parts = isOpen ? movesByCell(posted.moves) : [];
  const rest = parts.length - MOST_PARTS;
  const isWhole = linesOfMoves(posted.moves).length === posted.lines.length;
  return (
    <details class="parts" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        from {counted(posted.moves.length, "part")}
        {isWhole ? "" : ", which do not add up to it"}
      </summary>
      <ul>
        {parts.slice(0, MOST_PARTS).map(({ key, says, minor, move }) => {
          const cell = cellOfMove(session.book.value, move);
          const text = `${minor < 0 ? "\u2212" : ""}${minorText(Math.abs(minor), digits)}`;
          return (
            <li key={key}>
              {says(session.book.value)}: {cell ? <LinkedNumber session={session} number={{ text, cell }} /> : text}
            </li>
          );
        })}
      </ul>
      {rest > 0 ? <p>{counted(rest, "part")} more: audit-trail.csv of the papers has them all.</p> : null}
    </details>
  );
}
