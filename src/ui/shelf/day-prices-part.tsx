// The prices of the days, beside an edition: what each step's material cost on the day it was recorded, taken over by one press.
import { useEffect, useMemo } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import type { Studio } from "../../app/keeping/studio";
import { type DayPricesPlan, planDayPrices } from "../../app/shelf/day-prices";
import { countedUses, readUses, useOf, usesOf } from "../../app/shelf/uses";
import { counted, plural } from "../../core/counted";
import type { Workbook } from "../../core/document/workbook";
import { Refusal } from "./refusal";

interface Props {
  readonly session: Session;
  readonly studio: Studio;
  readonly shelf: Workbook;
}

/** Shown where anything was bought. */
export function DayPricesPart({ session, studio, shelf }: Props) {
  useEffect(() => void readUses(studio, session), []);
  const id = studio.editionId.value ?? "";
  const [book, uses] = [session.book.value, usesOf(session).value];
  const isReady = uses !== undefined && uses.done === uses.of;
  const plan = useMemo(() => {
    if (!uses || !isReady) return undefined;
    const own = useOf(id, book);
    // The open edition draws in any case: it is what is asked about.
    const others = countedUses([...uses.editions, own]).filter((one) => one !== own);
    return planDayPrices(book, id, shelf, [...others, own], { digits: session.digits, today: session.today() });
  }, [book, shelf, uses, isReady]);
  return (
    <section aria-label="Prices of the days">
      <div class="head">
        <h3>Prices of the days</h3>
        {plan?.ok && plan.value.change.operations.length > 0 ? (
          <button
            type="button"
            onClick={() => session.commit(plan.value.change) && session.notifyDone(`${plan.value.change.label}.`)}
          >
            Take the prices of the days
          </button>
        ) : null}
      </div>
      {plan === undefined ? (
        <p role="status">Looking…</p>
      ) : plan.ok ? (
        <p class="quiet">{pricesSummary(plan.value)}</p>
      ) : (
        <Refusal problems={plan.problems} />
      )}
    </section>
  );
}

function pricesSummary({ change, priced, undated, moved }: DayPricesPlan): string {
  const steps = (count: number) => `${counted(count, "step")} of pieces`;
  const unknown =
    undated > 0
      ? ` ${steps(undated)} ${plural(undated, "was", "were")} typed and not recorded: nobody knows the day, and the price of Materials holds.`
      : "";
  if (change.operations.length === 0 && priced === 0) return `The prices here are as on the shelf.${unknown}`;
  if (change.operations.length === 0)
    return `${steps(priced)} ${plural(priced, "has", "have")} the price of the day, as on the shelf.${unknown}`;
  const recorded =
    priced > 0
      ? `${steps(priced)} ${plural(priced, "takes", "take")} what the material cost on the day it was recorded; for ${moved} that is another price than now. `
      : "";
  return `${recorded}What is recorded from now on has the price of its day, and what is bought later moves none of it.${unknown}`;
}
