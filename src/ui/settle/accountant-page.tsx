// For the accountant: cost statement, stock at cost or at what it will fetch, and what each tier carries on step by step.
import "../shell/pages.css";
import type { Inventory } from "../../accounts/inventory";
import { type SaleMinor, sumOfSales } from "../../accounts/sales";
import type { StatementRow } from "../../accounts/statement";
import type { TierFlow } from "../../accounts/step-flow";
import { showNumber } from "../../app/edition/format";
import type { Session } from "../../app/edition/session";
import { dayText } from "../../app/edition/written-days";
import type { PrintPlatform } from "../../app/keeping/studio-platform";
import { lossRule } from "../../app/settle/loss-rule";
import type { Settled } from "../../app/settle/settle";
import { statementCell } from "../../app/settle/statement-cells";
import { rowLabel, rowOf } from "../../core/document/access";
import { AfterPaint } from "../controls/after-paint";
import { LinkedNumber } from "../controls/linked-number";
import { pageLocale } from "../controls/page-locale";
import { PageWords } from "../controls/page-words";
import { Scrolled } from "../controls/scrolled";
import { TableHead } from "../controls/table-head";
import { booksOf, periodInView } from "./books-now";
import { Accounts, Checks, GivenOutList, StockMovements } from "./books-parts";
import { DaysPart } from "./days-part";
import { PeriodHead } from "./period-head";
import { minorText, settledOf, Unsettled } from "./settled";

/** The statements of the open edition. */
export function AccountantPage({ session, platform }: { readonly session: Session; readonly platform: PrintPlatform }) {
  session.valuesVersion.value;
  const lossRuns = session.value({ sheet: "edition", row: "loss_runs", column: "value" });
  const { title, currency } = session.book.value.meta;
  return (
    <article class="paper" id="sheet" tabIndex={-1} aria-label="For the accountant" data-testid="accountant">
      <header>
        <h2>{title}, for the accountant</h2>
        <p class="quiet">
          {currency}. Each piece is costed by itself. {lossRule(typeof lossRuns === "number" ? lossRuns : 0)} Stock
          stands at cost or at what it will fetch, whichever is lower.
        </p>
        <PageWords page="accountant" />
      </header>
      <PeriodHead session={session} platform={platform} />
      <AfterPaint>{() => <Statements session={session} />}</AfterPaint>
    </article>
  );
}

function Statements({ session }: { readonly session: Session }) {
  session.valuesVersion.value;
  const result = settledOf(session);
  if (!result.ok) return <Unsettled session={session} result={result} />;
  const settled = result.value;
  const { digits } = settled.ledger;
  return (
    <>
      <ByPeriod session={session} />
      <h3>Cost statement, everything so far</h3>
      <Statement session={session} rows={settled.statement} digits={digits} />
      <h3>Stock</h3>
      <Stock inventory={settled.inventory} digits={digits} />
      <h3>Sales</h3>
      <Sales sales={settled.sales} digits={digits} />
      <h3>Step by step</h3>
      <p class="quiet">
        What is carried into a step, and the work added there, less all that the pieces lost there had cost, with the
        normal losses that the pieces going on bear, less what waits, is carried on. All tiers together end in the
        amounts above.
      </p>
      <Steps session={session} settled={settled} />
    </>
  );
}

/** What moved in the period in view, the checks of it, what was given out, and what accounts are called. */
function ByPeriod({ session }: { readonly session: Session }) {
  const books = booksOf(session);
  const { from, to } = periodInView(session);
  return (
    <>
      <DaysPart session={session} />
      <Unsettled session={session} result={books} />
      {books.ok ? (
        <>
          <h3>
            {dayText(from, pageLocale())} to {dayText(to, pageLocale())}
          </h3>
          <StockMovements session={session} period={books.value.period} />
          <Checks session={session} checks={books.value.checks} />
        </>
      ) : null}
      <h3>Given out</h3>
      <GivenOutList session={session} />
      <Accounts session={session} />
    </>
  );
}

interface StatementProps {
  readonly session: Session;
  readonly rows: readonly StatementRow[];
  readonly digits: number;
}

function Statement({ session, rows, digits }: StatementProps) {
  const { locale } = session.formats;
  return (
    <table class="plain-table wide">
      <TableHead titles={["spent on", "grams", "fine metal, g", session.formats.currency]} />
      <tbody>
        {rows
          .filter((row) => row.minor !== 0 || row.kind === "total")
          .map((row) => {
            const text = `${row.kind === "deduction" ? "\u2212" : ""}${minorText(row.minor, digits) || "0"}`;
            const cell = statementCell(session.book.value, row.label);
            return (
              <tr key={row.label} class={row.kind === "total" ? "sum" : row.kind === "note" ? "note-row" : ""}>
                <th scope="row">{row.label}</th>
                <td>{row.grams === undefined ? "" : showNumber(row.grams, 1, 1, locale)}</td>
                <td>{row.fineGrams === undefined ? "" : showNumber(row.fineGrams, 3, 3, locale)}</td>
                <td>{cell ? <LinkedNumber session={session} number={{ text, cell }} /> : text}</td>
              </tr>
            );
          })}
      </tbody>
    </table>
  );
}

const GROUPS = [
  ["finished", "Good pieces"],
  ["seconds", "Seconds"],
  ["consigned", "Consigned"],
  ["inProgress", "In progress"],
] as const;

function Stock({ inventory, digits }: { readonly inventory: Inventory; readonly digits: number }) {
  const sum = (group: string, amount: (line: Inventory["lines"][number]) => number) =>
    inventory.lines.reduce((total, line) => (line.group === group ? total + amount(line) : total), 0);
  return (
    <>
      <table class="plain-table wide">
        <TableHead titles={["group", "pieces", "cost", "written down", "carried at"]} />
        <tbody>
          {GROUPS.map(([group, title]) => (
            <tr key={group}>
              <th scope="row">{title}</th>
              <td>{sum(group, () => 1)}</td>
              <td>
                {minorText(
                  sum(group, (line) => line.costMinor),
                  digits,
                )}
              </td>
              <td>
                {minorText(
                  sum(group, (line) => line.writeDownMinor),
                  digits,
                )}
              </td>
              <td>
                {minorText(
                  sum(group, (line) => line.carriedMinor),
                  digits,
                )}
              </td>
            </tr>
          ))}
          <tr class="sum">
            <th scope="row">Together</th>
            <td>{inventory.lines.length}</td>
            <td>{minorText(inventory.costMinor, digits)}</td>
            <td>{minorText(inventory.costMinor - inventory.carriedMinor, digits)}</td>
            <td>{minorText(inventory.carriedMinor, digits)}</td>
          </tr>
        </tbody>
      </table>
      <details>
        <summary>Piece by piece</summary>
        <table class="plain-table">
          <TableHead titles={["Piece", "is", "cost", "will fetch", "carried at"]} />
          <tbody>
            {inventory.lines.map((line) => (
              <tr key={line.piece}>
                <th scope="row">{line.piece}</th>
                <td>{GROUPS.find(([group]) => group === line.group)?.[1]}</td>
                <td>{minorText(line.costMinor, digits)}</td>
                <td>{line.netRealisableMinor === undefined ? "" : minorText(line.netRealisableMinor, digits)}</td>
                <td>{minorText(line.carriedMinor, digits)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </>
  );
}

const BECAME_TITLES = [
  ["sold", "Sold"],
  ["given away", "Given away"],
  ["kept", "Kept by the maker"],
  ["broken", "Broken after finishing"],
] as const;

/** What left the stock, and what was paid for it. */
function Sales({ sales, digits }: { readonly sales: readonly SaleMinor[]; readonly digits: number }) {
  const rows = BECAME_TITLES.filter(([became]) => sales.some((sale) => sale.became === became));
  if (rows.length === 0)
    return <p class="quiet">Nothing has been sold yet. What is sold is recorded on the page Sales.</p>;
  return (
    <table class="plain-table wide">
      <TableHead titles={["", "pieces", "paid", "tax in it", "fees and commission", "packing", "cost"]} />
      <tbody>
        {rows.map(([became, title]) => (
          <tr key={became}>
            <th scope="row">{title}</th>
            <td>{sales.filter((sale) => sale.became === became).length}</td>
            {(["priceMinor", "taxMinor", "feesMinor", "packingMinor", "costMinor"] as const).map((of) => (
              <td key={of}>{minorText(sumOfSales(sales, of, became), digits)}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const TIER_TITLES: Readonly<Record<string, string>> = { standard: "Standard pieces", special: "Special pieces" };

/** What each tier carries from step to step; the last row carries on what the finished pieces cost. */
function Steps({ session, settled }: { readonly session: Session; readonly settled: Settled }) {
  const { flows, ledger } = settled;
  return (
    <>
      {flows.map((flow) => (
        <Flow key={flow.tier} session={session} flow={flow} isAlone={flows.length === 1} digits={ledger.digits} />
      ))}
    </>
  );
}

interface FlowProps {
  readonly session: Session;
  readonly flow: TierFlow;
  /** Whether the route's own numbers are those of this tier. */
  readonly isAlone: boolean;
  readonly digits: number;
}

function Flow({ session, flow, isAlone, digits }: FlowProps) {
  const money = (minor: number) => (minor === 0 ? "" : minorText(minor, digits));
  const name = (step: string | undefined) => {
    const row = step === undefined ? undefined : rowOf(session.book.value, "route", step);
    return row ? rowLabel("route", row) : "To be passed";
  };
  const of = isAlone ? "all pieces" : (TIER_TITLES[flow.tier] ?? flow.tier);
  const titles = [
    ...[isAlone ? "Step" : of, "carried in", "at", "had it", "added here"],
    ...["lost", "taken off for them", "losses borne", "wait here", "at", "carried on", "at"],
  ];
  return (
    <Scrolled label={`Step by step: ${of}`}>
      <table class="plain-table wide">
        <TableHead titles={titles} />
        <tbody>
          {flow.rows.map((row) => (
            <tr key={row.step ?? ""}>
              <th scope="row">{name(row.step)}</th>
              <td>{row.inPieces || ""}</td>
              <td>{money(row.carriedIn)}</td>
              <td>{row.had || ""}</td>
              <td>
                {isAlone && row.step !== undefined && row.added !== 0 ? (
                  <LinkedNumber
                    session={session}
                    number={{ text: money(row.added), cell: { sheet: "route", row: row.step, column: "cost" } }}
                  />
                ) : (
                  money(row.added)
                )}
              </td>
              <td>{row.lost || ""}</td>
              <td>{row.takenOff === 0 ? "" : `\u2212${money(row.takenOff)}`}</td>
              <td>{money(row.borne)}</td>
              <td>{row.waiting || ""}</td>
              <td>{row.waits === 0 ? "" : `\u2212${money(row.waits)}`}</td>
              <td>{row.onPieces || ""}</td>
              <td>{money(row.on)}</td>
            </tr>
          ))}
          <tr class="sum">
            <th scope="row">Finished</th>
            <td colSpan={8} />
            <td colSpan={2}>{flow.seconds === 0 ? "" : `of which seconds ${money(flow.seconds)}`}</td>
            <td>{flow.rows.at(-1)?.onPieces || ""}</td>
            <td>{money(flow.good + flow.seconds) || "0"}</td>
          </tr>
        </tbody>
      </table>
    </Scrolled>
  );
}
