// An edition that an earlier program saved opens complete, and the page says what is different until that is put away.
import { readFileSync } from "node:fs";
import { gunzipSync } from "node:zlib";
import { expect } from "@playwright/test";
import { figure, open, settled, test } from "./page";

const old = gunzipSync(readFileSync(new URL("../fixtures/old-editions/7d19233.edition.json.gz", import.meta.url)));

test("what is different in an edition of an earlier program is said until it is put away", async ({ page }) => {
  await page.clock.install();
  await page.addInitScript(() => Reflect.deleteProperty(window, "showOpenFilePicker"));
  await open(page);
  await page.getByRole("button", { name: "Editions…" }).click();
  const [chooser] = await Promise.all([
    page.waitForEvent("filechooser"),
    page.getByRole("button", { name: "Open a file…" }).click(),
  ]);
  await chooser.setFiles({ name: "old.edition.json", mimeType: "application/json", buffer: old });
  const news = page.getByTestId("notice-refused").filter({ hasText: "An earlier Saggar saved this edition." });
  await expect(news).toContainText("Pieces to start may be fewer");
  await expect(news).toContainText("kept as your own: Firings, cone; Firings, programme, as it was.");
  await settled(page);
  await expect(figure(page, "starts")).toHaveText("138\u00a0pieces");
  // Longer than a message of something done stays.
  await page.clock.fastForward(7000);
  await expect(news).toBeVisible();
  await news.getByRole("button").last().click();
  await expect(news).toHaveCount(0);
  await expect(page.getByText("Saved", { exact: false }).first()).toBeVisible();
  await page.reload();
  await settled(page);
  await expect(figure(page, "starts")).toHaveText("138\u00a0pieces");
  await expect(news).toHaveCount(0);
});
