// The columns and lines every edition has, word for word. Kept editions take them from the code whenever they are opened,
// so a change of them is a change of editions that exist.
import { expect, test } from "vitest";
import { checksumOf } from "../../../src/core/checksum";
import { SHEETS_VERSION } from "../../../src/core/document/sheet-keys";
import type { Row } from "../../../src/core/document/workbook";
import { SHEET_CHANGES } from "../../../src/core/sheets/changes";
import { standardSheets } from "../../../src/core/sheets/standard";
import { STEP_KINDS } from "../../../src/core/sheets/step-kinds";

const route = [...STEP_KINDS, "firing" as const, "coat" as const].map((kind, at): Row => {
  const who = at === STEP_KINDS.length ? "as needed" : at > STEP_KINDS.length ? "special" : "all";
  return { id: `${kind}_${at}`, cells: { kind, who, title: `${kind} ${at}`, order: at, key: `${kind}_${at}` } };
});
const text = `${JSON.stringify(standardSheets(route), undefined, 1)}\n`;

test("a change of the standard sheets is written down in src/core/sheets/changes.ts", async () => {
  // Look at what differs. Then add a line to SHEET_CHANGES (with words where a number moves that was there before; a
  // migration besides where an entry would lose its place), raise SHEETS_VERSION, and renew the file with
  // `npx vitest run --project unit tests/core/sheets/standard-sheets.test.ts -u`.
  const sum = checksumOf(text).toString(16);
  expect(SHEET_CHANGES.at(-1)?.sum, `the last line of SHEET_CHANGES needs the sum ${sum}`).toBe(sum);
  expect(SHEETS_VERSION).toBe(SHEET_CHANGES.length);
  await expect(text).toMatchFileSnapshot("../../fixtures/standard-sheets.json");
});
