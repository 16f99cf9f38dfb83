// What a maker wants to do, in a sentence each, and where it is done.
import type { SheetKey } from "../../core/document/workbook";
import type { Page } from "../edition/session";

export interface HowTo {
  readonly id: string;
  readonly title: string;
  readonly text: string;
  /** The sheet to open. */
  readonly sheet: SheetKey;
  /** The page to open in its place, where it is done on one. */
  readonly page?: Page;
  /** The cell to go to, where one is the place. */
  readonly cell?: { readonly row: string; readonly column: string };
}

/** The usual wishes, in the order in which an edition lives. */
export const HOW_TO: readonly HowTo[] = [
  {
    id: "starts",
    title: "Plan how many pieces to start",
    text: "On Edition, say how many are to be delivered and how sure you want to be; on Route, what each step usually loses. “Pieces to start” follows.",
    sheet: "edition",
    cell: { row: "starts", column: "value" },
  },
  {
    id: "price",
    title: "Find a price that covers it",
    text: "On Edition, enter wage, overhead, fees, tax and the margin to be left, say whether you type prices with tax or without, and up to which price points they go; Results says which price leaves the margin, and from how many sales on it pays. A tier may have a rate of tax of its own; a channel’s comes before it.",
    sheet: "results",
  },
  {
    id: "buy",
    title: "See what to buy",
    text: "Materials lists the grams the plan of this edition needs, the packs to buy and what they come to. The shelf has a list for all editions kept here, less what is left in stock.",
    sheet: "materials",
  },
  {
    id: "stock",
    title: "Keep stock of materials",
    text: "On The shelf, open it: type what was bought and what was counted, read what is left and what it is worth. Each edition takes the prices of the days over on its page The shelf, so that a later price moves nothing done before.",
    sheet: "purchases",
    page: "shelf",
  },
  {
    id: "record",
    title: "Record many pieces at once",
    text: "On Pieces, type the numbers, such as 41-60, 66, 70-, and say what happened: into a firing, lost here, passed. Or type into the cells, or paste a column.",
    sheet: "pieces",
  },
  {
    id: "lost",
    title: "Say that a piece was lost",
    text: "Choose it and use “Lost here…”. It keeps what it had cost until that step and bears nothing after it.",
    sheet: "pieces",
  },
  {
    id: "refire",
    title: "Fire or coat some pieces once more",
    text: "On Route, repeat the step. Its columns on Pieces are for those that need them: a blank cell there costs nothing.",
    sheet: "route",
  },
  {
    id: "sold",
    title: "Say what was sold, and where",
    text: "On Sales, choose finished pieces, say whether they were sold, consigned, given away, kept or broken, the day, the channel and the price; read what will happen and record it. Channels has the fees and the tax of each place. A list of sales comes in from a CSV by piece number, into those columns of Pieces.",
    sheet: "channels",
  },
  {
    id: "meter",
    title: "Use the kiln's meter",
    text: "On Firings, type the reading before and after, or the kilowatt-hours. It takes the place of every estimate. From a few readings, Kilns fits the kiln to its meter.",
    sheet: "firings",
  },
  {
    id: "paper",
    title: "Print a sheet for the bench or the kiln",
    text: "Under Run, Paper makes a bench sheet of all pieces that wait, a firing sheet, piece cards and the edition statement, on A4 or Letter, with the cautions of each step.",
    sheet: "pieces",
    page: "paper",
  },
  {
    id: "why",
    title: "See where a number comes from",
    text: "Choose a cell: the card beside the sheet says what it is made of, in words and numbers, down to what you entered.",
    sheet: "pieces",
  },
  {
    id: "hand",
    title: "Overrule a computed number",
    text: "Typing into it is refused, so that no formula is lost by accident. Select it and press “Give it another value” in the card beside the sheet. It is then marked ◂ and counted, and the card gives it back to its formula.",
    sheet: "pieces",
  },
  {
    id: "column",
    title: "Add a column or an input of your own",
    text: "“Add a column…” above a sheet; “Add an input…” on Edition. Formulas use names: {coats}, {firings:kwh}, wage. To add up over the steps of a piece: =SUM(EACH_STEP({*.minutes})).",
    sheet: "edition",
  },
  {
    id: "units",
    title: "Work in inches, pounds or °F",
    text: "Type any amount with its unit: 12 in, 3/4 in, 2 lb 3 oz, 2232 F, 90 min. “Title, currency, units…” on Edition shows everything in US customary units; what is kept, in formulas and in files, stays metric.",
    sheet: "edition",
  },
  {
    id: "csv",
    title: "Bring data in, take data out",
    text: "“CSV…” above a sheet reads and writes tables; nothing is guessed in silence, and every rejected line is listed.",
    sheet: "pieces",
  },
  {
    id: "accountant",
    title: "Hand numbers to an accountant",
    text: "Under Settle stand the journal and the papers for the accountant; money is rounded there, once, and adds up to the cent.",
    sheet: "results",
  },
  {
    id: "write-down",
    title: "Write stock down, or see what unfinished pieces are worth",
    text: "“Work in progress”, under Settle: what each piece has cost, still takes and will fetch; below, choose pieces and say by how much they are written down, and why.",
    sheet: "results",
  },
  {
    id: "sides",
    title: "Hold editions against each other",
    text: "“Side by side”, under Studio: margin, yield, cost of a piece, earnings by the hour, energy and material, over all editions kept here.",
    sheet: "results",
  },
];
