// What a page is for, at its head; in a narrow window it is opened by a press.
import type { Page } from "../../app/edition/session";
import { useNarrow } from "./narrow";

const ADDS_UP = "No papers are made while a cost written over by hand keeps the edition from adding up.";

const PAGE_WORDS: Readonly<Record<Exclude<Page, "plan" | "shelf">, readonly [words: string, also: string]>> = {
  record: [
    "Choose pieces, say what was done, read what will happen, record it. One press of Undo takes all of it back.",
    "A line goes into the run log with it, and can be taken back there later.",
  ],
  log: [
    "What was recorded, when, and for which pieces. Taking an entry back gives each cell what it held before, unless the cell has been changed since.",
    "What is typed on the sheets is not in the log; Undo takes that back.",
  ],
  rescue: [
    "Ways forward for a flawed piece, side by side, from now on. What was spent already is the same whichever way is chosen, so it is shown and not counted.",
    "Prices, fees and tax are those of the Edition sheet.",
  ],
  paper: [
    "What is taken to the bench and the kiln, goes with a piece, or is kept: made from the sheets as they stand, and printed whole.",
    "Cautions stand on the steps they belong to. They inform and never hold up work.",
  ],
  sales: [
    "Choose finished pieces, say what became of them, where, on which day and for how much, read what will happen, record it. One press of Undo takes all of it back.",
    "Until a piece is recorded here as sold, it is stock. What each place takes stands on Channels.",
  ],
  against: [
    "Why the margin is another than was planned, cause by cause. The plan is kept with all it hangs on when the run begins; prices and rates go by what was really used, grams, minutes and loads by planned prices for the pieces that had the step, so that the causes add up to the cent.",
    "Adverse takes from the margin, favourable adds to it. Pieces still on their way are expected to go on as planned.",
  ],
  progress: [
    "What the pieces on their way have cost, what the plan says they still take, and what they will fetch after tax, fees and packing, with the losses still to come in both. Stock is carried at the lower of cost and what it will fetch.",
    "Pieces that are damaged, out of fashion or reduced can be written down by hand below.",
  ],
  journal: [
    "What the edition moved between accounts in a period. Sheets keep full precision; here every amount is rounded once, and the cents left over go to the largest remainders, so that each reference balances.",
    ADDS_UP,
  ],
  accountant: [
    "What was put in and what it turned into, the stock at its value, and step by step what each tier carries on. Cost statement, stock and steps agree to the last cent with the journal.",
    ADDS_UP,
  ],
  sides: [
    "The editions kept in this browser, archived ones too, by what they left, yielded, cost and took. A press on a head sorts; the picture shows one measure.",
    "Others stand as they were last calculated and saved. Currencies are kept apart, and never added.",
  ],
  whatif: [
    "Change inputs, see what the results would be. The plan's lines answer for a run that is still to come; lines of Results answer for the pieces as they were really made. What you try is not in the edition until you use it.",
    "Plausible ranges and kept cases are part of the edition; everything else here is only asked.",
  ],
  loads: [
    "The pieces that wait for a firing, put into as few firings as go, and of those the cheapest. Arrange them as you like; nothing is written before you make the firings.",
    "Loads are filled by count, by shelf area, and level by level where the Kilns sheet says how many shelves a kiln has. Pieces share a load only where their programmes are the same.",
  ],
  calendar: [
    "When everything can be ready, from what each piece still has ahead of it, the hours worked, days of rest on the Route, and how long each firing takes its kiln.",
    "It is worked out again whenever something is recorded.",
  ],
};

/** What a page is for. */
export function PageWords({ page }: { readonly page: keyof typeof PAGE_WORDS }) {
  const words = PAGE_WORDS[page].join(" ");
  return useNarrow() ? (
    <details class="page-words quiet">
      <summary>What this page is for</summary>
      {words}
    </details>
  ) : (
    <p class="page-words quiet">{words}</p>
  );
}
