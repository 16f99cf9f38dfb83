// What can be done on the sheets beside Pieces: steps, rows, inputs.

import { addSheetRow, removeSheetRows } from "../../app/commands/row-commands";
import type { Session } from "../../app/edition/session";
import { type CardSheet, isCardSheet } from "../../app/edition/sheet-ways";
import { planWhatWasSeen } from "../../app/plan/learn";
import { counted } from "../../core/counted";
import { LABEL_COLUMNS, rowLabel, rowOf } from "../../core/document/access";
import type { SheetKey } from "../../core/document/workbook";
import { type OpenDialog, showDialog } from "../shell/open-dialog";
import { askWishOf, goTo } from "./go-to";

/** The tools of a sheet. */
export function SheetTools({ session, sheet }: { readonly session: Session; readonly sheet: SheetKey }) {
  if (sheet === "route") return <RouteTools session={session} />;
  if (isCardSheet(sheet)) return <RowTools session={session} sheet={sheet} />;
  return sheet === "edition" ? <EditionTools session={session} /> : null;
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
  purchases: "purchase",
  kilns: "kiln",
  programmes: "ramp",
  tariffs: "band",
  channels: "channel",
};
/** What else there is to look at on these sheets. */
const PICTURES: Partial<Record<CardSheet, Readonly<Record<string, OpenDialog>>>> = {
  firings: { "How a firing runs…": "heat", "Who shares a load…": "shared" },
  kilns: { "Fit to the meter…": "fit" },
  programmes: { "Draw and add programmes…": "programme" },
};

function RowTools({ session, sheet }: { readonly session: Session; readonly sheet: CardSheet }) {
  const selection = session.selection.value?.sheet === sheet ? session.selection.value : undefined;
  return (
    <>
      {Object.entries(PICTURES[sheet] ?? {}).map(([title, dialog]) => (
        <button type="button" key={dialog} onClick={() => showDialog(dialog)}>
          {title}
        </button>
      ))}
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
          ? counted(selection.rows.length, ROW_NAMES[sheet])
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
