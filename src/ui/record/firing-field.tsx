// Into which firing: left blank, a new one, or one that is there.

import type { Session } from "../../app/edition/session";
import { firingChoices, kilnOfStep } from "../../app/record/record";
import type { FiringWish } from "../../core/record/firing-wish";
import { nextFiringName } from "../../core/record/piece-edits";
import { DateInput } from "../controls/date-input";
import { KilnOptions } from "../controls/options";

interface Props {
  readonly session: Session;
  readonly step: string;
  readonly title: string;
  readonly wish: FiringWish | undefined;
  /** How many new firings come before this one, so that their names differ. */
  readonly at?: number;
  /** What no choice means; without it one must be chosen. */
  readonly blank?: string;
  readonly onWish: (wish: FiringWish | undefined) => void;
}

/** A new firing of a step, named on from the last one and dated today. */
export function newFiringWish(session: Session, step: string, skip = 0): FiringWish {
  const book = session.book.value;
  return { kind: "new", name: nextFiringName(book, skip), kiln: kilnOfStep(book, step), date: session.today() };
}

/** The choice of a firing for a step. */
export function FiringField({ session, step, title, wish, at = 0, blank, onWish }: Props) {
  const book = session.book.value;
  const choose = (value: string) => {
    if (value === "") onWish(undefined);
    else onWish(value === "new" ? newFiringWish(session, step, at) : { kind: "there", name: value.slice(6) });
  };
  return (
    <div class="firing-field">
      <label class="field">
        <span>{title}</span>
        <select
          value={wish === undefined ? "" : wish.kind === "new" ? "new" : `there ${wish.name}`}
          onChange={(event) => choose(event.currentTarget.value)}
        >
          {blank === undefined ? null : <option value="">{blank}</option>}
          <option value="new">A new firing</option>
          {firingChoices(session).map((firing) => (
            <option key={firing.name} value={`there ${firing.name}`}>
              {firing.title}
            </option>
          ))}
        </select>
      </label>
      {wish?.kind === "new" ? (
        <div class="row">
          <label class="field">
            <span>Its name</span>
            <input
              value={wish.name}
              maxLength={40}
              onInput={(event) => onWish({ ...wish, name: event.currentTarget.value })}
            />
          </label>
          <label class="field">
            <span>Kiln</span>
            <select value={wish.kiln} onChange={(event) => onWish({ ...wish, kiln: event.currentTarget.value })}>
              <KilnOptions book={book} />
            </select>
          </label>
          <label class="field">
            <span>Date</span>
            <DateInput
              value={wish.date ?? ""}
              onInput={(event) => onWish({ ...wish, date: event.currentTarget.value })}
            />
          </label>
        </div>
      ) : null}
    </div>
  );
}
