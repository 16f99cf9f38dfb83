// What can be done on the sheet in view, in words.

import type { Session } from "../../app/edition/session";
import { isCardSheet } from "../../app/edition/sheet-ways";
import { filtersFor, WHOLE_VIEW } from "../../app/edition/view";
import { counted } from "../../core/counted";
import { columnOf, overridesIn } from "../../core/document/access";
import { choosePieces } from "../../core/record/choose-pieces";
import { useNarrow } from "../controls/narrow";
import { lazily } from "../shell/lazily";
import { type OpenDialog, showDialog } from "../shell/open-dialog";
import { chosenPieces, namedInBox, openFor, recordWishOf } from "./chosen";
import { asGridOf, goTo } from "./go-to";
import { setView, sheetViewOf, shownRows } from "./rows-shown";

/** Opens a dialog that is for chosen pieces, or says how to choose some. */
function forPieces(session: Session, dialog: OpenDialog): void {
  const chosen = chosenPieces(session);
  if (chosen.ok) showDialog(dialog);
  else session.refuse(chosen.problems);
}

/** Brings the pieces named in the box into sight. */
function findPieces(session: Session): void {
  const chosen = choosePieces(session.book.value, session.chosen.value);
  const first = chosen.ok ? chosen.value[0] : undefined;
  if (!chosen.ok) session.refuse(chosen.problems);
  else if (first)
    goTo(session, { sheet: "pieces", row: first, column: session.selection.value?.anchor.column ?? "tier" });
}

function PieceTools({ session }: { readonly session: Session }) {
  const view = sheetViewOf(session, "pieces");
  const folded = session.folded.value.size > 0;
  const chosen = namedInBox(session);
  return (
    <>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          findPieces(session);
        }}
      >
        <input
          id="choose-pieces"
          class="choose"
          placeholder="Pieces: 41-60, 66, 70-"
          aria-label="Choose pieces by number; Enter finds the first"
          value={session.chosen.value}
          onInput={(event) => {
            session.chosen.value = event.currentTarget.value;
          }}
        />
      </form>
      {chosen ? (
        <span class="quiet" role="status">
          {chosen.ok ? `${chosen.value.length} chosen` : "none of that number"}
        </span>
      ) : null}
      <button
        type="button"
        onClick={() => {
          recordWishOf(session).value = undefined;
          openFor(session, "record");
        }}
      >
        Record…
      </button>
      <button type="button" onClick={() => forPieces(session, "firing")}>
        Into a firing…
      </button>
      <button type="button" onClick={() => forPieces(session, "lost")}>
        Lost here…
      </button>
      <button type="button" onClick={() => forPieces(session, "passed")}>
        Passed as…
      </button>
      <button
        type="button"
        onClick={() => {
          recordWishOf(session).value = { act: "extra" };
          openFor(session, "record");
        }}
      >
        Refire or add a step for these…
      </button>
      <button type="button" onClick={() => openFor(session, "rescue")}>
        Rescue…
      </button>
      <span class="gap" />
      {chosen === undefined ? (
        <button type="button" onClick={() => showDialog("pieces")}>
          Add pieces…
        </button>
      ) : (
        <button
          type="button"
          title="Only pieces that nothing has been done to; the others are named and stay"
          onClick={() => {
            if (chosen.ok)
              void import("../../app/commands/row-commands").then((rows) => rows.removePieces(session, chosen.value));
            else session.refuse(chosen.problems);
          }}
        >
          Remove these
        </button>
      )}
      <button type="button" onClick={() => showDialog("step")}>
        Add a step…
      </button>
      <button type="button" onClick={() => showDialog("column")}>
        Add a column…
      </button>
      <span class="gap" />
      <select
        aria-label="Which pieces are shown"
        value={view.only ? "only" : view.filter}
        onChange={(event) => {
          const { only: _, ...rest } = view;
          setView(session, "pieces", { ...rest, filter: event.currentTarget.value });
        }}
      >
        {filtersFor(session.book.value, "pieces").map((filter) => (
          <option key={filter.id} value={filter.id}>
            {filter.title}
          </option>
        ))}
      </select>
      <button
        type="button"
        onClick={() => {
          session.folded.value = folded
            ? new Set()
            : new Set(session.book.value.sheets.route.rows.map((row) => row.id));
        }}
      >
        {folded ? "Unfold the steps" : "Fold the steps"}
      </button>
    </>
  );
}

/** The tools of sheets that no edition is opened at. */
const LazySheetTools = lazily(() => import("./sheet-tools").then(({ SheetTools }) => SheetTools));

/** The line of tools above a sheet. */
export function Tools({ session }: { readonly session: Session }) {
  const sheet = session.sheet.value;
  const book = session.book.value;
  const view = sheetViewOf(session, sheet);
  const shown = shownRows(session).length;
  const all = book.sheets[sheet].rows.length;
  const overrides = overridesIn(book, sheet).length;
  const column =
    session.selection.value?.sheet === sheet ? columnOf(book, sheet, session.selection.value.anchor.column) : undefined;
  const asGrid = asGridOf(session);
  const isWhole = view.filter === "all" && view.find === "" && view.sort === undefined && view.only === undefined;
  return (
    <div class="tools" role="toolbar" aria-label={`${book.sheets[sheet].title}: what can be done`}>
      {useNarrow() && !isCardSheet(sheet) ? (
        <button
          type="button"
          onClick={() => {
            asGrid.value = !asGrid.value;
          }}
        >
          {asGrid.value ? "As a list" : "As a grid"}
        </button>
      ) : null}
      {sheet === "pieces" ? <PieceTools session={session} /> : null}
      {sheet === "pieces" || sheet === "results" ? null : <LazySheetTools session={session} sheet={sheet} />}
      {column?.own ? (
        <button
          type="button"
          onClick={() =>
            void import("../../app/commands/own-commands").then((own) => own.removeColumn(session, sheet, column.key))
          }
        >
          Remove column {column.title}
        </button>
      ) : null}
      <input
        class="find"
        type="search"
        placeholder="Find text"
        aria-label="Show only rows with this text"
        value={view.find}
        onInput={(event) => setView(session, sheet, { ...view, find: event.currentTarget.value })}
      />
      <button type="button" onClick={() => showDialog("csv")}>
        CSV…
      </button>
      <span class="quiet" role="status" data-testid="row-count">
        {shown === all ? counted(all, "row") : `${shown} of ${counted(all, "row")}`}
        {overrides > 0 ? ` · ${overrides} given by hand` : ""}
      </span>
      {isWhole ? null : (
        <button type="button" onClick={() => setView(session, sheet, WHOLE_VIEW)}>
          Show all, in order
        </button>
      )}
    </div>
  );
}
