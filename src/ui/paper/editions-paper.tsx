// Editions side by side on paper: two tables a currency, so that they fit a page that stands upright.
import { dayText } from "../../app/edition/written-days";
import {
  type CurrencyGroup,
  type EditionComparison,
  inSideOrder,
  measureValue,
} from "../../app/shelf/edition-comparison";
import { EDITION_MEASURES, type EditionMeasure } from "../../app/shelf/edition-measures";
import { counted } from "../../core/counted";
import { TableHead } from "../controls/table-head";
import { editionMeasureText, measureUnit } from "../shelf/measure-text";
import { type Heading, Leaf } from "./parts";

interface Props {
  readonly found: EditionComparison;
  readonly heading: Heading;
  readonly locale: string;
}

const HALF = 6;

/** The paper. */
export function EditionsPaper({ found, heading, locale }: Props) {
  const { groups, leftOut } = found;
  return (
    <Leaf heading={heading} paper="Editions side by side" title="Editions side by side">
      {groups.map((group) => (
        <section key={group.currency}>
          {groups.length > 1 ? <h4>{group.currency}</h4> : null}
          <Table group={group} measures={EDITION_MEASURES.slice(0, HALF)} locale={locale} />
          <Table group={group} measures={EDITION_MEASURES.slice(HALF)} locale={locale} />
        </section>
      ))}
      {leftOut.length === 0 ? null : (
        <p>Not in the tables: {leftOut.map(({ title, why }) => `${title} (${why})`).join("; ")}.</p>
      )}
    </Leaf>
  );
}

interface TableProps {
  readonly group: CurrencyGroup;
  readonly measures: readonly EditionMeasure[];
  readonly locale: string;
}

function Table({ group: { currency, editions, together }, measures, locale }: TableProps) {
  const titles = measures.map((measure) => `${measure.title}, ${measureUnit(measure, currency)}`);
  return (
    <table class="ruled">
      <TableHead titles={["Edition", "started on", ...titles]} numbers={measures.length} />
      <tbody>
        {inSideOrder(editions, { by: "began", isDown: true }).map((one) => (
          <tr key={one.id}>
            <th scope="row">
              {one.title}
              {(one.sums?.inProgress ?? 0) > 0 ? ` (${one.sums?.inProgress} still in progress)` : ""}
            </th>
            <td>{one.began === "" ? "" : dayText(one.began, locale)}</td>
            {measures.map((measure) => (
              <td key={measure.id} class="number">
                {editionMeasureText(measureValue(one, measure), measure, currency, locale)}
              </td>
            ))}
          </tr>
        ))}
        {editions.length > 1 ? (
          <tr class="sum">
            <th scope="row">Together, {counted(editions.length, "edition")}</th>
            <td />
            {measures.map((measure) => (
              <td key={measure.id} class="number">
                {editionMeasureText(measure.of(together), measure, currency, locale)}
              </td>
            ))}
          </tr>
        ) : null}
      </tbody>
    </table>
  );
}
