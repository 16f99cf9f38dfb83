import { formulaAt, shownAmount, shownText, shownUnit } from "../../app/edition/display";
import type { Session } from "../../app/edition/session";
import { type Origin, originsOf } from "../../app/help/trace";
import { type CellName, resolveCell } from "../../core/document/access";
import { isCellError } from "../../engine/values";
import { goTo } from "../edition/go-to";
import { showExplained } from "../shell/open-dialog";

/** What a value is computed from, one step back; each leads to its cell. */
export function Origins({ session, cell }: { readonly session: Session; readonly cell: CellName }) {
  const origins = originsOf(session.book.value, cell, (at) => session.value(at));
  const isComputed = origins.length > 0 || formulaAt(session, cell) !== undefined;
  const opener = (
    <button type="button" onClick={() => showExplained(session, cell)}>
      {isComputed ? "Where it comes from…" : "What uses it…"}
    </button>
  );
  if (origins.length === 0) return opener;
  return (
    <>
      <p class="quiet">It comes from</p>
      <ul data-testid="origins">
        {origins.map((origin) => (
          <li key={`${origin.title} ${origin.cell?.row ?? ""}`}>
            {origin.cell ? (
              <button type="button" onClick={() => origin.cell && goTo(session, origin.cell)}>
                {origin.title}
              </button>
            ) : (
              <span>
                {origin.title}
                {origin.count === undefined ? "" : ` (${origin.count})`}
              </span>
            )}
            <b>{shown(session, origin)}</b>
          </li>
        ))}
      </ul>
      {opener}
    </>
  );
}

function shown(session: Session, { value, cell, unit }: Origin): string {
  if (value === undefined) return "…";
  if (value === null || value === "") return "blank";
  if (isCellError(value)) return value.title;
  const spec = cell && resolveCell(session.book.value, cell)?.spec;
  // Of no one cell, such as the sum of a column.
  if (!cell || !spec) return typeof value === "number" ? shownAmount(session, value, unit, 2, 0) : String(value);
  const text = shownText(session, cell);
  const suffix = typeof value === "number" && spec.format !== "percent" ? shownUnit(session, unit) : "";
  return suffix === "" ? text : `${text} ${suffix}`;
}
