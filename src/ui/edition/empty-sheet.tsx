// What is said where a sheet shows no row: why, and what to do next.

import type { Session } from "../../app/edition/session";
import { WHOLE_VIEW } from "../../app/edition/view";
import { counted } from "../../core/counted";
import type { SheetKey } from "../../core/document/workbook";
import { showDialog } from "../shell/open-dialog";
import { setView, sheetViewOf } from "./rows-shown";

/** Where rows of an empty sheet come from. */
const NONE_YET: Partial<Record<SheetKey, string>> = {
  route: "No step yet. Add the first one above: what happens to a piece, from casting to packing.",
  materials: "No material yet. Add one above: a bag, a bucket or a vial, what it costs and how much it holds.",
  purchases:
    "No purchase yet: the prices of Materials hold on all days. Add one above, or take the prices of the days over on “The shelf”.",
  kilns: "No kiln yet. Add one above with the power on its plate and the hours of a usual firing.",
  programmes: "No programme yet. Draw or add one above; without it a firing is calculated by power, hours and duty.",
  tariffs:
    "No band yet. The flat price on Edition counts; add bands if a kilowatt-hour costs more by day than by night.",
  channels:
    "No channel yet: sales take the fees and the tax of the Edition sheet. Add a fair, a shop or a gallery above.",
  firings: "No firing yet. One is made when you put pieces into it: on Pieces, choose them and use “Into a firing…”.",
};

/** Shown in the place of rows, where there are none. */
export function EmptySheet({ session }: { readonly session: Session }) {
  const sheet = session.sheet.value;
  const view = sheetViewOf(session, sheet);
  const { rows } = session.book.value.sheets[sheet];
  if (rows.length > 0) {
    const what = view.find === "" ? "this choice of rows" : `“${view.find}”`;
    return (
      <div class="nothing" role="status" data-testid="empty-sheet">
        <p>
          No row fits {what}; the sheet has {counted(rows.length, "row")}.
        </p>
        <button type="button" onClick={() => setView(session, sheet, WHOLE_VIEW)}>
          Show all rows
        </button>
      </div>
    );
  }
  return (
    <div class="nothing" role="status" data-testid="empty-sheet">
      <p>{NONE_YET[sheet] ?? "No piece yet."}</p>
      {sheet === "pieces" ? (
        <button type="button" onClick={() => showDialog("pieces")}>
          Add pieces…
        </button>
      ) : null}
    </div>
  );
}
