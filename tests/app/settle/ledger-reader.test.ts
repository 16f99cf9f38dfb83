// Twelve monthly journals read by a program that is not ours: a plain-text ledger, which .ci/run installs. Without it there is
// nothing to ask, and the test is skipped.
import { spawnSync } from "node:child_process";
import { expect, test } from "vitest";
import { accountantPack } from "../../../src/app/settle/accountant-pack";
import { openPeriod } from "../../../src/app/settle/dated-books";
import { giveOut, makePack } from "../../../src/app/settle/give-out";
import { must } from "../../accounts/results";
import { readGrid } from "../../csv/csvw";
import { openSession } from "../../tools/open-session";
import { yearEdition } from "../../tools/year-edition";

const hasLedger = spawnSync("ledger", ["--version"]).status === 0;
const FORM = { delimiter: ",", decimal: ".", hasMark: false } as const;
type Records = readonly Readonly<Record<string, string>>[];

function table(text: string | undefined): Records {
  const [header = [], ...rows] = readGrid(text ?? "", ",", null);
  return rows.map((cells) => Object.fromEntries(header.map((title, at) => [title, cells[at] ?? ""])));
}

/** A journal as such a program has it; what does not balance is an error there. */
function plainText(journal: Records): string {
  const references = [...new Set(journal.map(({ reference }) => reference))];
  return references
    .map((reference) => {
      const lines = journal.filter((line) => line.reference === reference);
      const [first] = lines;
      const posts = lines.map(
        ({ account, debit, credit, currency }) => `    ${account}    ${debit || `-${credit}`} ${currency}`,
      );
      return [`${first?.date} * (${reference}) ${first?.memo}`, ...posts, ""].join("\n");
    })
    .join("\n");
}

/** What each account holds, in cents, as the program says. */
function balances(text: string, ...more: readonly string[]): Readonly<Record<string, number>> {
  const format = "%(account)\\t%(quantity(scrub(display_total)))\\n";
  const args = ["-f", "-", ...more, "balance", "--flat", "--no-total", "--format", format];
  const asked = spawnSync("ledger", args, { input: text, encoding: "utf8" });
  expect(asked.stderr).toBe("");
  const rows = asked.stdout
    .trim()
    .split("\n")
    .filter(Boolean)
    .map((line) => line.split("\t"));
  return Object.fromEntries(rows.map(([account = "", amount]) => [account, Math.round(Number(amount) * 100)]));
}

const trialOf = (records: Records, of: "opening" | "closing") =>
  Object.fromEntries(
    records
      .map((row) => [row.account ?? "", Math.round(Number(row[of]) * 100)] as const)
      .filter(([, minor]) => minor !== 0),
  );

test.skipIf(!hasLedger)(
  "a plain-text ledger has every closing as the next opening, and twelve months as a year",
  async () => {
    const { session, settled } = openSession(yearEdition());
    await settled();
    const read = (sheet: Parameters<typeof session.value>[0]["sheet"], row: string, column: string) =>
      session.value({ sheet, row, column });
    const year = must(
      accountantPack(session.book.value, read, { from: "2026-01-01", to: "2026-12-31", reference: "Y" }, FORM),
    );
    const months: { journal: Records; trial: Records }[] = [];
    for (let at = 0; at < 12; at += 1) {
      const asked = { ...openPeriod(session.book.value), reference: "M", isDetailed: at % 2 === 1 };
      const { files, checks } = must(accountantPack(session.book.value, read, asked, FORM));
      expect(checks.filter(({ isMet }) => !isMet)).toEqual([]);
      months.push({ journal: table(files["journal.csv"]), trial: table(files["trial-balance.csv"]) });
      must(giveOut(session, must(makePack(session, asked, FORM))));
    }
    const { packs } = session.book.value.lists;
    expect(packs.at(-1)?.to).toBe("2026-12-31");
    expect(months.filter(({ journal }) => journal.length > 0).length).toBeGreaterThan(9);
    let soFar = "";
    for (const [at, { journal, trial }] of months.entries()) {
      if (at > 0) expect(balances(soFar)).toEqual(trialOf(trial, "opening"));
      soFar += plainText(journal);
      expect(balances(soFar)).toEqual(trialOf(trial, "closing"));
    }
    const all = months.flatMap(({ journal }) => journal);
    expect(balances(soFar)).toEqual(balances(plainText(table(year.files["journal.csv"]))));
    const numbers = [...new Set(all.map(({ reference }) => reference))];
    expect(numbers).toEqual(numbers.map((_, at) => `M-${at + 1}`));
    // A journal with a coin too much is refused: the program does look.
    const [line, ...rest] = all;
    const broken = plainText([
      { ...line, debit: line?.debit ? "1.23" : "", credit: line?.debit ? "" : "1.23" },
      ...rest,
    ]);
    expect(spawnSync("ledger", ["-f", "-", "balance"], { input: broken }).status).not.toBe(0);
  },
);
