// The stock of the shelf: what is left of each material and what it is worth, what is to be bought, and how it came to that.
import "../controls/plain-table.css";
import "./stock.css";
import { useEffect, useState } from "preact/hooks";
import { moneyText } from "../../app/edition/money-text";
import type { Session } from "../../app/edition/session";
import { dayText } from "../../app/edition/written-days";
import type { Studio } from "../../app/keeping/studio";
import { chooseMethod } from "../../app/shelf/purchases";
import { type MaterialStock, methodOf, shelfStock } from "../../app/shelf/stock";
import { countedUses, readUses, usesOf } from "../../app/shelf/uses";
import { counted, listed, plural } from "../../core/counted";
import { STOCK_METHODS } from "../../core/document/sheet-keys";
import { TableHead } from "../controls/table-head";
import { FineMetalPart } from "./fine-metal-part";
import { Movements } from "./movements";
import { PrintSection } from "./print-section";
import { PurchaseForm } from "./purchase-form";
import { Refusal } from "./refusal";
import { gramsText, minorMoney, packsText, priceText } from "./stock-words";

interface Props {
  readonly session: Session;
  readonly studio: Studio;
}

/** Purchases, stock and what to buy, on the page of the shelf itself. */
export function StockPart({ session, studio }: Props) {
  const book = session.book.value;
  const uses = usesOf(session).value;
  const [chosen, setChosen] = useState("");
  useEffect(() => void readUses(studio, session), []);
  if (book.sheets.materials.rows.length === 0)
    return (
      <section aria-label="Stock">
        <h3>Stock</h3>
        <p class="quiet">No material is on the shelf yet: put some on it from an edition, or add them on Materials.</p>
      </section>
    );
  const counting = countedUses(uses?.editions ?? []);
  const stock = shelfStock(book, counting, session.digits);
  if (!stock.ok)
    return (
      <section aria-label="Stock">
        <h3>Stock</h3>
        <Refusal problems={stock.problems} />
      </section>
    );
  const all = stock.value;
  const material = all.some((one) => one.material === chosen) ? chosen : (all[0]?.material ?? "");
  const isReading = uses === undefined || uses.done < uses.of;
  return (
    <>
      <section aria-label="Stock">
        <div class="head">
          <h3>Stock</h3>
          <label>
            What is used is priced at{" "}
            <select
              value={methodOf(book)}
              onChange={(event) => {
                const method = STOCK_METHODS[event.currentTarget.selectedIndex];
                if (method) chooseMethod(session, method);
              }}
            >
              <option value="average">the average of what is there</option>
              <option value="first in first out">the price of the oldest: first in, first out</option>
            </select>
          </label>
        </div>
        <PurchaseForm session={session} material={material} onMaterial={setChosen} />
        <StockTable session={session} stock={all} chosen={material} onChoose={setChosen} />
        <p class="quiet" role="status">
          {isReading
            ? `Looking at what ${uses ? `${uses.done} of ${uses.of}` : "the"} editions have used…`
            : usesSummary(
                uses.editions.length,
                counting.length,
                counting.map(({ title }) => title),
              )}
        </p>
        <Movements session={session} stock={all.find((one) => one.material === material)} />
      </section>
      <ToBuy session={session} stock={all} isReading={isReading} print={studio.platform.print} />
      <FineMetalPart session={session} stock={all} uses={counting} print={studio.platform.print} />
    </>
  );
}

function usesSummary(all: number, used: number, titles: readonly string[]): string {
  if (all === 0) return "No edition is kept here yet, so nothing is used.";
  const left = all - used;
  const invented =
    left > 0 ? ` ${counted(left, "edition")} with invented data ${plural(left, "is", "are")} left out.` : "";
  return `Used by ${listed(titles, 4)}: what was recorded there, with overspray, losses and clay won back.${invented}`;
}

interface TableProps {
  readonly session: Session;
  readonly stock: readonly MaterialStock[];
  readonly chosen: string;
  readonly onChoose: (material: string) => void;
}

const TITLES = ["Material", "left", "in an opened pack", "worth", "price", "still needed"] as const;

function StockTable({ session, stock, chosen, onChoose }: TableProps) {
  return (
    <table class="plain-table stock">
      <TableHead titles={TITLES} />
      <tbody>
        {stock.map((one) => {
          const { leftGrams, leftMinor, perGram } = one.stock;
          const cells = one.isKept
            ? [gramsText(session, leftGrams), openText(session, one), minorMoney(session, leftMinor)]
            : ["not counted yet", "", ""];
          return (
            <tr key={one.material} class={one.material === chosen ? "chosen" : undefined}>
              <th scope="row">
                <button
                  type="button"
                  class="link"
                  aria-pressed={one.material === chosen}
                  onClick={() => onChoose(one.material)}
                >
                  {one.material}
                </button>
              </th>
              {[...cells, priceText(session, perGram), one.needed > 0 ? gramsText(session, one.needed) : "nothing"].map(
                (text, at) => (
                  <td key={TITLES[at + 1]} data-title={TITLES[at + 1]}>
                    {text}
                    {at === 0 && one.isKept && leftGrams < 0 ? <b class="below"> more used than there was</b> : null}
                  </td>
                ),
              )}
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

const openText = (session: Session, { openGrams }: MaterialStock) =>
  openGrams > 0 ? gramsText(session, openGrams) : "none";

interface ToBuyProps {
  readonly session: Session;
  readonly stock: readonly MaterialStock[];
  readonly isReading: boolean;
  readonly print: () => void;
}

/** What is lacking for all editions, less what is there, in whole packs. */
function ToBuy({ session, stock, isReading, print }: ToBuyProps) {
  const lines = stock.filter(({ buy }) => buy !== undefined);
  const { locale } = session.formats;
  const total = lines.reduce((sum, { buy }) => sum + (buy?.cost ?? 0), 0);
  return (
    <PrintSection session={session} title="To buy" print={print}>
      {lines.length === 0 ? (
        <p class="quiet">
          {isReading ? "Looking…" : "Nothing: what is left covers all that the kept editions still need."}
        </p>
      ) : (
        <ul>
          {lines.map((one) => (
            <li key={one.material}>
              <span>
                <b>{one.material}</b>: {packsText(one.buy?.packs ?? 0)}, {gramsText(session, one.buy?.grams ?? 0)}
                <span class="quiet">
                  {" "}
                  {gramsText(session, one.needed)} needed,{" "}
                  {one.isKept ? gramsText(session, one.stock.leftGrams) : "none counted as"} left
                  {one.runsOut
                    ? `; runs out in ${one.runsOut.title}: buy ${byText(session, one.runsOut.begins, locale)}`
                    : ""}
                </span>
              </span>
              <span>{moneyText(session, one.buy?.cost ?? 0)}</span>
            </li>
          ))}
          {lines.length > 1 ? (
            <li>
              <b>Together</b>
              <b>{moneyText(session, total)}</b>
            </li>
          ) : null}
        </ul>
      )}
    </PrintSection>
  );
}

/** By when something must be there. */
function byText(session: Session, begins: string, locale: string): string {
  return begins > session.today() ? `by ${dayText(begins, locale)}, when that begins` : "now, work on it has begun";
}
