import { expect, test } from "vitest";
import { booksAsOf } from "../../src/accounts/as-of";
import { periodBooks, trialBalance } from "../../src/accounts/period";
import { demoEdition } from "../../src/app/demo/demo";
import { plainEditionOf } from "../../src/app/settle/plain-from-sheets";
import { offersOf, plainSalesOf } from "../../src/app/settle/plain-sales";
import { must } from "./results";
import { evaluate } from "../tools/evaluate";

const book = demoEdition();
const read = evaluate(book);
const books = { edition: must(plainEditionOf(book, read)), sales: plainSalesOf(book, read), offers: offersOf(book, read), digits: 2 };

test("x", () => {
  const t0 = performance.now();
  for (let i = 0; i < 10; i++) booksAsOf(books, "2026-10-31");
  console.log("as of", (performance.now() - t0) / 10);
  for (const [from, to] of [["2026-09-01", "2026-09-30"], ["2026-10-01", "2026-10-31"], ["2026-11-01", "2026-11-30"]] as const) {
    const p = must(periodBooks(books, { from, to, reference: "MAR", first: 1, isDetailed: false }));
    console.log(from, JSON.stringify(trialBalance(p)), p.posted.map((x) => `${x.reference} ${x.memo} ${JSON.stringify(x.lines)} ${x.moves.length}`).join("\n"));
  }
});
