// Undo goes on after the page was loaded again, and the list of what was done leads back to any step of it.
import { expect, type Page } from "@playwright/test";
import { violations, WCAG } from "./axe";
import { noteOf, open, resize, saveState, settled, test, unfold, writeNote } from "./page";

const dialog = (page: Page) => page.getByRole("dialog", { name: "What was done" });
const here = (page: Page) => dialog(page).locator("[aria-current=step]");
const showDone = async (page: Page) => {
  await unfold(page, "more");
  await page.getByRole("button", { name: "What was done", exact: true }).click();
  await expect(here(page)).toBeFocused();
};

async function threeNotes(page: Page): Promise<void> {
  for (const text of ["one", "two", "three"]) await writeNote(page, "003", text);
  await expect(saveState(page)).toContainText("Saved");
}

test("what was done before a reload is undone and redone after it", async ({ page }) => {
  await open(page);
  await threeNotes(page);
  await page.getByRole("button", { name: "Undo", exact: true }).click();
  await expect(saveState(page)).toContainText("Saved");
  await page.reload();
  await settled(page);
  const undo = page.getByRole("button", { name: "Undo", exact: true });
  await expect(undo).toHaveAttribute("title", /^Undo: .*note/);
  await page.getByRole("button", { name: "Redo", exact: true }).click();
  expect(await noteOf(page, "003")).toBe("three");
  for (let at = 0; at < 3; at += 1) await undo.click();
  await expect(undo).toBeDisabled();
  expect(await noteOf(page, "003")).not.toMatch(/one|two|three/);
});

test("one press goes back to any step, by pointer or by keyboard, and forth again", async ({ page }) => {
  await open(page);
  await threeNotes(page);
  await page.reload();
  await settled(page);
  await showDone(page);
  const lines = dialog(page).getByRole("listitem");
  await expect(lines).toHaveCount(4);
  await expect(lines.nth(0)).toContainText("You are here");
  await lines.nth(2).getByRole("button").click();
  await expect(lines.nth(2)).toContainText("You are here");
  await expect(lines.nth(0)).toContainText("Undone; redo to here");
  await expect(dialog(page).getByRole("status")).toContainText("2 steps undone");
  await page.keyboard.press("Escape");
  expect(await noteOf(page, "003")).toBe("one");

  // The same by keyboard alone.
  await page.keyboard.press("Alt+6");
  await page.keyboard.type("what was done");
  await page.keyboard.press("Enter");
  await expect(here(page)).toBeFocused();
  await page.keyboard.press("Home");
  await page.keyboard.press("Enter");
  await expect(dialog(page).getByRole("status")).toContainText("2 steps redone");
  await page.keyboard.press("End");
  await page.keyboard.press("Enter");
  await expect(here(page)).toContainText("Before all of these");
  await page.keyboard.press("ArrowUp");
  await page.keyboard.press("ArrowUp");
  await page.keyboard.press("Enter");
  await page.keyboard.press("Escape");
  expect(await noteOf(page, "003")).toBe("two");
});

test("a page that is killed has its undo when it is opened again", async ({ context, page }) => {
  await open(page);
  await threeNotes(page);
  await writeNote(page, "003", "four");
  await page.close({ runBeforeUnload: false });
  const again = await context.newPage();
  await open(again);
  expect(await noteOf(again, "003")).toBe("four");
  await showDone(again);
  await dialog(again).getByRole("listitem").nth(2).getByRole("button").click();
  await again.keyboard.press("Escape");
  expect(await noteOf(again, "003")).toBe("two");
});

test("a step that is damaged is said in the list, and the edition is as it was", async ({ page }) => {
  await open(page);
  await threeNotes(page);
  await page.evaluate(async () => {
    const [name] = (await indexedDB.databases()).flatMap((one) => (one.name === undefined ? [] : [one.name]));
    await new Promise<void>((done, failed) => {
      const opening = indexedDB.open(name ?? "");
      opening.onsuccess = () => {
        const change = opening.result.transaction("steps", "readwrite");
        const keys = change.objectStore("steps").getAllKeys();
        keys.onsuccess = () => change.objectStore("steps").put({ text: "{", sum: 1 }, keys.result[0]);
        change.oncomplete = () => {
          opening.result.close();
          done();
        };
        change.onerror = failed;
      };
    });
  });
  await page.reload();
  await settled(page);
  expect(await noteOf(page, "003")).toBe("three");
  await showDone(page);
  await expect(dialog(page).getByRole("listitem")).toHaveCount(1);
  await expect(here(page)).toContainText(/What was done up to .*20\d\d.* can’t be undone any more/);
});

test("the list is whole and clean at every width", async ({ page }) => {
  await open(page);
  await threeNotes(page);
  await page.getByRole("button", { name: "Undo", exact: true }).click();
  for (const width of [1440, 820, 390])
    await test.step(`${width} px`, async () => {
      await resize(page, width, 844);
      await showDone(page);
      const found = await violations(page, { within: "dialog", rules: WCAG });
      expect(found.map(({ id }) => `${width} px: ${id}`)).toEqual([]);
      const cut = await dialog(page).evaluate((frame) =>
        [...frame.querySelectorAll<HTMLElement>("b, small, p, button")]
          .filter((one) => one.scrollWidth > one.clientWidth + 1 && one.clientWidth > 0)
          .map((one) => one.textContent),
      );
      expect(cut, `${width} px`).toEqual([]);
      const low = await dialog(page).evaluate(
        (frame) => [...frame.querySelectorAll<HTMLElement>("li button")].filter((one) => one.offsetHeight < 44).length,
      );
      expect(low, `${width} px`).toBe(0);
      if (process.env.SHOTS) await page.screenshot({ path: `${process.env.SHOTS}/done-${width}.png` });
      await page.keyboard.press("Escape");
      await expect(dialog(page)).toHaveCount(0);
    });
});
