// One bad formula never takes the edition down. A function that never ends is made for the test: none of the sheet's is left.
import { expect, type Locator, type Page } from "@playwright/test";
import { arrowTo, cardValue, open, openText, savedText, settled, test, toSheet, withoutPickers } from "./page";

/** In milliseconds; the page waits ten seconds for an engine, and five for one that tries a formula alone. */
const LONGER_THAN_WAITED = 12_000;
/** Where an engine tells the page that it has come to the formula that never ends. */
const ENDLESS = "endless";

/** Has ASINH never end in the engine's worker; it waits, since nothing is learnt from how hot the machine gets. */
async function makeEndless(page: Page): Promise<void> {
  await page.clock.install();
  await page.addInitScript((name) => {
    const heard = { times: 0 };
    Object.assign(window, { [name]: heard });
    new BroadcastChannel(name).onmessage = () => {
      heard.times += 1;
    };
  }, ENDLESS);
  await page.route(/\/assets\/whole-engine-[^/]*\.js/, async (route) => {
    const response = await route.fetch();
    const memory = "new WebAssembly.Memory({ initial: 1, maximum: 1, shared: true })";
    const wait = `new BroadcastChannel("${ENDLESS}").postMessage(0); Atomics.wait(new Int32Array(${memory}.buffer), 0, 0);`;
    await route.fulfill({ response, body: `Math.asinh = () => { ${wait} };\n${await response.text()}` });
  });
}

/** Lets the page's clock run on wherever an engine is at the endless formula, until something is in sight. */
async function untilShown(page: Page, wanted: Locator): Promise<void> {
  await expect
    .poll(
      async () => {
        if (await hasCome(page)) await page.clock.runFor(LONGER_THAN_WAITED);
        return wanted.isVisible();
      },
      { timeout: 60_000, intervals: [50] },
    )
    .toBe(true);
}

/** Whether an engine has come to the endless formula since this was last asked. */
function hasCome(page: Page): Promise<boolean> {
  return page.evaluate((name) => {
    const heard = (window as unknown as Record<string, { times: number } | undefined>)[name];
    const isNew = heard !== undefined && heard.times > 0;
    if (heard) heard.times = 0;
    return isNew;
  }, ENDLESS);
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
  await untilShown(page, page.getByTestId("notice-refused").filter({ hasText: "within 5 seconds" }));
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
  await untilShown(page, page.locator(".top").filter({ hasText: "A formula takes too long" }));
  await expect(page.getByRole("button", { name: "Stop", exact: true })).toBeVisible();
  const setAside = page.getByTestId("notice-failed").filter({ hasText: "takes too long and was set aside" });
  await untilShown(page, setAside.last());
  await settled(page);
  await expect(page.getByTestId("notice-failed").last()).toContainText("Pieces 004, Fettle: time");
  await page.reload();
  await untilShown(page, setAside.last());
  await expect(page.getByTestId("notice-failed").last()).toContainText("Pieces 004, Fettle: time");
  await settled(page);
});
