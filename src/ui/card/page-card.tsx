// What the card says of a page.
import type { Page } from "../../app/edition/session";

const ADDS_UP = "No papers are made while a cost written over by hand keeps the edition from adding up.";

const PAGE_WORDS: Readonly<Record<Exclude<Page, "plan">, readonly [title: string, words: string, also: string]>> = {
  shelf: [
    "The shelf",
    "What the studio has for all its editions, beside what this one has. Taking something over is one step that Undo takes back; the shelf has an Undo of its own.",
    "The numbers of an edition never move by themselves when the shelf changes.",
  ],
  record: [
    "Record",
    "Choose pieces, say what was done, read what will happen, record it. One press of Undo takes all of it back.",
    "A line goes into the run log with it, and can be taken back there later.",
  ],
  log: [
    "Run log",
    "What was recorded, when, and for which pieces. An entry that is taken back gives each cell what it held, where the cell still is as it was recorded; what came after stays.",
    "What is typed on the sheets is not in the log; Undo takes that back.",
  ],
  rescue: [
    "Rescue",
    "Ways forward for a flawed piece, side by side, from now on. What was spent already is the same whichever way is chosen, so it is shown and not counted.",
    "Prices, fees and tax are those of the Edition sheet.",
  ],
  paper: [
    "Paper",
    "What is taken to the bench and the kiln, goes with a piece, or is kept: made from the sheets as they stand, and printed whole.",
    "Cautions stand on the steps they belong to. They inform and never hold up work.",
  ],
  journal: [
    "Journal",
    "What the edition moves between accounts. Sheets keep full precision; here every amount is rounded once, and the cents left over go to the largest remainders, so that each reference balances.",
    ADDS_UP,
  ],
  accountant: [
    "For the accountant",
    "What was put in and what it turned into, the stock at its value, and step by step what each tier carries on. Cost statement, stock and steps agree to the last cent with the journal.",
    ADDS_UP,
  ],
  whatif: [
    "What if",
    "Change inputs, see what the results would be. The plan's lines answer for a run that is still to come; lines of Results answer for the pieces as they were really made. What you try is not in the edition until you use it.",
    "Plausible ranges and kept cases are part of the edition; everything else here is only asked.",
  ],
  loads: [
    "Loads",
    "Which waiting pieces go into which kiln. They go by count, by shelf area, and level by level where the Kilns sheet says how many shelves a kiln has and what each takes of its height.",
    "Pieces share a load only where their programmes are the same.",
  ],
  calendar: [
    "Ready when",
    "When everything can be ready, from what each piece still has ahead of it, the hours worked, days of rest on the Route, and how long each firing takes its kiln.",
    "It is worked out again whenever something is recorded.",
  ],
};

/** What a page is for, in the place of a cell. */
export function PageCard({ page }: { readonly page: keyof typeof PAGE_WORDS }) {
  const [title, words, also] = PAGE_WORDS[page];
  return (
    <>
      <h2>{title}</h2>
      <p class="words">{words}</p>
      <p class="quiet">{also}</p>
    </>
  );
}
