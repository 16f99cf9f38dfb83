// What became of finished pieces: choose them, say where, when and for how much, read what will happen, record it.
import { plural } from "../../core/counted";
import "../shell/pages.css";
import "./record.css";
import { useRef, useState } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import { stockGroups } from "../../app/record/sales";
import { PageWords } from "../controls/page-words";
import { namedInBox } from "../edition/chosen";
import { RecordFoot } from "./record-foot";
import { RecordPieces } from "./record-pieces";
import { SaleFields } from "./sale-fields";
import { blankSale, type SaleForm, saleAsked } from "./sale-form";
import { useRecording } from "./use-recording";

const BECAME = [
  ["sold", "Sold"],
  ["consigned", "Consigned"],
  ["given away", "Given away"],
  ["kept", "Kept"],
  ["broken", "Broken"],
  ["in stock", "Back in stock"],
] as const;

/** The page “Sales”. */
export function SalesPage({ session }: { readonly session: Session }) {
  session.valuesVersion.value;
  const [form, setForm] = useState<SaleForm>(() => blankSale(session.today()));
  const page = useRef<HTMLElement>(null);
  const named = namedInBox(session);
  const chosen = named?.ok ? named.value : [];
  const recording = useRecording(session, chosen, saleAsked(session, form, chosen), () => {
    // The next buyer is at the same fair on the same day.
    const channel = form.channel === "new" ? `there ${form.newChannel.trim()}` : form.channel;
    setForm({ ...form, channel, newChannel: "", price: "", document: "" });
    page.current?.focus({ preventScroll: true });
  });
  return (
    <article class="bench" id="sheet" tabIndex={-1} aria-label="Sales" data-testid="sales" ref={page}>
      <h2>Sales</h2>
      <PageWords page="sales" />
      <p role="status" class="quiet" data-testid="sold-so-far">
        {soldSoFar(session)}
      </p>
      <div class="bench-columns">
        <RecordPieces
          session={session}
          groups={stockGroups(session)}
          named={named}
          none="No finished piece is in stock. Pass pieces as good or second on Record; sold pieces can be chosen by number."
        />
        <section class="what" aria-labelledby="what-became">
          <h3 id="what-became">What became of them?</h3>
          <fieldset class="each" aria-labelledby="what-became">
            {BECAME.map(([became, title]) => (
              <button
                type="button"
                key={became}
                aria-pressed={form.became === became}
                onClick={() => setForm({ ...form, became })}
              >
                {title}
              </button>
            ))}
          </fieldset>
          <SaleFields session={session} form={form} chosen={chosen} change={(to) => setForm({ ...form, ...to })} />
        </section>
      </div>
      <RecordFoot session={session} recording={recording} />
    </article>
  );
}

/** How many are sold and how many are left to sell. */
function soldSoFar(session: Session): string {
  const count = (id: string) => Number(session.result(id) ?? 0);
  const stock = `${count("in_stock")} finished ${plural(count("in_stock"), "piece")} in stock`;
  const away = session.book.value.sheets.pieces.rows.filter(({ cells }) => cells.became === "consigned").length;
  const consigned = away > 0 ? `, ${away} of them consigned` : "";
  return count("sold") === 0
    ? `Nothing is sold yet; ${stock}${consigned}.`
    : `${count("sold")} sold; ${stock}${consigned}.`;
}
