// How the stock of one material came to be what it is: every purchase, use and stock-take, the newest first.
import { useState } from "preact/hooks";
import type { StockLine } from "../../accounts/stock";
import type { Session } from "../../app/edition/session";
import { dayText } from "../../app/edition/written-days";
import type { MaterialStock } from "../../app/shelf/stock";
import { TableHead } from "../controls/table-head";
import { goTo } from "../edition/go-to";
import { gramsText, minorMoney, priceText } from "./stock-words";

interface Props {
  readonly session: Session;
  readonly stock: MaterialStock | undefined;
}

/** Lines shown before “Show all”. */
const FIRST = 12;
const TITLES = ["date", "what", "grams", "price", "worth", "left"];

export function Movements({ session, stock }: Props) {
  const [isWhole, setWhole] = useState(false);
  if (!stock) return null;
  const lines = stock.stock.lines.toReversed();
  if (lines.length === 0) return <p class="quiet">Nothing was bought, counted or used of {stock.material} yet.</p>;
  return (
    <>
      <h4>{stock.material}: how it came to that</h4>
      {stock.undated > 0 ? (
        <p class="quiet">
          {gramsText(session, stock.undated)} used on no known day: typed on a sheet, not recorded. Taken to be used
          last.
        </p>
      ) : null}
      <table class="plain-table stock moves">
        <TableHead titles={TITLES} />
        <tbody>
          {lines.slice(0, isWhole ? undefined : FIRST).map((line, at) => (
            <Line key={lines.length - at} session={session} line={line} />
          ))}
        </tbody>
      </table>
      {lines.length > FIRST && !isWhole ? (
        <button type="button" onClick={() => setWhole(true)}>
          Show all {lines.length}
        </button>
      ) : null}
    </>
  );
}

function Line({ session, line }: { readonly session: Session; readonly line: StockLine }) {
  const { movement, grams, minor, perGram, leftGrams } = line;
  const cells = [
    signed(grams, gramsText(session, Math.abs(grams))),
    perGram === undefined ? "" : priceText(session, perGram),
    signed(minor, minorMoney(session, Math.abs(minor))),
    gramsText(session, leftGrams),
  ];
  return (
    <tr>
      <th scope="row">{movement.day === "" ? "no day" : dayText(movement.day, session.formats.locale)}</th>
      <td data-title={TITLES[1]}>
        <What session={session} line={line} />
      </td>
      {cells.map((text, at) => (
        <td key={TITLES[at + 2]} data-title={TITLES[at + 2]}>
          {text}
        </td>
      ))}
    </tr>
  );
}

const signed = (of: number, text: string) => (of < 0 ? `\u2212${text}` : of > 0 ? `+${text}` : text);

function What({ session, line }: { readonly session: Session; readonly line: StockLine }) {
  const { movement, grams, short, correctedMinor, from } = line;
  const words: Record<typeof movement.kind, string> = {
    bought: "Bought",
    used: `Used by ${"by" in movement ? movement.by : ""}`,
    back: `Clay back from ${"by" in movement ? movement.by : ""}`,
    counted: grams === 0 ? "Counted: as it should be" : grams < 0 ? "Counted: missing" : "Counted: found more",
  };
  const row =
    "name" in movement
      ? session.book.value.sheets.purchases.rows.find(({ cells }) => cells.id === movement.name)
      : undefined;
  const reference = typeof row?.cells.reference === "string" ? `, ${row.cells.reference}` : "";
  return (
    <>
      {words[movement.kind]}
      {row ? (
        <>
          {" "}
          <button
            type="button"
            class="link"
            onClick={() => goTo(session, { sheet: "purchases", row: row.id, column: "grams" })}
          >
            {String(row.cells.id)}
          </button>
          {reference}
        </>
      ) : null}
      {movement.kind === "used" && from.length > 0 ? <span class="quiet"> from {from.join(", ")}</span> : null}
      {short > 0 ? <b class="below"> {gramsText(session, short)} more than there was</b> : null}
      {correctedMinor !== 0 ? (
        <span class="quiet">
          {" "}
          {minorMoney(session, Math.abs(correctedMinor))} {correctedMinor > 0 ? "more" : "less"} than was charged before
          it was bought
        </span>
      ) : null}
    </>
  );
}
