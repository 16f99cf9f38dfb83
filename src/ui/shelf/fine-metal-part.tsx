// Fine metal in and out over a year, to be read and printed.
import { useState } from "preact/hooks";
import { showNumber } from "../../app/edition/format";
import type { Session } from "../../app/edition/session";
import { type FineMetalYear, metalInYear, metalYears } from "../../app/shelf/fine-metal";
import type { MaterialStock } from "../../app/shelf/stock";
import type { EditionUse } from "../../app/shelf/uses";
import { TableHead } from "../controls/table-head";
import { PrintSection } from "./print-section";

interface Props {
  readonly session: Session;
  readonly stock: readonly MaterialStock[];
  readonly uses: readonly EditionUse[];
  readonly print: () => void;
}

const COLUMNS: readonly (readonly [keyof Omit<FineMetalYear, "material">, string])[] = [
  ["opening", "at the start"],
  ["bought", "bought"],
  ["onPieces", "on pieces"],
  ["waste", "in brush and dish"],
  ["lost", "with lost pieces"],
  ["counted", "more or less at stock-takes"],
  ["left", "left"],
];

/** Nothing where no material has a metal content. */
export function FineMetalPart({ session, stock, uses, print }: Props) {
  const today = session.today();
  const years = metalYears(stock, today);
  const [chosen, setYear] = useState(today.slice(0, 4));
  const year = years.includes(chosen) ? chosen : (years[0] ?? "");
  const rows = metalInYear(stock, uses, year, today);
  if (rows.length === 0) return null;
  const grams = (of: number) => showNumber(of, 3, 3, session.formats.locale);
  const total = (key: (typeof COLUMNS)[number][0]) => rows.reduce((sum, row) => sum + row[key], 0);
  return (
    <PrintSection session={session} title="Fine metal in and out" print={print}>
      <p>
        <label>
          Year{" "}
          <select value={year} onChange={(event) => setYear(event.currentTarget.value)}>
            {years.map((one) => (
              <option key={one} value={one}>
                {one}
              </option>
            ))}
          </select>
        </label>
      </p>
      <table class="plain-table stock">
        <caption class="unseen">Grams of pure metal, {year}</caption>
        <TableHead titles={["Grams of pure metal", ...COLUMNS.map(([, title]) => title)]} />
        <tbody>
          {rows.map((row) => (
            <tr key={row.material}>
              <th scope="row">{row.material}</th>
              {COLUMNS.map(([key, title]) => (
                <td key={key} data-title={title}>
                  {grams(row[key])}
                </td>
              ))}
            </tr>
          ))}
          {rows.length > 1 ? (
            <tr class="sum">
              <th scope="row">Together</th>
              {COLUMNS.map(([key, title]) => (
                <td key={key} data-title={title}>
                  {grams(total(key))}
                </td>
              ))}
            </tr>
          ) : null}
        </tbody>
      </table>
      <p class="quiet">
        Grams × metal content × carat ÷ 24, as on Materials. What was used on no known day counts in this year.
      </p>
    </PrintSection>
  );
}
