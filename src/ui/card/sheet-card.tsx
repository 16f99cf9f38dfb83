// The card while no cell is selected: what the sheet is for.
import type { Session } from "../../app/edition/session";

const SHEET_WORDS = {
  edition:
    "The inputs of the edition: what is wanted, what an hour and a kilowatt-hour cost, what is charged. Formulas name them.",
  route: "The steps a piece goes through, in order, with what is planned for each. The right half shows how it went.",
  materials: "What is bought, by the pack. Steps name a material; its price per gram follows.",
  purchases:
    "What materials cost from which day on. A step recorded on a day takes the price of that day; where there is none, that of Materials.",
  kilns:
    "What you fire in. With its size and its wall the heat model calculates a firing before it is fired; without them the estimate is rated power × hours × duty.",
  programmes:
    "How a kiln is run, one row for each ramp. A blank rate means as fast as the kiln can; the target is a cone or a temperature.",
  tariffs:
    "Prices by hour and weekday, where electricity has them. The flat price of the Edition sheet holds at all other times.",
  firings:
    "One row for each firing. Its cost is shared over all that was really in it, other ware and other editions too; one piece alone bears all of it.",
  pieces:
    "One row for each piece. Enter what each piece has really had: minutes, coats, firings. A blank step costs nothing.",
  channels:
    "Where pieces are sold, and what each place takes. A blank means as on the Edition sheet; each sold piece names its channel.",
  results: "What it all came to. Every number follows from the other sheets; select one to see how.",
} as const;

/** What the sheet in view is for. */
export function SheetCard({ session }: { readonly session: Session }) {
  const sheet = session.sheet.value;
  return (
    <>
      <h2>{session.book.value.sheets[sheet].title}</h2>
      <p class="words">{SHEET_WORDS[sheet]}</p>
      <p class="quiet">Select a cell to see what it is, where its value comes from, and to change it here.</p>
      {session.book.value.meta.invented ? (
        <p class="caution">Everything in this edition is invented, to try things on.</p>
      ) : null}
    </>
  );
}
