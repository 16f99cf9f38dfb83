// The lines of Edition and Results in groups: what is entered apart from what comes of it.
import type { Row, SheetKey } from "../../core/document/workbook";

/** A group begins at a line and goes on to the next group's first line. */
type Starts = Readonly<Record<string, string>>;

const EDITION_INPUTS: Starts = {
  wanted: "The promise",
  wage: "An hour of work",
  tariff: "Firing",
  mould_cost: "Moulds",
  reclaim: "Lost pieces",
  piece_kg: "The piece",
  prices_are: "Prices and selling",
  fixed_costs: "Spent once",
};
const EDITION_ANSWERS: Starts = {
  chain_yield: "How many to start",
  seen_pieces: "What has been seen so far",
  special_share: "What the plan comes to",
  plan_standard: "A standard piece as planned",
  plan_special: "A special piece as planned",
  gross_standard: "Prices with tax and without",
  overhead_normal: "What an hour and a cast carry",
};
const RESULTS: Starts = {
  started: "Pieces",
  in_material: "What was put in",
  own_finished: "Where it is now",
  empty_kiln: "Beside the pieces",
  planned_lost: "Losses",
  full_good: "Pieces with their losses",
  reworked: "Done over",
  settled_up: "Settled",
  kwh: "Energy, metal, hours, moulds",
  first_pass: "Yields",
  revenue: "What finished pieces bring",
  sold: "What was sold, and the stock",
  progress_finish: "Pieces in progress",
  gone: "Given away, kept or broken",
  sold_standard: "Standard pieces",
  sold_special: "Special pieces",
  sold_second: "Seconds",
  write_down: "Does it pay?",
};

/** The heading that each line stands under, line by line in the order they are shown: entries first, then answers. */
export function linesInGroups(sheet: SheetKey, rows: readonly Row[]): ReadonlyMap<Row, string> {
  if (sheet === "results") return headed(rows, RESULTS, "");
  const isEntry = ({ line }: Row) => line?.kind === "input";
  return new Map([
    ...headed(
      rows.filter((row) => isEntry(row) && !row.own),
      EDITION_INPUTS,
      "Entries · ",
    ),
    ...rows.filter(({ own }) => own).map((row) => [row, "Entries · your own"] as const),
    ...headed(
      rows.filter((row) => !isEntry(row) && !row.own),
      EDITION_ANSWERS,
      "Answers · ",
    ),
  ]);
}

function headed(rows: readonly Row[], starts: Starts, before: string): ReadonlyMap<Row, string> {
  let current = "";
  return new Map(
    rows.map((row) => {
      const start = starts[row.id];
      if (start !== undefined)
        current = before === "" ? start : `${before}${start.charAt(0).toLowerCase()}${start.slice(1)}`;
      return [row, current];
    }),
  );
}
