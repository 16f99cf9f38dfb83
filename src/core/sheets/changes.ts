// What has changed on the standard sheets. Editions take today's sheets whenever they are opened, so a change of them moves
// numbers in editions that are kept already: the maker gets a message of what and why, in these words.
import type { SheetKey } from "../document/workbook";

/** A column or line, as `sheet:key`. */
type PartName = `${SheetKey}:${string}`;

interface SheetChange {
  /** Checksum of tests/fixtures/standard-sheets.json with the change in it; the test prints it. */
  readonly sum: string;
  /** Columns and lines that are calculated in another way; what follows from them need not be named. */
  readonly of: readonly PartName[];
  /** What is different and why, in the maker's words; empty where no number moves that was there before. */
  readonly words: string;
}

/** Changes since documents hold only what is the maker's, oldest first: `SHEETS_VERSION` is how many there are. */
export const SHEET_CHANGES: readonly SheetChange[] = [
  // As they were when documents came to hold only what is the maker's.
  { sum: "1cadc10f", of: [], words: "" },
  {
    sum: "543ec2c4",
    of: [
      "route:plan_loads",
      "route:plan_kwh",
      "firings:each_full",
      "firings:tariff",
      "firings:model",
      "firings:warning",
    ],
    words:
      "Kiln room is one reckoning everywhere: by count, shelf area, height and levels, so that a plan may need more loads than before. “A piece if full” has the energy of a full load. A metered firing under hourly prices is priced over the hours typed with it, or flat. Where nothing is said, air that leaves a kiln goes by its size.",
  },
  {
    sum: "64ce60a2",
    of: [
      "edition:chain_yield",
      "edition:starts",
      "edition:naive_chance",
      "edition:starts_unsure",
      "edition:special_share",
      "route:plan_entries",
      "route:carried",
      "route:abnormal",
      "route:normal",
      "route:through",
      "pieces:outcome",
      "pieces:second_share",
      "pieces:loss_share",
      "pieces:full",
      "pieces:price",
      "results:share_each",
      "results:share_good",
      "results:unshared",
      "results:first_pass",
      "results:final_yield",
      "results:saleable",
      "results:rolled",
    ],
    words:
      "Losses are judged over the whole edition: steps below plan set off steps above, and what chance gives in 1 run of 20 is normal (Edition says how many). Losses at a step for special pieces are borne by special pieces, pieces in progress bear only losses of steps they have passed, and a piece without a step bears nothing. Pieces to start are the fewest for which all tiers are delivered together as surely as asked.",
  },
  {
    sum: "10d0dd61",
    of: [
      "edition:plan_pays",
      "route:cost_each",
      "route:plan_cost",
      "route:hours",
      "route:overhead_cost",
      "kilns:firings",
      "firings:warning",
      "firings:kwh",
      "firings:give",
      "firings:energy",
      "firings:cost",
      "firings:each_full",
      "pieces:second_share",
      "pieces:price",
      "results:empty_kiln",
      "results:hours",
      "results:margin_standard",
      "results:margin_special",
      "results:margin_second",
      "results:break_even",
      "results:pays",
    ],
    words:
      "Overhead, moulds and firings follow one rule each: overhead goes by hours of work on pieces (loading kilns counts if Edition says so), moulds wear from their cost to what they fetch worn out, and a firing costs nothing until a piece is in it or its meter was read. Labour on Results has the hours at the kilns too.",
  },
  // What one piece of each tier is planned to cost, part by part.
  { sum: "6f666b84", of: [], words: "" },
  // Formulas go through the steps of the route instead of naming each one.
  { sum: "e8af504", of: [], words: "" },
  {
    sum: "c834f3dc",
    of: ["pieces:price", "pieces:carried"],
    words:
      "Finished is no longer taken for sold: nothing is until it is recorded on the page Sales. Results has what was sold and what the stock may still bring; fees and tax of each place of sale stand on Channels.",
  },
  // Other ware and pieces of other editions in a firing, blank in editions from before; purchases, and the price of its day;
  // the day a piece was consigned; prices without tax, a rate of tax for each tier, price points.
  // What pieces in progress still take and will fetch, and what is written down by hand.
  {
    sum: "5aaa23e8",
    of: ["pieces:carried", "results:write_down"],
    words:
      "A piece in progress is carried at what it will fetch, less what it still takes to finish, where that is less than its cost (it was carried at cost). “Stock carried below cost” on Results holds these pieces too.",
  },
];

interface EarlierChange extends Omit<SheetChange, "sum" | "of"> {
  readonly of: readonly [PartName, ...PartName[]];
  /** Shown where the first of them has a formula without this text. */
  readonly lacks: string;
}

/** Changes before that. Documents had formulas of their own then, which show what they were saved with. */
export const EARLIER_CHANGES: readonly EarlierChange[] = [
  {
    of: ["edition:chain_yield", "edition:naive"],
    lacks: "loss_special",
    words:
      "Pieces to start may be fewer: a step as needed loses no planned pieces any more, and a step for special pieces only where special pieces are wanted. Say on Edition how many of them are special.",
  },
  {
    of: ["firings:kwh", "firings:model"],
    lacks: "{rule}",
    words:
      "A firing's estimate from its kiln's plate now stands under “by the rule” on Firings. “By the model” is for kilns whose build is described; a meter reading still comes before both.",
  },
  {
    of: ["firings:tariff"],
    lacks: "BANDED_PRICE",
    words: "A firing with a day and an hour is priced by the bands on Tariffs, where there are any.",
  },
  {
    of: ["route:normal", "route:abnormal"],
    lacks: "scrapped",
    words: "What lost pieces fetch as scrap is taken off what the losses cost.",
  },
  {
    of: ["route:hours"],
    lacks: "overhead_rate",
    words: "Hours of labour are also known where there is no wage: from the overhead an hour.",
  },
  {
    of: ["results:first_pass"],
    lacks: "passed_how",
    words: "The first-pass yield no longer counts pieces that came out well only after a step as needed.",
  },
  {
    of: ["results:pays"],
    lacks: "unshared",
    words: "Losses that no piece can bear are now taken off what the edition pays.",
  },
  {
    of: ["edition:plan_brings", "edition:plan_margin"],
    lacks: "plan_good",
    words:
      "The plan counts the prices of so many pieces as it expects to come out well, and its margin is of the price without tax.",
  },
];
