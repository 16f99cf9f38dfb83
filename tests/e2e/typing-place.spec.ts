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
    Object.assign(window, { said: [] });
    window.addEventListener(
      "keydown",
      ({ key }) => {
        if (key === "~")
          (Reflect.get(window, "said") as string[]).push(document.querySelector("#card h2")?.textContent ?? "");
      },
      { capture: true },
    );
  });
}

/** What was noted since it was last asked. */
const saidBy = (page: Page) => page.evaluate(() => (Reflect.get(window, "said") as string[]).splice(0));

/** Where each text that was typed stands in the saved edition, as the card would name it. */
async function placesOf(page: Page): Promise<Map<string, string[]>> {
  const book = JSON.parse(await savedText(page));
  const { columns, rows } = book.sheets.pieces;
  const titles = new Map(columns.map((column: { key: string; title: string }) => [column.key, column.title]));
  const places = new Map<string, string[]>();
  for (const row of rows)
    for (const [key, raw] of Object.entries(row.cells))
      if (typeof raw === "string" && raw.startsWith("~"))
        places.set(raw, [...(places.get(raw) ?? []), `Pieces ${row.cells.piece}, ${titles.get(key) ?? key}`]);
  return places;
}

/** What was typed and written nowhere, by its text: the cell it was meant for. Taken off the card. */
async function keptOn(page: Page): Promise<Map<string, string>> {
  const notes = page.getByTestId("kept-text");
  const kept = new Map<string, string>();
  for (let left = await notes.count(); left > 0; left -= 1) {
    const words = (await notes.first().locator("p").textContent()) ?? "";
    const [, cell = "", text = ""] =
      /^Typed for (.*), which has gone, so it is in no cell yet: (.*)$/.exec(words) ?? [];
    kept.set(text, cell);
    await notes.first().getByRole("button", { name: "Throw it away" }).click();
    await expect(notes).toHaveCount(left - 1);
  }
  return kept;
}

async function find(page: Page, piece: string): Promise<void> {
  await page.keyboard.press("Alt+2");
  await page.keyboard.press("Control+a");
  await page.keyboard.type(piece);
  await page.keyboard.press("Enter");
}

/** How many tries, in parts of so many: each part is looked at before the next one writes over it. */
const TRIES = Number(process.env.TYPING_TRIES ?? 30);
const PART = 20;

test(`typed at once after a jump, a sort, a filter, a fold or a take-over, on a slow computer: ${TRIES} times`, async ({
  page,
  context,
}) => {
  test.setTimeout(180_000 + TRIES * 3000);
  await page.setViewportSize({ width: 800, height: 600 });
  await open(page);
  await listen(page);
  const random = randomFrom(Number(process.env.TYPING_SEED ?? 41));
  const other = await context.newPage();
  await open(other);
  await page.bringToFront();
  const slow = await context.newCDPSession(page);
  const piece = () => String(1 + Math.floor(random() * 141)).padStart(3, "0");
  const filter = page.getByLabel("Which pieces are shown");
  const following = (of: Page) => of.getByTestId("keeping-following");
  const writeHere = (of: Page) => following(of).getByRole("button", { name: "Write here" });
  const ways: Readonly<Record<string, () => Promise<unknown>>> = {
    jump: () => find(page, piece()),
    "jump again": () => find(page, piece()),
    filter: async () => {
      const shown = ["All pieces", "In progress", "Good", "Seconds"][Math.floor(random() * 4)] ?? "";
      await filter.selectOption({ label: shown });
      await page.keyboard.press("Alt+3");
    },
    fold: async () => {
      await page.getByRole("button", { name: /^(Unf|F)old the steps$/ }).press("Enter");
      await page.keyboard.press("Alt+3");
    },
    sort: async () => {
      await page.keyboard.press("Alt+3");
      for (const key of ["Control+Home", "ArrowUp", "Enter", "ArrowDown"]) await page.keyboard.press(key);
    },
    scroll: async () => {
      await page.keyboard.press("Alt+3");
      await page.keyboard.press(random() < 0.5 ? "PageDown" : "Control+Home");
    },
    "take-over": async () => {
      await page.keyboard.press("Alt+3");
      await writeHere(other).click();
    },
  };
  const names = [...Object.keys(ways).slice(0, -1), ...Object.keys(ways).slice(0, -1), "take-over"];
  const count: Record<string, number> = { written: 0, "written over by a later one": 0, kept: 0 };
  for (let done = 0; done < TRIES; done += PART) {
    const typed: string[] = [];
    const kept = new Map<string, string>();
    await slow.send("Emulation.setCPUThrottlingRate", { rate: 6 });
    for (let at = done; at < Math.min(TRIES, done + PART); at += 1) {
      const way = names[Math.floor(random() * names.length)] ?? "";
      await ways[way]?.();
      // No waiting from here on.
      await page.keyboard.press("End");
      typed.push(`~${at}`);
      await page.keyboard.type(`~${at}`);
      await page.keyboard.press("Enter");
      count[way] = (count[way] ?? 0) + 1;
      if (way !== "take-over") continue;
      await expect(writeHere(page)).toBeVisible();
      await writeHere(page).click();
      await expect(following(page)).toHaveCount(0);
      await expect(following(other)).toBeVisible();
      for (const [text, cell] of await keptOn(page)) kept.set(text, cell);
    }
    await slow.send("Emulation.setCPUThrottlingRate", { rate: 1 });
    await settled(page);
    for (const [text, cell] of await keptOn(page)) kept.set(text, cell);
    const said = await saidBy(page);
    const places = await placesOf(page);
    expect(said).toHaveLength(typed.length);
    expect(said.filter((cell) => !cell.endsWith(", note"))).toEqual([]);
    for (const [at, text] of typed.entries()) {
      const cell = said[at] ?? "";
      const written = places.get(text) ?? [];
      const meantFor = kept.get(text);
      // Written where the card said, or kept and offered for that cell: one of the two, and nowhere else.
      if (meantFor !== undefined) expect([text, written, meantFor]).toEqual([text, [], cell]);
      else if (written.length > 0) expect([text, written]).toEqual([text, [cell]]);
      // Else a later text took its place in the same cell.
      else expect([text, cell, said.slice(at + 1).includes(cell)]).toEqual([text, cell, true]);
      const fate = meantFor !== undefined ? "kept" : written.length > 0 ? "written" : "written over by a later one";
      count[fate] = (count[fate] ?? 0) + 1;
    }
  }
  console.table(count);
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
  expect((await placesOf(page)).get("~here")).toEqual([`Pieces ${piece}, note`]);
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
