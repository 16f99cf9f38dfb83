// A backup file that the page keeps up to date. The browser's own dialog can't be worked by a test: it is answered with a file
// of the page's private folder, which has a handle of the same kind.
import { expect, type Page } from "@playwright/test";
import { open, saveState, settled, test, writeNote } from "./page";

const standInForDialog = () => {
  Reflect.set(window, "showSaveFilePicker", async ({ suggestedName }: { suggestedName: string }) =>
    (await navigator.storage.getDirectory()).getFileHandle(suggestedName, { create: true }),
  );
  const { prototype } = FileSystemFileHandle;
  Reflect.set(prototype, "queryPermission", async () => sessionStorage.getItem("permission") ?? "granted");
  Reflect.set(prototype, "requestPermission", async () => {
    sessionStorage.setItem("permission", "granted");
    return "granted";
  });
};

const textOf = (page: Page) =>
  page.evaluate(async () => {
    const folder = await navigator.storage.getDirectory();
    return (await (await folder.getFileHandle("Marram backup.edition.json")).getFile()).text();
  });

test("is chosen once, follows every edit, asks again after a new visit, and is let go", async ({ page }) => {
  test.setTimeout(90_000);
  await page.addInitScript(standInForDialog);
  await open(page);
  await page.getByRole("button", { name: "Editions…" }).click();
  const part = page.getByTestId("backup");
  await expect(part).toContainText("outlives this browser");
  await part.getByRole("button", { name: "Keep a backup file…" }).click();
  await expect(part).toContainText("Backup file Marram backup.edition.json: up to date");
  await page.keyboard.press("Escape");
  await writeNote(page, "020", "in both places");
  await expect(saveState(page)).toHaveText(/^Saved/);
  await expect.poll(() => textOf(page), { timeout: 15_000 }).toContain("in both places");

  await page.evaluate(() => sessionStorage.setItem("permission", "prompt"));
  await page.reload();
  await settled(page);
  await expect(page.getByTestId("keeping-backup")).toHaveCount(0);
  await writeNote(page, "021", "next visit");
  const line = page.getByTestId("keeping-backup");
  await expect(line).toContainText("The backup file Marram backup.edition.json is behind.", { timeout: 15_000 });
  await expect(line).toContainText("The browser has to be asked again");
  expect(await textOf(page)).not.toContain("next visit");
  await line.getByRole("button", { name: "Bring the backup file up to date" }).click();
  await expect(line).toHaveCount(0);
  expect(await textOf(page)).toContain("next visit");

  await page.getByRole("button", { name: "Editions…" }).click();
  await part.getByRole("button", { name: "Keep it no longer" }).click();
  await expect(part.getByRole("button", { name: "Keep a backup file…" })).toBeVisible();
});

test("where the browser offers to install the page, the page does beside what it says of keeping", async ({ page }) => {
  await open(page);
  await page.evaluate(() => {
    const offer = Object.assign(new Event("beforeinstallprompt", { cancelable: true }), {
      prompt: async () => Reflect.set(window, "wasAsked", true),
    });
    window.dispatchEvent(offer);
  });
  await page.getByRole("button", { name: "Editions…" }).click();
  const install = page.getByTestId("promise").getByRole("button", { name: "Install Saggar" });
  await install.click();
  expect(await page.evaluate(() => Reflect.get(window, "wasAsked"))).toBe(true);
  await expect(install).toHaveCount(0);
});

test("a browser that clears unvisited pages is said to, with what makes it safer", async ({ page }) => {
  await page.addInitScript(() => {
    Object.defineProperty(Navigator.prototype, "vendor", { get: () => "Apple Computer, Inc." });
    StorageManager.prototype.persisted = async () => false;
    StorageManager.prototype.persist = async () => false;
    Reflect.deleteProperty(window, "showSaveFilePicker");
  });
  await open(page);
  await page.getByRole("button", { name: "Editions…" }).click();
  await page.getByRole("button", { name: "Ask the browser to keep it" }).click();
  const said = page.getByTestId("promise");
  await expect(said).toContainText("clears it once you have used the browser for seven days without opening this page");
  await expect(said).toContainText("safer once the page is installed");
  // No handle to a file there: no backup file is offered.
  await expect(page.getByTestId("backup")).toHaveCount(0);
});
