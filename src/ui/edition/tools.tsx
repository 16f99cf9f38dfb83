// What can be done on the sheet in view, in words.
import { addSheetRow, removePieces, removeSheetRows } from "../../app/commands/commands";
import type { Session } from "../../app/edition/session";
import { type CardSheet, isCardSheet } from "../../app/edition/sheet-groups";
import { filtersFor, WHOLE_VIEW } from "../../app/edition/view";
import { planWhatWasSeen } from "../../app/plan/learn";
import { columnOf, LABEL_COLUMNS, overridesIn, rowLabel, rowOf } from "../../core/document/access";
import { choosePieces } from "../../core/record/piece-edits";
import { useNarrow } from "../controls/narrow";
import { type OpenDialog, showDialog } from "../shell/open-dialog";
import { chosenPieces, openFor, recordWishOf } from "./chosen";
import { asGridOf, askWishOf, goTo } from "./go-to";
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
  const chosen =
    session.chosen.value.trim() === "" ? undefined : choosePieces(session.book.value, session.chosen.value);
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
          recordWishOf(session).value = "extra";
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
            if (chosen.ok) removePieces(session, chosen.value);
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

const MOVES = [
  [-1, "up"],
  [1, "down"],
] as const;

/** Does something to the steps of the route; what does it is fetched at the first press. */
function withSteps(run: (commands: typeof import("../../app/commands/step-commands")) => void): void {
  void import("../../app/commands/step-commands").then(run);
}

function RouteTools({ session }: { readonly session: Session }) {
  const step = session.selection.value?.sheet === "route" ? session.selection.value.anchor.row : undefined;
  const row = step === undefined ? undefined : rowOf(session.book.value, "route", step);
  const title = row ? rowLabel("route", row) : "";
  const steps = session.book.value.sheets.route.rows;
  return (
    <>
      <button type="button" onClick={() => showDialog("step")}>
        Add a step…
      </button>
      <button
        type="button"
        disabled={!row}
        onClick={() => row && withSteps(({ repeatRouteStep }) => repeatRouteStep(session, row.id))}
      >
        {row ? `Repeat ${title}` : "Repeat a step"}
      </button>
      {MOVES.map(([by, where]) => (
        <button
          type="button"
          key={where}
          disabled={!row || !steps[steps.indexOf(row) + by]}
          onClick={() => row && withSteps(({ moveRouteStep }) => moveRouteStep(session, row.id, by))}
        >
          {row ? `Move ${title} ${where}` : `Move a step ${where}`}
        </button>
      ))}
      <button
        type="button"
        disabled={!row}
        onClick={() => row && withSteps(({ removeRouteStep }) => removeRouteStep(session, row.id))}
      >
        {row ? `Remove ${title}` : "Remove a step"}
      </button>
      <button
        type="button"
        title="Writes the seen loss of every step into its planned loss; Undo takes it back"
        onClick={() => planWhatWasSeen(session)}
      >
        Use what was seen as the planned loss
      </button>
      <button
        type="button"
        onClick={() => {
          askWishOf(session).value = "losses";
          session.page.value = "whatif";
        }}
      >
        What if losses change…
      </button>
    </>
  );
}

const ROW_NAMES: Readonly<Record<CardSheet, string>> = {
  firings: "firing",
  materials: "material",
  kilns: "kiln",
  programmes: "ramp",
  tariffs: "band",
};
/** What else there is to look at on these sheets. */
const PICTURES: Partial<Record<CardSheet, { readonly title: string; readonly dialog: OpenDialog }>> = {
  firings: { title: "How a firing runs…", dialog: "heat" },
  kilns: { title: "Fit to the meter…", dialog: "fit" },
  programmes: { title: "Draw and add programmes…", dialog: "programme" },
};

function RowTools({ session, sheet }: { readonly session: Session; readonly sheet: CardSheet }) {
  const selection = session.selection.value?.sheet === sheet ? session.selection.value : undefined;
  const picture = PICTURES[sheet];
  return (
    <>
      {picture ? (
        <button type="button" onClick={() => showDialog(picture.dialog)}>
          {picture.title}
        </button>
      ) : null}
      <button
        type="button"
        onClick={() => {
          const id = addSheetRow(session, sheet);
          if (id) goTo(session, { sheet, row: id, column: LABEL_COLUMNS[sheet] });
        }}
      >
        Add a {ROW_NAMES[sheet]}
      </button>
      <button
        type="button"
        disabled={!selection}
        onClick={() => selection && removeSheetRows(session, sheet, selection.rows)}
      >
        Remove{" "}
        {selection && selection.rows.length > 1
          ? `${selection.rows.length} ${ROW_NAMES[sheet]}s`
          : `this ${ROW_NAMES[sheet]}`}
      </button>
      <button type="button" onClick={() => showDialog("column")}>
        Add a column…
      </button>
    </>
  );
}

function EditionTools({ session }: { readonly session: Session }) {
  const row =
    session.selection.value?.sheet === "edition"
      ? rowOf(session.book.value, "edition", session.selection.value.anchor.row)
      : undefined;
  return (
    <>
      <button type="button" onClick={() => showDialog("edition")}>
        Title, currency, units…
      </button>
      <button type="button" onClick={() => showDialog("input")}>
        Add an input…
      </button>
      {row?.own ? (
        <button type="button" onClick={() => removeSheetRows(session, "edition", [row.id])}>
          Remove {rowLabel("edition", row)}
        </button>
      ) : null}
    </>
  );
}

/** The line of tools above a sheet. */
export function Tools({ session }: { readonly session: Session }) {
  session.valuesVersion.value;
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
      {sheet === "route" ? <RouteTools session={session} /> : null}
      {isCardSheet(sheet) ? <RowTools session={session} sheet={sheet} /> : null}
      {sheet === "edition" ? <EditionTools session={session} /> : null}
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
        {shown === all ? `${all} rows` : `${shown} of ${all} rows`}
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
