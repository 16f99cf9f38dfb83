// What was seen of the numbers of the way, here and in earlier editions, and one press to plan with it.
import { counted } from "../../core/counted";
import "./seen-part.css";
import { useEffect } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import type { Studio } from "../../app/keeping/studio";
import { othersKept } from "../../app/keeping/studio-editions";
import { elsewhereOf, readElsewhere } from "../../app/plan/seen-elsewhere";
import { seenEnergy } from "../../app/plan/seen-energy";
import { type SeenNumber, seenNumbers, takeSeen } from "../../app/plan/seen-plan";
import { goTo } from "../edition/go-to";

interface Props {
  readonly session: Session;
  readonly studio: Studio;
}

/** The part of the Plan page; nothing where nothing was seen and there is nowhere else to look. */
export function SeenPart({ session, studio }: Props) {
  useEffect(() => void studio.refreshList(), []);
  const numbers = [...seenNumbers(session), ...seenEnergy(session)];
  const elsewhere = <Elsewhere session={session} studio={studio} />;
  if (numbers.length === 0)
    return othersKept(studio).length === 0 ? null : (
      <section class="part seen" aria-label="Seen before" data-testid="plan-seen">
        <h3>Seen before</h3>
        {elsewhere}
      </section>
    );
  const otherwise = numbers.filter(({ stands }) => stands === "takes" || stands === "can't");
  const fitting = numbers.filter((one) => !otherwise.includes(one));
  const taken = otherwise.filter(({ stands, notPlannable }) => stands === "takes" && !notPlannable);
  return (
    <section class="part seen" aria-label="Seen before" data-testid="plan-seen">
      <div class="part-head">
        <h3>Seen before</h3>
        {taken.length > 1 ? (
          <button type="button" class="keep-all" onClick={() => takeSeen(session, taken)}>
            Plan with all {taken.length}
          </button>
        ) : null}
      </div>
      {otherwise.length === 0 ? (
        <p class="quiet">The plan fits what was seen.</p>
      ) : (
        <p class="quiet">The plan lies outside of what was counted and measured here and in earlier editions.</p>
      )}
      <List session={session} numbers={otherwise} />
      {fitting.length === 0 ? null : (
        <details>
          <summary>
            {counted(fitting.length, "number of the plan fits", "numbers of the plan fit")} what was seen
          </summary>
          <List session={session} numbers={fitting} />
        </details>
      )}
      {elsewhere}
    </section>
  );
}

/** One press to look at the other editions kept here, and what came of it. */
function Elsewhere({ session, studio }: Props) {
  const found = elsewhereOf(session).value;
  const count = othersKept(studio).length;
  if (count === 0) return null;
  const editions = (number: number) => counted(number, "other edition");
  if (found && found.done < found.of)
    return (
      <p class="quiet" role="status">
        Looking at edition {found.done + 1} of {found.of}…
      </p>
    );
  return (
    <p class="elsewhere">
      <span class="quiet" role="status">
        {found?.seen.length === 0
          ? "No other edition kept here has seen anything more of these steps."
          : found
            ? `${editions(found.seen.length)} kept here had steps of the same kind and name: their losses, minutes and coats are in these numbers.`
            : "Other editions kept here may have seen steps of the same kind and name."}
      </span>
      <button type="button" onClick={() => void readElsewhere(studio, session)}>
        {found ? "Look again" : `Look at ${editions(count)}`}
      </button>
    </p>
  );
}

function List({ session, numbers }: { readonly session: Session; readonly numbers: readonly SeenNumber[] }) {
  if (numbers.length === 0) return null;
  return (
    <ul>
      {numbers.map((number) => (
        <li key={`${number.cell.row} ${number.cell.column}`}>
          <span>
            <button type="button" class="linked" onClick={() => goTo(session, number.cell)}>
              {number.words}
            </button>{" "}
            <small class="quiet">{rangeWords(number)}</small>
          </span>
          {number.notPlannable ? (
            <span class="quiet">{number.notPlannable}</span>
          ) : number.stands === "takes" || number.stands === "fits" ? (
            <button type="button" onClick={() => takeSeen(session, [number])}>
              Plan {number.plannable}
              <span class="unseen">: {number.words}</span>
            </button>
          ) : (
            <span class="quiet">{number.stands === "same" ? "✓ holds" : "can’t be planned"}</span>
          )}
        </li>
      ))}
    </ul>
  );
}

function rangeWords({ range, editions }: SeenNumber): string {
  const of = editions === 1 ? "" : ` over ${counted(editions, "edition")}`;
  return range === undefined ? "one piece says little" : `95 %: ${range}${of}`;
}
