// Wherever the keyboard was, a click on a cell or Tab brings it into the sheet.
import { expect, type Page } from "@playwright/test";
import { arrowTo, cellName, figure, open, paste, saveState, settled, test, toSheet } from "./page";

const inSheet = (page: Page) => page.evaluate(() => document.activeElement?.closest(".grid-host") !== null);

/** Clicks the number of a piece with the mouse. */
async function clickPiece(page: Page, piece: string): Promise<void> {
  const box = await page
    .locator(".grid-host td:visible", { hasText: new RegExp(`^${piece}`) })
    .first()
    .boundingBox();
  if (!box) throw new Error(`${piece} is not in sight`);
  await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2);
}

/** The arrows move on from the cell that was clicked, and Enter opens that cell and presses nothing else. */
async function expectArrows(page: Page, after: string): Promise<void> {
  await expect.poll(() => cellName(page), after).toMatch(/^Pieces 003/);
  await page.keyboard.press("ArrowDown");
  await expect.poll(() => cellName(page), after).toMatch(/^Pieces 004/);
  await page.keyboard.press("ArrowRight");
  await expect.poll(() => cellName(page), after).toMatch(/^Pieces 004, /);
  expect(await inSheet(page), after).toBe(true);
  await page.keyboard.press("Enter");
  await expect(page.locator(".grid-host input:focus"), after).toHaveCount(1);
  await expect(page.getByRole("dialog"), after).toHaveCount(0);
  await page.keyboard.press("Escape");
  expect(await inSheet(page), after).toBe(true);
}

const tool = (page: Page, name: string) => page.getByRole("button", { name, exact: true }).first();

/** Ways for the keyboard to be elsewhere. */
const ELSEWHERE: readonly (readonly [string, (page: Page) => Promise<void>])[] = [
  ["text typed to find", (page) => page.getByRole("searchbox").pressSequentially("00")],
  [
    "Escape in the field of find",
    async (page) => {
      await page.getByRole("searchbox").click();
      await page.keyboard.press("Escape");
    },
  ],
  ["the field that chooses pieces", (page) => page.locator("#choose-pieces").click()],
  ["the form of the card", (page) => page.locator("#card input, #card select, #card button").first().focus()],
  ["the card", (page) => page.keyboard.press("Alt+4")],
  [
    "a dialog left by Escape",
    async (page) => {
      await tool(page, "Add a step…").click();
      await expect(page.getByRole("dialog")).toBeVisible();
      await page.keyboard.press("Escape");
      await expect(page.getByRole("dialog")).toHaveCount(0);
    },
  ],
  [
    "a dialog closed by its button",
    async (page) => {
      await tool(page, "CSV…").click();
      await page.getByRole("dialog").getByRole("button", { name: "Close" }).first().click();
      await expect(page.getByRole("dialog")).toHaveCount(0);
    },
  ],
  [
    "the dialog of a key figure",
    async (page) => {
      await page.getByTestId("figure-put_in").click();
      await expect(page.getByRole("dialog")).toBeVisible();
      await page.keyboard.press("Escape");
      await expect(page.getByRole("dialog")).toHaveCount(0);
    },
  ],
  ["a key figure", (page) => page.getByTestId("figure-put_in").focus()],
  ["a tool", (page) => tool(page, "Undo").focus()],
  [
    "the choice of what is shown",
    async (page) => void (await page.getByLabel("Which pieces are shown").selectOption({ index: 0 })),
  ],
  [
    "steps folded and unfolded",
    async (page) => {
      await tool(page, "Unfold the steps").click();
      await tool(page, "Fold the steps").click();
    },
  ],
  [
    "another sheet and back",
    async (page) => {
      await page
        .getByRole("navigation")
        .getByRole("button", { name: /^Route/ })
        .click();
      await page
        .getByRole("navigation")
        .getByRole("button", { name: /^Pieces/ })
        .click();
    },
  ],
];

test("after a click on a cell the arrows move on from it, wherever the keyboard was", { tag: "@both-grids" }, async ({
  page,
}) => {
  test.setTimeout(180_000);
  await open(page);
  await clickPiece(page, "003");
  for (const [where, goThere] of ELSEWHERE) {
    await goThere(page);
    await clickPiece(page, "003");
    await expectArrows(page, where);
  }
});

test("while the key figures are still being calculated, too", { tag: "@both-grids" }, async ({ page }) => {
  await open(page);
  const before = await figure(page, "put_in").textContent();
  await tool(page, "Unfold the steps").click();
  await toSheet(page);
  await page.keyboard.press("Control+Home");
  await arrowTo(page, "Fettle: time");
  await paste(page, Array.from({ length: 90 }, () => "40").join("\n"));
  await page.getByTestId("figure-put_in").focus();
  await clickPiece(page, "003");
  await expectArrows(page, "numbers pasted");
  await expect(page.getByTestId("notice-done").last()).toContainText("90 cells pasted");
  await settled(page);
  await expect(figure(page, "put_in")).not.toHaveText(before ?? "");
});

test("after Tab from the tools, two clicks or a click on a title the keyboard is in the sheet, and the arrows move there", {
  tag: "@both-grids",
}, async ({ page }) => {
  await open(page);
  await test.step("Tab from the tools comes into the sheet", async () => {
    await clickPiece(page, "003");
    await page.getByLabel("Show only rows with this text").focus();
    for (let at = 0; at < 6 && !(await inSheet(page)); at += 1) await page.keyboard.press("Tab");
    await expectArrows(page, "Tab");
  });

  await test.step("two clicks with typing elsewhere between them are no double click", async () => {
    for (let at = 0; at < 3; at += 1) {
      await clickPiece(page, "003");
      await page.locator("#choose-pieces").focus();
      await page.keyboard.press("1");
      await clickPiece(page, "003");
      await expectArrows(page, "typing between two clicks");
    }
  });

  await test.step("a title that is clicked sorts", async () => {
    await clickPiece(page, "003");
    await page.getByRole("searchbox").click();
    await page.locator(".grid-host th[data-column]:visible .sheet-head-title").first().click();
    await expect.poll(() => inSheet(page)).toBe(true);
    await expectArrows(page, "a title");
  });
});

test("a key in the frame in which a dialog goes is not lost: the keyboard stays where the key put it", async ({
  page,
}) => {
  await open(page);
  await page.keyboard.press("Alt+h");
  await expect(page.locator("dialog[open]")).toBeVisible();
  const stayed = await page.evaluate(async () => {
    const gone = new Promise<void>((done) => {
      const watch = new MutationObserver(() => {
        if (document.querySelector("dialog[open]")) return;
        watch.disconnect();
        done();
      });
      watch.observe(document.body, { subtree: true, childList: true, attributes: true });
    });
    document.activeElement?.dispatchEvent(
      new KeyboardEvent("keydown", { key: "Escape", bubbles: true, cancelable: true }),
    );
    await gone;
    document.body.dispatchEvent(
      new KeyboardEvent("keydown", { key: "2", code: "Digit2", altKey: true, bubbles: true, cancelable: true }),
    );
    await new Promise((done) => setTimeout(done, 300));
    return document.activeElement?.id;
  });
  expect(stayed).toBe("choose-pieces");
});

test("a column's width is changed by its edge, kept over a reload, and undone", async ({ page }) => {
  await open(page);
  const head = page.locator(".grid-host th[data-column=piece]");
  const width = () => head.evaluate((element) => Math.round(element.getBoundingClientRect().width));
  const was = await width();
  const box = await head.locator(".free-edge").boundingBox();
  if (!box) throw new Error("the title has no edge");
  await page.mouse.move(box.x + 3, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + 43, box.y + box.height / 2, { steps: 4 });
  await page.mouse.up();
  await expect.poll(width).toBe(was + 40);
  await expect(saveState(page)).toHaveText(/^Saved/);
  await page.reload();
  await settled(page);
  expect(await width()).toBe(was + 40);
  await page.locator(".grid-host th[data-column=piece] .free-edge").dblclick();
  await expect.poll(width).not.toBe(was + 40);
  await page.getByRole("button", { name: "Undo", exact: true }).first().click();
  await expect.poll(width).toBe(was + 40);
});
