// The edition statement on paper.
import type { StatementRow } from "../../accounts/statement";
import { showNumber } from "../../app/edition/format";
import type { EditionStatement, LossLine, TierLine } from "../../app/paper/edition-statement";
import { TableHead } from "../controls/table-head";
import { minorText } from "../settle/settled";
import { Facts, type Heading, Leaf } from "./parts";

interface StatementProps {
  readonly statement: EditionStatement;
  readonly heading: Heading;
  readonly currency: string;
  readonly locale: string;
}

/** The statement of the whole edition. */
export function StatementPaper({ statement, heading, currency, locale }: StatementProps) {
  const { digits } = statement;
  return (
    <Leaf heading={heading} paper="Edition statement" title={`${heading.edition}: what it came to`}>
      <p>
        Amounts are {currency}, each rounded once; every total is the sum of what stands above it, so a total may differ
        from the Results sheet in its last digit.
      </p>
      <Counts statement={statement} />
      <Tiers statement={statement} digits={digits} />
      <Losses statement={statement} digits={digits} />
      <h4>What was put in, and what became of it</h4>
      <Rows rows={statement.statement} digits={digits} titles={["Spent on", "grams", currency]} locale={locale} />
      <h4>Whether it paid</h4>
      <Rows rows={statement.pays} digits={digits} titles={["What is left", "", currency]} locale={locale} />
      <h4>Yields, and what was used</h4>
      <Facts facts={statement.quantities} />
    </Leaf>
  );
}

interface PartProps {
  readonly statement: EditionStatement;
  readonly digits: number;
}

const amount = (minor: number, digits: number) => minorText(minor, digits) || "0";

function Counts({ statement }: Pick<PartProps, "statement">) {
  return (
    <>
      <h4>Pieces</h4>
      <table class="ruled narrow">
        <TableHead titles={["Pieces", "number"]} numbers={1} />
        <tbody>
          {statement.counts.map(({ label, pieces }) => (
            <tr key={label}>
              <th scope="row">{label}</th>
              <td class="number">{pieces}</td>
            </tr>
          ))}
          <tr class="sum">
            <th scope="row">Started</th>
            <td class="number">{statement.started}</td>
          </tr>
        </tbody>
      </table>
    </>
  );
}

function Tiers({ statement, digits }: PartProps) {
  if (statement.tiers.length === 0) return <p>No piece is finished yet.</p>;
  const row = (line: TierLine, title: string) => (
    <tr key={title} class={line === statement.allTiers ? "sum" : ""}>
      <th scope="row">{title}</th>
      <td class="number">{line.pieces}</td>
      <td class="number">{amount(line.bringsIn, digits)}</td>
      <td class="number">{amount(line.cost, digits)}</td>
      <td class="number">{amount(line.leaves, digits)}</td>
    </tr>
  );
  return (
    <>
      <h4>Finished pieces by tier, those in stock at their prices</h4>
      <table class="ruled">
        <TableHead titles={["Tier", "pieces", "bring in, after tax, fees and packing", "cost", "leave"]} numbers={4} />
        <tbody>
          {statement.tiers.map((line) => row(line, line.tier))}
          {row(statement.allTiers, "Together")}
        </tbody>
      </table>
    </>
  );
}

function Losses({ statement, digits }: PartProps) {
  if (statement.losses.length === 0) return <p>Nothing has been lost.</p>;
  const row = (line: LossLine) => (
    <tr key={line.title} class={line === statement.allLosses ? "sum" : ""}>
      <th scope="row">{line.title}</th>
      <td class="number">{line === statement.allLosses ? "" : line.entered}</td>
      <td class="number">{line.lost}</td>
      <td class="number">{amount(line.normal, digits)}</td>
      <td class="number">{amount(line.abnormal, digits)}</td>
      <td class="number">{amount(line.together, digits)}</td>
    </tr>
  );
  return (
    <>
      <h4>What the losses cost, less clay won back and scrap</h4>
      <table class="ruled">
        <TableHead titles={["Step", "entered", "lost", "normal", "abnormal", "together"]} numbers={5} />
        <tbody>
          {statement.losses.map(row)}
          {row(statement.allLosses)}
        </tbody>
      </table>
      <p>{statement.lossRule}</p>
    </>
  );
}

interface RowsProps {
  readonly rows: readonly StatementRow[];
  readonly digits: number;
  readonly titles: readonly string[];
  readonly locale: string;
}

function Rows({ rows, digits, titles, locale }: RowsProps) {
  const shown = titles.filter((title) => title !== "");
  return (
    <table class="ruled">
      <TableHead titles={shown} numbers={shown.length - 1} />
      <tbody>
        {rows.map((row) => (
          <tr key={row.label} class={row.kind === "total" ? "sum" : row.kind === "note" ? "within" : ""}>
            <th scope="row">{row.label}</th>
            {shown.length === 3 ? (
              <td class="number">{row.grams === undefined ? "" : showNumber(row.grams, 0, 1, locale)}</td>
            ) : null}
            <td class="number">
              {row.kind === "deduction" && row.minor > 0 ? "\u2212" : ""}
              {amount(row.kind === "deduction" && row.minor < 0 ? -row.minor : row.minor, digits)}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
