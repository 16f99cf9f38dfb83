// What was seen of the numbers of the way, here and in earlier editions, and one press to plan with it.
import "./seen-part.css";
import type { Session } from "../../app/edition/session";
import { type SeenNumber, seenNumbers, takeSeen } from "../../app/plan/seen-plan";
import { goTo } from "../edition/go-to";

/** The part of the Plan page; nothing where nothing was seen. */
export function SeenPart({ session }: { readonly session: Session }) {
  const numbers = seenNumbers(session);
  if (numbers.length === 0) return null;
  const otherwise = numbers.filter(({ stands }) => stands === "takes" || stands === "can't");
  const others = numbers.filter((one) => !otherwise.includes(one));
  const taken = otherwise.filter(({ stands }) => stands === "takes");
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
      {others.length === 0 ? null : (
        <details>
          <summary>
            {others.length === 1 ? "1 number of the plan fits" : `${others.length} numbers of the plan fit`} what was
            seen
          </summary>
          <List session={session} numbers={others} />
        </details>
      )}
    </section>
  );
}

function List({ session, numbers }: { readonly session: Session; readonly numbers: readonly SeenNumber[] }) {
  if (numbers.length === 0) return null;
  return (
    <ul>
      {numbers.map((number) => (
        <li key={`${number.cell.row} ${number.cell.column}`}>
          <span>
            <button type="button" class="told" onClick={() => goTo(session, number.cell)}>
              {number.words}
            </button>{" "}
            <small class="quiet">{rangeWords(number)}</small>
          </span>
          {number.stands === "takes" || number.stands === "fits" ? (
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
  const of = editions === 1 ? "" : ` over ${editions} editions`;
  return range === undefined ? "one piece says little" : `95 %: ${range}${of}`;
}
