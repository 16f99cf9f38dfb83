// The shelf when it is open itself: the studio's own amounts as fields, and where the rest stands.
import { counted } from "../../core/counted";
import "../plan/plan.css";
import type { Session } from "../../app/edition/session";
import type { Studio } from "../../app/keeping/studio";
import { rowOf } from "../../core/document/access";
import { SHELF_SHEETS, STUDIO_LINES } from "../../core/document/shelf-kind";
import { showSheet } from "../edition/go-to";
import { PlanInput } from "../plan/plan-input";
import { StockPart } from "./stock-part";

interface Props {
  readonly session: Session;
  readonly studio: Studio;
}

export function ShelfAlone({ session, studio }: Props) {
  const book = session.book.value;
  const { accounts, calendar } = book.meta;
  const recipes = book.lists.recipes.map(({ title }) => title);
  return (
    <>
      <header>
        <h2>The studio’s shelf</h2>
      </header>
      <p class="quiet">
        What all editions share, undone, copied and saved as a file like an edition. A change here moves no edition:
        each says on its page “The shelf” where it differs.
      </p>
      <StockPart session={session} studio={studio} />
      <section aria-label="The studio">
        <h3>The studio</h3>
        <div class="fields">
          {STUDIO_LINES.map((row) => (
            <PlanInput
              key={row}
              session={session}
              field={{
                cell: { sheet: "edition", row, column: "value" },
                title: String(rowOf(book, "edition", row)?.cells.label ?? row),
              }}
            />
          ))}
        </div>
      </section>
      <section aria-label="On the shelf">
        <h3>On the shelf</h3>
        <ul>
          {SHELF_SHEETS.map((sheet) => (
            <li key={sheet}>
              <span>
                <b>{book.sheets[sheet].title}</b>{" "}
                <span class="quiet">{counted(book.sheets[sheet].rows.length, "row")}</span>
              </span>
              <button type="button" onClick={() => showSheet(session, sheet)}>
                Go there<span class="unseen">: {book.sheets[sheet].title}</span>
              </button>
            </li>
          ))}
          <li>
            <b>Rescue recipes</b> <span class="quiet">{recipes.length === 0 ? "none" : recipes.join(", ")}</span>
          </li>
          <li>
            <b>Hours and days off</b>{" "}
            <span class="quiet">
              {calendar
                ? `${calendar.hours.reduce((sum, one) => sum + one, 0)} h a week, ${calendar.people} at work, ${counted(calendar.closed.length, "day")} off`
                : "none"}
            </span>
          </li>
          <li>
            <b>Names of accounts</b> <span class="quiet">{Object.keys(accounts ?? {}).length}</span>
          </li>
        </ul>
        <p class="quiet">Recipes, hours and names of accounts are put here from an edition, on its page “The shelf”.</p>
      </section>
    </>
  );
}
