// Two tabs with one edition: one writes, the other follows and can take over; neither loses anything.
import { type BrowserContext, expect, type Page } from "@playwright/test";
import { noteOf, open, saveState, settled, test, writeNote } from "./page";

const following = (page: Page) => page.getByTestId("keeping-following");

async function openSecond(context: BrowserContext): Promise<Page> {
  const page = await context.newPage();
  await open(page);
  await expect(following(page)).toContainText("Another tab writes this edition.");
  return page;
}

test("the second tab follows live, refuses edits, and takes over with one press", async ({ page, context }) => {
  await open(page);
  const second = await openSecond(context);
  await expect(saveState(second)).toHaveText("Follows another tab");
  await writeNote(second, "020", "no");
  await expect(second.getByTestId("notice-refused").last()).toContainText("another tab writes this edition");
  await writeNote(page, "020", "from the first");
  await expect.poll(() => noteOf(second, "020")).toBe("from the first");
  await following(second).getByRole("button", { name: "Write here" }).click();
  await expect(following(second)).toHaveCount(0);
  await expect(following(page)).toBeVisible();
  await writeNote(second, "021", "from the second");
  await expect(saveState(second)).toHaveText(/^Saved/);
  await expect.poll(() => noteOf(page, "021")).toBe("from the second");
  await writeNote(page, "022", "no");
  await expect(page.getByTestId("notice-refused").last()).toContainText("another tab writes this edition");
  await following(page).getByRole("button", { name: "Write here" }).click();
  await writeNote(page, "022", "back again");
  await expect(saveState(page)).toHaveText(/^Saved/);
  await second.close();
  await page.reload();
  await settled(page);
  const notes = [await noteOf(page, "020"), await noteOf(page, "021"), await noteOf(page, "022")];
  expect(notes).toEqual(["from the first", "from the second", "back again"]);
});

test("a tab that is closed or crashes hands over by itself", async ({ page, context }) => {
  await open(page);
  const second = await openSecond(context);
  await writeNote(page, "020", "before it closed");
  await page.close();
  await expect(following(second)).toHaveCount(0);
  await expect.poll(() => noteOf(second, "020")).toBe("before it closed");
  await writeNote(second, "021", "and on");
  await expect(saveState(second)).toHaveText(/^Saved/);
});

test("different editions in different tabs are written side by side", async ({ page, context }) => {
  await open(page);
  const second = await openSecond(context);
  await second.getByRole("button", { name: "Editions…" }).click();
  await second.getByRole("button", { name: "A fresh demo edition" }).click();
  await settled(second);
  await expect(following(second)).toHaveCount(0);
  await writeNote(page, "020", "in one");
  await writeNote(second, "020", "in the other");
  await expect(saveState(page)).toHaveText(/^Saved/);
  await expect(saveState(second)).toHaveText(/^Saved/);
  expect([await noteOf(page, "020"), await noteOf(second, "020")]).toEqual(["in one", "in the other"]);
});
