// A small edition with every piece finished or lost, and with all of it sold.
import type { Workbook } from "../../src/core/document/workbook";
import { record } from "../../src/core/record/record-edits";
import { must } from "../accounts/results";
import { afterTyping, smallEdition } from "./small-edition";

const AT = "2026-03-20T10:00:00.000Z";

/** Eight pieces, one lost, the others finished, two of them seconds, one special; two channels, one with tax of its own. */
export function finishedEdition(): Workbook {
  let book = smallEdition(8);
  const all = book.sheets.pieces.rows.map(({ id }) => id);
  const firings = { bisque: { kind: "there", name: "F1" }, firing: { kind: "there", name: "F2" } } as const;
  book = must(record(book, ["p3"], { kind: "tier", tier: "special" }, AT));
  book = must(record(book, all, { kind: "done", step: "firing", firings }, AT));
  book = must(record(book, ["p8"], { kind: "lost", step: "firing", reason: "" }, AT));
  book = must(record(book, ["p6", "p7"], { kind: "passed", grade: "second" }, AT));
  book = must(record(book, ["p1", "p2", "p3", "p4", "p5"], { kind: "passed", grade: "good" }, AT));
  const { channels } = book.sheets;
  const rows = [
    { id: "c1", cells: { id: "Gallery", commission: 0.4, packing: 3, fee_rate: 0 } },
    { id: "c2", cells: { id: "Abroad", tax_rate: 0.07 } },
  ];
  const named = { ...book, sheets: { ...book.sheets, channels: { ...channels, rows } } };
  return afterTyping(named, [["pieces", "p4", "own_price", "33.35"]]);
}

/** The same with every finished piece sold: some through a channel, two at a price that was really paid. */
export function soldOut(): Workbook {
  const channels = ["", "Gallery", "Abroad", "Abroad", "Gallery", "", "Abroad"];
  return afterTyping(finishedEdition(), [
    ...channels.flatMap((channel, at) => [
      ["pieces", `p${at + 1}`, "became", "sold"] as const,
      ["pieces", `p${at + 1}`, "channel", channel] as const,
    ]),
    ["pieces", "p2", "paid", "41.17"],
    ["pieces", "p6", "paid", "12.5"],
  ]);
}
