// The fields of a sale: day, channel, price, document.

import { moneyText } from "../../app/edition/money-text";
import type { Session } from "../../app/edition/session";
import { amountTitle } from "../../app/edition/typed-amount";
import { readerOf } from "../../app/settle/cell-reader";
import { pricesAre } from "../../app/settle/price-terms";
import { listed } from "../../core/counted";
import { rowOf } from "../../core/document/access";
import { AmountField } from "../controls/amount-field";
import { DateInput } from "../controls/date-input";
import { PRICE_FIELD, payable, type SaleForm } from "./sale-form";

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
            title={amountTitle(session, `Price each, ${pricesAre(readerOf(session))}`, PRICE_FIELD)}
            field={PRICE_FIELD}
            text={form.price}
            hint={payableText(session, form, chosen)}
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

/** What is paid for the chosen pieces by what is filled in, both ways. */
function payableText(session: Session, form: SaleForm, chosen: readonly string[]): string {
  const counts = new Map<string, number>();
  for (const { gross, net } of payable(session, form, chosen).values()) {
    if (Number.isNaN(gross)) continue;
    const both = `${moneyText(session, gross)} with tax, ${moneyText(session, net)} without`;
    counts.set(both, (counts.get(both) ?? 0) + 1);
  }
  const all = [...counts];
  const text = all.length === 1 ? all[0]?.[0] : listed(all.map(([both, count]) => `${count} at ${both}`));
  if (form.price.trim() !== "") return text ? `${text}.` : "";
  return text ? `Left blank, it is the price they are offered at: ${text}.` : "What was paid for each.";
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
