// The causes as a table, group by group; a cause of many steps opens to them.
import { signal } from "@preact/signals";
import type { RoundedVariances } from "../../accounts/variance-rounding";
import { moneyText } from "../../app/edition/money-text";
import { perSession } from "../../app/edition/per-session";
import type { Session } from "../../app/edition/session";
import { type AgainstRow, againstGroups, type TableNumber } from "../../app/settle/against-rows";
import { signedMoney, verdictOf } from "../../app/settle/cause-sentences";
import { fromMinorUnits } from "../../core/money";
import { LinkedNumber } from "../controls/linked-number";
import { Scrolled } from "../controls/scrolled";
import { TableHead } from "../controls/table-head";

/** Causes that are open to their steps. */
const openOf = perSession(() => signal<ReadonlySet<string>>(new Set()));

interface TableProps {
  readonly session: Session;
  readonly found: RoundedVariances;
  readonly endTitle: string;
}

/** Every cause with its sign and its word; they add up to the difference of the two margins. */
export function AgainstTable({ session, found, endTitle }: TableProps) {
  const groups = againstGroups(session, found);
  const open = openOf(session);
  const openable = groups.flatMap(({ rows }) => rows.filter(({ parts }) => parts.length > 0).map(({ key }) => key));
  const isAllOpen = openable.every((key) => open.value.has(key));
  const money = (minor: number) => moneyText(session, fromMinorUnits(minor, session.digits));
  return (
    <>
      <div class="cause-tools">
        <h3>Cause by cause</h3>
        {openable.length > 0 ? (
          <button
            type="button"
            aria-pressed={isAllOpen}
            onClick={() => {
              open.value = new Set(isAllOpen ? [] : openable);
            }}
          >
            Every step
          </button>
        ) : null}
      </div>
      <Scrolled label="Causes between plan and run">
        <table class="plain-table wide">
          <TableHead titles={["Cause", "planned", "real", session.formats.currency, "is"]} />
          <tbody>
            <tr class="sum">
              <th scope="row" colSpan={3}>
                Plan leaves
              </th>
              <td>{money(found.plannedMinor)}</td>
              <td />
            </tr>
          </tbody>
          {groups.map(({ group, title, minor, rows }) => (
            <tbody key={group}>
              <tr class="group">
                <th scope="rowgroup" colSpan={3}>
                  {title}
                </th>
                <td>{signedMoney(session, minor)}</td>
                <td>{verdictOf(minor, rows[0]?.cause)}</td>
              </tr>
              {rows.flatMap((row) => [
                <Row key={row.key} session={session} row={row} />,
                ...(open.value.has(row.key)
                  ? row.parts.map((part) => <Row key={part.key} session={session} row={part} isPart />)
                  : []),
              ])}
            </tbody>
          ))}
          <tbody>
            <tr class="sum">
              <th scope="row" colSpan={3}>
                {endTitle}
              </th>
              <td>{money(found.realMinor)}</td>
              <td />
            </tr>
          </tbody>
        </table>
      </Scrolled>
    </>
  );
}

interface RowProps {
  readonly session: Session;
  readonly row: AgainstRow;
  readonly isPart?: boolean;
}

function Row({ session, row, isPart = false }: RowProps) {
  const open = openOf(session);
  const isOpen = open.value.has(row.key);
  const toggle = () => {
    const next = new Set(open.value);
    if (!next.delete(row.key)) next.add(row.key);
    open.value = next;
  };
  return (
    <tr class={isPart ? "part" : undefined}>
      <th scope="row">
        {row.parts.length > 0 ? (
          <button type="button" class="opens" aria-expanded={isOpen} onClick={toggle}>
            {row.title}
          </button>
        ) : (
          row.title
        )}
        {row.words === "" ? null : <small>{row.words}</small>}
      </th>
      {(["planned", "real", "amount"] as const).map((of) => (
        <td key={of}>{shown(session, row[of])}</td>
      ))}
      <td>{row.verdict}</td>
    </tr>
  );
}

const shown = (session: Session, number: TableNumber) =>
  typeof number === "string" ? number : <LinkedNumber session={session} number={number} />;
