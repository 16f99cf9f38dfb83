// One bad formula never takes the edition down. A function that never ends is made for the test: none of the sheet's is left.
import { expect, type Page } from "@playwright/test";
import { arrowTo, cardValue, open, openText, savedText, settled, test, toSheet, withoutPickers } from "./page";

/** Has ASINH never end in the engine's worker; it waits, since nothing is learnt from how hot the machine gets. */
async function makeEndless(page: Page): Promise<void> {
  await page.route(/\/assets\/whole-engine-[^/]*\.js/, async (route) => {
    const response = await route.fetch();
    const memory = "new WebAssembly.Memory({ initial: 1, maximum: 1, shared: true })";
    const body = `Math.asinh = () => { Atomics.wait(new Int32Array(${memory}.buffer), 0, 0); };\n${await response.text()}`;
    await route.fulfill({ response, body });
  });
}

test("typed: one that throws is an error of its cell, one that never ends is refused, and the sheet goes on", async ({
  page,
}) => {
  test.setTimeout(90_000);
  await makeEndless(page);
  await withoutPickers(page);
  await open(page);
  await page.getByRole("button", { name: "Unfold the steps" }).click();
  await toSheet(page);
  await page.keyboard.press("Control+Home");
  await arrowTo(page, "Fettle: time");
  const figures = await page.locator(".figures").textContent();
  await page.keyboard.type("=OFFSET()");
  await page.keyboard.press("Enter");
  await page.keyboard.press("ArrowUp");
  await expect(page.locator("#card .problem")).toContainText("can't be read as a formula");
  await page.keyboard.type("=ASINH(1)");
  await page.keyboard.press("Enter");
  await expect(page.getByTestId("notice-refused").last()).toContainText("within 5 seconds", { timeout: 30_000 });
  await page.keyboard.press("ArrowUp");
  await page.keyboard.type("=ABS(1e-308)");
  await page.keyboard.press("Enter");
  await settled(page);
  await page.keyboard.press("ArrowUp");
  await expect(cardValue(page)).toContainText("0");
  await page.keyboard.press("Control+z");
  await page.keyboard.press("Control+z");
  await settled(page);
  expect(await page.locator(".figures").textContent()).toBe(figures);
});

test("in a file: the formula is looked for with a Stop in sight, named, and everything else is calculated", async ({
  page,
}) => {
  test.setTimeout(120_000);
  await makeEndless(page);
  await withoutPickers(page);
  await open(page);
  const book = JSON.parse(await savedText(page));
  book.sheets.pieces.rows[3].cells["fettle.minutes"] = { f: "=ASINH(1)" };
  book.sheets.pieces.rows[4].cells["fettle.minutes"] = { f: "=700+1" };
  await openText(page, JSON.stringify(book));
  await expect(page.locator(".top")).toContainText("A formula takes too long", { timeout: 30_000 });
  await expect(page.getByRole("button", { name: "Stop", exact: true })).toBeVisible();
  await expect(page.getByTestId("notice-failed").last()).toContainText("takes too long and was set aside", {
    timeout: 60_000,
  });
  await settled(page);
  await expect(page.getByTestId("notice-failed").last()).toContainText("Pieces 004, Fettle: time");
  await page.reload();
  await expect(page.getByTestId("notice-failed").last()).toContainText("Pieces 004, Fettle: time", { timeout: 60_000 });
  await settled(page);
});
