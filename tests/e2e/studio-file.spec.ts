// The whole studio in one file: saved, looked through, and brought back edition by edition.
import { mkdir, writeFile } from "node:fs/promises";
import { expect, type Page } from "@playwright/test";
import { violations, WCAG } from "./axe";
import { open, settled, test } from "./page";

// Chromium's own dialogs for files can't be answered by a test; what every other browser does can.
test.beforeEach(async ({ page }) => {
  await page.addInitScript(() => {
    Reflect.deleteProperty(window, "showOpenFilePicker");
    Reflect.deleteProperty(window, "showSaveFilePicker");
  });
});

async function openStudioFile(page: Page) {
  await page.getByRole("button", { name: "Editions…", exact: true }).click();
  await page.getByRole("button", { name: "The whole studio in one file…" }).click();
  return page.getByRole("dialog");
}

async function bring(page: Page, path: string): Promise<void> {
  const [chooser] = await Promise.all([
    page.waitForEvent("filechooser"),
    page.getByRole("button", { name: "Bring back from a file…" }).click(),
  ]);
  await chooser.setFiles(path);
}

test("a studio goes into a file and comes back, one edition at a time, with nothing written over unsaid", async ({
  page,
  browser,
}, { outputDir }) => {
  await open(page);
  let dialog = await openStudioFile(page);
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    dialog.getByRole("button", { name: "Save it…" }).click(),
  ]);
  expect(download.suggestedFilename()).toMatch(/^studio \d{4}-\d\d-\d\d\.studio\.zip$/);
  const path = `${outputDir}/a.studio.zip`;
  await download.saveAs(path);
  await expect(page.getByText(/Saved 1 edition as the file/)).toBeVisible();

  // The edition goes on, and then is put back to what the file has: as one step that Undo takes back.
  await page.getByRole("button", { name: "Editions…", exact: true }).click();
  await page.getByRole("button", { name: "More to do with Marram", exact: true }).click();
  await page.getByRole("dialog").getByRole("textbox").last().fill("Marram, later");
  await page
    .getByRole("dialog")
    .getByRole("button", { name: /^Rename/ })
    .click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Marram, later");
  await page.keyboard.press("Escape");
  dialog = await openStudioFile(page);
  await bring(page, path);
  const preview = page.getByTestId("studio-preview");
  await expect(preview).toContainText("older than what is here");
  await expect(dialog.getByRole("button", { name: "Nothing to bring back" })).toBeDisabled();
  const found = await violations(page, { within: "dialog", rules: WCAG });
  expect(found.map(({ id }) => id)).toEqual([]);
  await page.getByLabel("What to do with Marram").selectOption({ index: 1 });
  await dialog.getByRole("button", { name: "Do this for 1 edition" }).click();
  await expect(page.getByTestId("studio-restored")).toHaveText("Brought back: Marram.");
  await page.keyboard.press("Escape");
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Marram");
  await page.getByRole("button", { name: "Undo", exact: true }).first().click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Marram, later");

  // Another browser has nothing of it: everything is new, on a phone too.
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, serviceWorkers: "block" });
  const phone = await context.newPage();
  await phone.addInitScript(() => Reflect.deleteProperty(window, "showOpenFilePicker"));
  await phone.goto(page.url());
  await settled(phone);
  await phone.getByRole("button", { name: "More" }).first().click();
  await openStudioFile(phone);
  await bring(phone, path);
  await expect(phone.getByTestId("studio-preview")).toContainText("not in this browser");
  expect(await phone.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  await phone.getByRole("button", { name: "Do this for 1 edition" }).click();
  await expect(phone.getByTestId("studio-restored")).toHaveText("Brought back: Marram.");
  await context.close();
});

test("a file that is none is refused with its place", async ({ page }, { outputDir }) => {
  await open(page);
  const dialog = await openStudioFile(page);
  const path = `${outputDir}/b.zip`;
  await mkdir(outputDir, { recursive: true });
  await writeFile(path, "no zip at all, though it is called one");
  await bring(page, path);
  await expect(dialog.getByRole("alert")).toContainText("b.zip: found “no end of a zip”");
  await expect(page.getByTestId("studio-preview")).toHaveCount(0);
});
