// What is filled in on the Sales page, and what it asks to be recorded.
import type { Session } from "../../app/edition/session";
import { readAmount } from "../../app/edition/typed-amount";
import { pricesToPay } from "../../app/record/sales";
import type { SaleAsked } from "../../core/record/sale-edits";

export interface SaleForm {
  readonly became: SaleAsked["became"];
  readonly day: string;
  /** Blank for none, `new`, or `there` and its name. */
  readonly channel: string;
  readonly newChannel: string;
  readonly price: string;
  readonly document: string;
}

export const PRICE_FIELD = { unit: "¤", least: 0 } as const;

/** A form that has nothing filled in but the day. */
export function blankSale(today: string): SaleForm {
  return { became: "sold", day: today, channel: "", newChannel: "", price: "", document: "" };
}

/** What the buyer pays for each of the chosen pieces by what is filled in, both ways; NaN where it can't be read. */
export function payable(session: Session, form: SaleForm, chosen: readonly string[]): ReturnType<typeof pricesToPay> {
  const typed = form.price.trim() === "" ? undefined : readAmount(session, PRICE_FIELD, form.price).value;
  const channel = form.channel.startsWith("there ") ? wishOf(form).name : form.channel === "new" ? "" : undefined;
  return pricesToPay(session, chosen, typed, channel);
}

/** What the form asks to be recorded of the chosen pieces. */
export function saleAsked(session: Session, form: SaleForm, chosen: readonly string[]): SaleAsked {
  const { became, day, channel, document } = form;
  const paid = new Map([...payable(session, form, chosen)].map(([id, { gross }]) => [id, gross]));
  return {
    ...{ kind: "sale", became, day, today: session.today(), paid },
    ...(channel === "" ? {} : { channel: wishOf(form) }),
    ...(document.trim() === "" ? {} : { document }),
  };
}

function wishOf({ channel, newChannel }: SaleForm): NonNullable<SaleAsked["channel"]> {
  return channel === "new" ? { kind: "new", name: newChannel } : { kind: "there", name: channel.slice(6) };
}
