// What both pages of settling share: the settled edition, calculated once a change, and what is said when it can't be.

import { computed } from "@preact/signals";
import { showNumber } from "../../app/edition/format";
import { perSession } from "../../app/edition/per-session";
import type { Session } from "../../app/edition/session";
import { readerOf } from "../../app/settle/cell-reader";
import { costOverrides, type Settled, settle } from "../../app/settle/settle";
import { cellKeyOf, describeCell } from "../../core/document/access";
import { fromMinorUnits } from "../../core/money";
import type { Result } from "../../core/problem";
import { pageLocale } from "../controls/page-locale";
import { goTo } from "../edition/go-to";

const settledNow = perSession((session) =>
  computed(() => {
    const book = session.book.value;
    session.valuesVersion.value;
    return settle(book, readerOf(session));
  }),
);

/** The open edition settled; calculated anew only when the document or a value has moved. */
export function settledOf(session: Session): Result<Settled> {
  return settledNow(session).value;
}

/** Whole minor units as an amount; nothing is a blank. */
export function minorText(minor: number, digits: number): string {
  if (minor === 0) return "";
  return showNumber(fromMinorUnits(minor, digits), digits, digits, pageLocale());
}

/** Why an edition can't be settled, and where to look. */
export function Unsettled({ session, result }: { readonly session: Session; readonly result: Result<unknown> }) {
  if (result.ok) return null;
  const overrides = costOverrides(session.book.value).slice(0, 8);
  return (
    <div class="problem" role="alert" data-testid="unsettled">
      <b>No papers are made until the edition adds up.</b>
      <ul>
        {result.problems.slice(0, 8).map(({ message }) => (
          <li key={message}>{message}</li>
        ))}
      </ul>
      {overrides.length > 0 ? (
        <p>
          Written over by hand:{" "}
          {overrides.map((cell) => (
            <button type="button" class="linked" key={cellKeyOf(cell)} onClick={() => goTo(session, cell)}>
              {describeCell(session.book.value, cell)}
            </button>
          ))}
        </p>
      ) : null}
    </div>
  );
}
