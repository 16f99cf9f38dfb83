// What is typed lands in the cell that the card names when the first key is pressed, or is kept and offered: never elsewhere.
import { expect, type Page } from "@playwright/test";
import { arrowTo, cellName, open, savedText, settled, test, toSheet, withoutPickers } from "./page";

test.beforeEach(({ page }) => withoutPickers(page));

/** Random numbers of a seed, from 0 up to 1 (a linear congruential generator, Numerical Recipes). */
function randomFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1664525 + 1013904223) % 2 ** 32;
    return state / 2 ** 32;
  };
}

/** Notes what the card says at every key that begins a text. */
async function listen(page: Page): Promise<void> {
  await page.evaluate(() => {
    const said: string[] = [];
    Object.assign(window, { said });
    window.addEventListener(
      "keydown",
      ({ key }) => key === "~" && said.push(document.querySelector("#card h2")?.textContent ?? ""),
      { capture: true },
    );
  });
}

const saidBy = (page: Page) => page.evaluate(() => (window as unknown as { said: string[] }).said);

/** Where each text that was typed stands in the saved edition, as the card would name it. */
async function placesOf(page: Page): Promise<Map<string, string>> {
  const book = JSON.parse(await savedText(page));
  const { columns, rows } = book.sheets.pieces;
  const titles = new Map(columns.map((column: { key: string; title: string }) => [column.key, column.title]));
  const places = new Map<string, string>();
  for (const row of rows)
    for (const [key, raw] of Object.entries(row.cells))
      if (typeof raw === "string" && raw.startsWith("~"))
        places.set(raw, `Pieces ${row.cells.piece}, ${titles.get(key) ?? key}`);
  return places;
}

async function find(page: Page, piece: string): Promise<void> {
  await page.keyboard.press("Alt+2");
  await page.keyboard.press("Control+a");
  await page.keyboard.type(piece);
  await page.keyboard.press("Enter");
}

test("typed at once after a jump, a sort, a filter or a fold, on a slow computer and a small screen", async ({
  page,
}) => {
  test.setTimeout(240_000);
  await page.setViewportSize({ width: 800, height: 600 });
  await open(page);
  await listen(page);
  const random = randomFrom(41);
  const slow = await page.context().newCDPSession(page);
  await slow.send("Emulation.setCPUThrottlingRate", { rate: 6 });
  const piece = () => String(1 + Math.floor(random() * 28)).padStart(3, "0");
  const filter = page.getByLabel("Which pieces are shown");
  const ways: (() => Promise<unknown>)[] = [
    () => find(page, piece()),
    () => find(page, piece()),
    async () => {
      const shown = ["All pieces", "In progress", "Good", "Seconds"][Math.floor(random() * 4)] ?? "";
      await filter.selectOption({ label: shown });
      await page.keyboard.press("Alt+3");
    },
    async () => {
      await page.getByRole("button", { name: /^(Unf|F)old the steps$/ }).press("Enter");
      await page.keyboard.press("Alt+3");
    },
    async () => {
      await page.keyboard.press("Alt+3");
      for (const key of ["Control+Home", "ArrowUp", "Enter", "ArrowDown"]) await page.keyboard.press(key);
    },
    async () => {
      await page.keyboard.press("Alt+3");
      await page.keyboard.press(random() < 0.5 ? "PageDown" : "Control+Home");
    },
  ];
  const typed: string[] = [];
  for (let at = 0; at < 36; at += 1) {
    await ways[Math.floor(random() * ways.length)]?.();
    // No waiting from here on.
    await page.keyboard.press("End");
    typed.push(`~${at}`);
    await page.keyboard.type(`~${at}`);
    await page.keyboard.press("Enter");
  }
  await slow.send("Emulation.setCPUThrottlingRate", { rate: 1 });
  await settled(page);
  const said = await saidBy(page);
  const places = await placesOf(page);
  const kept = await page.getByTestId("kept-text").locator("b").allTextContents();
  expect(said).toHaveLength(typed.length);
  // A later text may have taken the place of an earlier one in the same cell.
  const last = new Map(said.map((cell, at) => [cell, typed[at]]));
  for (const [cell, text] of last)
    if (!kept.includes(text ?? "")) expect([text, places.get(text ?? "")]).toEqual([text, cell]);
  expect(kept.length).toBeLessThan(3);
  expect([...last.keys()].every((cell) => cell.endsWith(", note"))).toBe(true);
});

test("a piece that a filter hides is gone to: the sheet has the keyboard, and typing lands there", async ({ page }) => {
  await open(page);
  await page.getByLabel("Which pieces are shown").selectOption("outcome:lost");
  const shown = page.locator(".grid-host .ht_clone_inline_start tbody td");
  const hidden = ["001", "002", "003", "004"];
  const lost = await shown.allTextContents();
  const piece = hidden.find((one) => !lost.some((text) => text.startsWith(one))) ?? "";
  await find(page, piece);
  await page.keyboard.press("End");
  await page.keyboard.type("~here");
  await page.keyboard.press("Enter");
  expect((await placesOf(page)).get("~here")).toBe(`Pieces ${piece}, note`);
  await expect(page.locator(".grid-host td:visible", { hasText: new RegExp(`^${piece}`) }).first()).toBeVisible();
});

test("where Undo takes the row away in the middle of typing, the text is kept on the card and can be written elsewhere", async ({
  page,
}) => {
  await open(page);
  await page
    .getByRole("navigation")
    .getByRole("button", { name: /^Materials/ })
    .click();
  await page.getByRole("button", { name: "Add a material", exact: true }).click();
  await expect.poll(() => cellName(page)).toMatch(/^Materials, Material/);
  await page.keyboard.type("Blue slip");
  await page.keyboard.press("Control+z");
  const kept = page.getByTestId("kept-text");
  await expect(kept).toContainText("Blue slip");
  await page
    .getByRole("navigation")
    .getByRole("button", { name: /^Pieces/ })
    .click();
  await toSheet(page);
  await arrowTo(page, "note");
  const here = await cellName(page);
  await kept.getByRole("button", { name: `Write it into ${here}` }).click();
  await expect(page.getByTestId("card-value")).toHaveText(/Blue slip/);
  await expect(kept).toHaveCount(0);
});

test("what was typed into the card and not entered is not dropped when the card goes on", async ({ page }) => {
  await open(page);
  await toSheet(page);
  await arrowTo(page, "note");
  await page.getByLabel("Its value").fill("half a sentence");
  await find(page, "002");
  await expect(page.getByTestId("kept-text")).toContainText("half a sentence");
  await page.getByTestId("kept-text").getByRole("button", { name: "Throw it away" }).click();
  await expect(page.getByTestId("kept-text")).toHaveCount(0);
});
