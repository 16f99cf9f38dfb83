// Channels of sale and what each takes: a fair, a shop, a gallery. What a channel leaves blank is as on the Edition sheet.
import type { Column } from "../document/workbook";
import { computed, computedMoney, numberFrom, numberInput, textInput } from "./column";

const sumOf = (column: string) => `=TOTAL_BY({id},{pieces:sold_through},{pieces:${column}})`;
const AS_ON_EDITION = "as on the Edition sheet, unless this channel has its own";

/** Columns of the Channels sheet. */
export const CHANNEL_COLUMNS: readonly Column[] = [
  textInput("id", "Channel", { required: true, unique: true, width: 190 }),
  numberInput("tax_rate", "VAT or sales tax", "", {
    format: "percent",
    below: 1,
    words: "tax goes by where a thing is sold: a rate here comes before those of the tiers; blank is theirs",
  }),
  numberFrom("fee_rate", "fee", "of price", "=fee_rate", {
    format: "percent",
    below: 1,
    words: `of what the buyer pays; ${AS_ON_EDITION}`,
  }),
  numberFrom("fee_fixed", "fixed fee a sale", "¤", "=fee_fixed", { format: "money", words: AS_ON_EDITION }),
  numberFrom("commission", "commission", "of net price", "=0", {
    format: "percent",
    below: 1,
    words: "as a gallery keeps it",
  }),
  numberFrom("packing", "packing and postage", "¤", "=packing", { format: "money", words: AS_ON_EDITION }),
  computed("sold", "sold", "pieces", "=COUNT_BY({id},{pieces:sold_through})", {
    format: "whole",
    words: "pieces sold through it",
  }),
  computedMoney("brought", "brought in", sumOf("net"), { words: "paid for them, without tax" }),
  computedMoney("took", "fees and packing", sumOf("sale_cost"), {
    words: "of these sales, commission too",
  }),
  computedMoney("left", "left", sumOf("contribution"), {
    words: "after the cost of the pieces",
  }),
  textInput("note", "note", { width: 220 }),
];
