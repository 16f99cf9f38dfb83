// The river: the edition as a stream through its steps. Its width is how many pieces have had a step; drops are losses.

import { riverOf, type Stretch } from "../../app/edition/figures";
import { perSession } from "../../app/edition/per-session";
import type { Session } from "../../app/edition/session";
import { stableComputed } from "../../app/edition/stable-computed";
import { isUnderWay, nextStep } from "../../app/edition/view";
import { counted } from "../../core/counted";
import { rowLabel } from "../../core/document/access";
import { TableHead } from "../controls/table-head";
import { goTo } from "./go-to";

/** Pieces in progress by the step they wait for. */
function waitingCounts(session: Session): ReadonlyMap<string, number> {
  const book = session.book.value;
  const counts = new Map<string, number>();
  const read = session.readerOf("pieces");
  for (const row of book.sheets.pieces.rows) {
    const step = isUnderWay(row, read) ? nextStep(book, row, read) : undefined;
    if (step !== undefined) counts.set(step, (counts.get(step) ?? 0) + 1);
  }
  return counts;
}

function summaryOf(stretch: Stretch): string {
  const parts = [`${counted(stretch.had, "piece has", "pieces have")} had it`];
  if (stretch.waiting > 0) parts.push(`${stretch.waiting} waiting for it`);
  if (stretch.lost > 0) parts.push(`${stretch.lost} lost at it, ${stretch.lostCost}`);
  return `${stretch.title}: ${parts.join(", ")}`;
}

const shownRiver = perSession((session) =>
  stableComputed(() => {
    session.valuesVersion.value;
    const waiting = waitingCounts(session);
    const { rows } = session.book.value.sheets.pieces;
    const stretches = riverOf(session, (step) => waiting.get(step) ?? 0);
    return { stretches, started: rows.length, name: rows[0] ? rowLabel("pieces", rows[0]) : "" };
  }),
);

/** The stream of pieces above the Pieces sheet; each stretch leads to its step. */
export function River({ session }: { readonly session: Session }) {
  const { stretches, started, name } = shownRiver(session).value;
  if (started === 0 || stretches.length === 0) return null;
  const open = (step: string) => {
    const { pieces } = session.book.peek().sheets;
    const [first] = pieces.rows;
    const column = pieces.columns.find((candidate) => candidate.step === step && !candidate.hidden);
    if (first && column) goTo(session, { sheet: "pieces", row: first.id, column: column.key });
  };
  return (
    <section class="river" aria-label={`Where the pieces of ${name} on are`}>
      <div class="scroller">
        <div class="bed" style={{ minWidth: `${stretches.length * 72}px` }}>
          <Stream stretches={stretches} started={started} />
          {stretches.map((stretch) => (
            <button
              type="button"
              key={stretch.step}
              class="stretch"
              title={summaryOf(stretch)}
              onClick={() => open(stretch.step)}
            >
              <span class="step">{stretch.title}</span>
              <b>{stretch.had === 0 ? "" : stretch.had}</b>
              <span class="foot">
                {stretch.lost > 0 ? (
                  <span class="drop">
                    {stretch.lost}
                    <span class="unseen"> lost</span> · {stretch.lostCost}
                  </span>
                ) : null}
                {stretch.waiting > 0 ? <span class="wait">{stretch.waiting} waiting</span> : null}
              </span>
            </button>
          ))}
        </div>
      </div>
      <details>
        <summary>The same as a table</summary>
        <table>
          <TableHead titles={["Step", "had it", "waiting", "lost", "cost of those lost"]} />
          <tbody>
            {stretches.map((stretch) => (
              <tr key={stretch.step}>
                <th scope="row">{stretch.title}</th>
                <td>{stretch.had}</td>
                <td>{stretch.waiting}</td>
                <td>{stretch.lost}</td>
                <td>{stretch.lost > 0 ? stretch.lostCost : ""}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </section>
  );
}

/** The shape behind the labels: one unit wide a step, one unit high at all pieces. */
function Stream({ stretches, started }: { readonly stretches: readonly Stretch[]; readonly started: number }) {
  return (
    <svg viewBox={`0 0 ${stretches.length} 1`} preserveAspectRatio="none" aria-hidden="true">
      {stretches.map((stretch, at) => {
        const depth = stretch.had / started;
        const next = Math.min(depth, (stretches[at + 1]?.had ?? stretch.had) / started);
        const top = (1 - depth) / 2;
        const nextTop = (1 - next) / 2;
        const d = `M${at} ${top} H${at + 0.82} C${at + 0.92} ${top} ${at + 0.9} ${nextTop} ${at + 1} ${nextTop} V${1 - nextTop} C${at + 0.9} ${1 - nextTop} ${at + 0.92} ${1 - top} ${at + 0.82} ${1 - top} H${at} Z`;
        return <path key={stretch.step} d={d} />;
      })}
    </svg>
  );
}
