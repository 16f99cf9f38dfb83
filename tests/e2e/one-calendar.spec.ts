// Two editions on one kiln: which is ready when, what moves when one is put first, and the calendar as a file.
import { expect, type Page } from "@playwright/test";
import { violations, WCAG } from "./axe";
import { open, settled, tabTo, test, toPlace, unfold, withoutPickers } from "./page";

const more = (page: Page, title: string) =>
  page.getByRole("button", { name: `More to do with ${title}`, exact: true }).first();
const rows = (page: Page) => page.getByTestId("editions-order").getByRole("listitem");

/** The demo with a copy of it beside it, at the page “Ready when”. */
async function openTwo(page: Page): Promise<void> {
  await page.clock.setFixedTime(new Date("2026-11-25T09:00:00Z"));
  await open(page);
  await unfold(page, "more");
  await page.getByRole("button", { name: "Editions…" }).click();
  await more(page, "Marram").click();
  await page.getByRole("button", { name: "Duplicate" }).click();
  await more(page, "Marram (copy)").click();
  await page.locator("[name=rename]").fill("Kestrel");
  await page.getByRole("button", { name: "Rename", exact: true }).click();
  await expect(page.getByTestId("editions")).toContainText("Kestrel");
  await page.getByRole("button", { name: "Close", exact: true }).click();
  await toPlace(page, "Ready when");
  await page.getByLabel("Due", { exact: true }).fill("2026-12-11");
  await page.getByLabel("Due", { exact: true }).blur();
}

test("two editions share a kiln: one is put first by the keyboard, kept on the shelf, and given up again", async ({
  page,
}) => {
  await openTwo(page);
  const alone = await page.getByTestId("ready").textContent();
  await page.getByRole("radio", { name: /all editions/ }).check();
  await expect(rows(page)).toHaveCount(2);
  await expect(rows(page).first()).toContainText("Marram: ready Mon, 7 Dec 2026, 4 days before it is due");
  await expect(rows(page).nth(1)).toContainText("planned losses: 1 at Glaze firing");
  await expect(rows(page).nth(1).getByTestId("moves")).toHaveText(
    "Put first: Kestrel is ready 11 days earlier; Marram 11 days later, past the day it is due.",
  );
  await expect(page.getByTestId("free-room")).toContainText(
    "The load of Mon 30 Nov in Large kiln (Marram, low firing) has room for 44 pieces: Kestrel has 4 waiting for it.",
  );
  await expect(page.locator(".picture svg")).toBeVisible();
  const axe = await violations(page, { rules: WCAG });
  expect(axe.map(({ id }) => id)).toEqual([]);

  await tabTo(page, /^Put first/);
  await page.keyboard.press("Enter");
  await expect(rows(page).first()).toContainText("Kestrel: ready");
  await expect(rows(page).nth(1)).toContainText("⚠ ready");
  await expect(rows(page).nth(1)).toContainText("7 days late");
  await expect(page.getByRole("heading", { name: "In your own order" })).toBeVisible();
  await page.reload();
  await settled(page);
  await toPlace(page, "Ready when");
  // By itself it is ready as it was, whatever the studio does.
  await expect(page.getByTestId("ready")).toHaveText(alone ?? "");
  await page.getByRole("radio", { name: /all editions/ }).check();
  await expect(rows(page).first()).toContainText("Kestrel: ready");
  await page.getByRole("button", { name: "Order by due date" }).click();
  await expect(rows(page).first()).toContainText("Marram: ready");
});

test("the calendar is saved as iCalendar; what moved since says so", async ({ page }) => {
  await withoutPickers(page);
  await openTwo(page);
  await page.getByRole("radio", { name: /all editions/ }).check();
  await expect(rows(page)).toHaveCount(2);
  const save = async () => {
    const [file] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Save as a calendar file" }).click(),
    ]);
    expect(file.suggestedFilename()).toBe("The studio, ready when.ics");
    let text = "";
    for await (const chunk of await file.createReadStream()) text += chunk;
    return text;
  };
  const first = await save();
  expect(first.startsWith("BEGIN:VCALENDAR\r\nVERSION:2.0\r\n")).toBe(true);
  expect(first.match(/BEGIN:VEVENT/g)).toHaveLength(9);
  expect(first).toContain("DTSTART;VALUE=DATE:20261211");
  expect(first).not.toContain("SEQUENCE:1");
  await expect(page.getByText("Saved as the file The studio, ready when.ics: 9 events.")).toBeVisible();
  await page.getByRole("button", { name: /^Put first/ }).click();
  await expect(rows(page).first()).toContainText("Kestrel: ready");
  const second = await save();
  const ids = (text: string) => [...text.replaceAll("\r\n ", "").matchAll(/UID:(\S+)/g)].map(([, id]) => id).sort();
  expect(ids(second)).toEqual(ids(first));
  expect(second.match(/SEQUENCE:1/g)).toHaveLength(8);
});

test("in a narrow window it is complete, and nothing runs out of the page", async ({ page }) => {
  await openTwo(page);
  await page.setViewportSize({ width: 390, height: 844 });
  await page.getByRole("radio", { name: /all editions/ }).check();
  await expect(rows(page)).toHaveCount(2);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  await expect(page.getByRole("button", { name: /^Put first/ })).toBeVisible();
  const small = await page
    .getByTestId("calendar")
    .locator("button:visible, label:has(input[type=radio]):visible, label.tick:visible, summary:visible")
    .evaluateAll((all) => all.filter((one) => one.getBoundingClientRect().height < 44).map((one) => one.textContent));
  expect(small).toEqual([]);
  const axe = await violations(page, { rules: WCAG });
  expect(axe.map(({ id }) => id)).toEqual([]);
});
