// The fields of a sale: day, channel, price, document.

import { moneyText } from "../../app/edition/money-text";
import type { Session } from "../../app/edition/session";
import { amountTitle } from "../../app/edition/typed-amount";
import { offeredPrices } from "../../app/record/sales";
import { listed } from "../../core/counted";
import { rowOf } from "../../core/document/access";
import { AmountField } from "../controls/amount-field";
import { DateInput } from "../controls/date-input";
import { PRICE_FIELD, type SaleForm } from "./sale-form";

interface Props {
  readonly session: Session;
  readonly form: SaleForm;
  readonly chosen: readonly string[];
  readonly change: (to: Partial<SaleForm>) => void;
}

/** What the choice in hand asks for. */
export function SaleFields(props: Props) {
  const { session, form, chosen, change } = props;
  const { became } = form;
  if (became === "in stock") return null;
  const takesChannel = became === "sold" || became === "consigned";
  return (
    <>
      <div class="row">
        <label class="field">
          <span>Day</span>
          <DateInput required value={form.day} onInput={(event) => change({ day: event.currentTarget.value })} />
        </label>
        {became === "sold" ? (
          <AmountField
            session={session}
            title={amountTitle(session, "Price each", PRICE_FIELD)}
            field={PRICE_FIELD}
            text={form.price}
            hint={offeredText(session, chosen)}
            onText={(price) => change({ price })}
          />
        ) : null}
      </div>
      {takesChannel ? <Channel {...props} /> : null}
      {takesChannel ? (
        <label class="field">
          <span>Invoice, receipt or delivery note, if there is one</span>
          <input
            maxLength={200}
            autocomplete="off"
            value={form.document}
            onInput={(event) => change({ document: event.currentTarget.value })}
          />
        </label>
      ) : null}
    </>
  );
}

/** What a blank price means. */
function offeredText(session: Session, chosen: readonly string[]): string {
  const counts = new Map<number, number>();
  for (const price of offeredPrices(session, chosen).values()) counts.set(price, (counts.get(price) ?? 0) + 1);
  if (counts.size === 0) return "As the buyer pays it, tax included.";
  const all = [...counts].sort(([a], [b]) => b - a);
  const [only] = all;
  const text =
    all.length === 1 && only
      ? moneyText(session, only[0])
      : listed(all.map(([price, count]) => `${count} at ${moneyText(session, price)}`));
  return `Tax included. Left blank, it is the price they are offered at: ${text}.`;
}

function Channel({ session, form, chosen, change }: Props) {
  const book = session.book.value;
  const isConsigned = chosen.some((id) => rowOf(book, "pieces", id)?.cells.became === "consigned");
  const none = isConsigned ? "Where it is consigned" : "No channel: fees and tax as on Edition";
  return (
    <div class="row">
      <label class="field">
        <span>Where</span>
        <select value={form.channel} onChange={(event) => change({ channel: event.currentTarget.value })}>
          <option value="">{form.became === "sold" ? none : "Not said"}</option>
          {book.sheets.channels.rows.map((row) => (
            <option key={row.id} value={`there ${row.cells.id}`}>
              {String(row.cells.id)}
            </option>
          ))}
          <option value="new">A new channel</option>
        </select>
      </label>
      {form.channel === "new" ? (
        <label class="field">
          <span>Its name</span>
          <input
            maxLength={60}
            autocomplete="off"
            value={form.newChannel}
            onInput={(event) => change({ newChannel: event.currentTarget.value })}
          />
        </label>
      ) : null}
    </div>
  );
}
