// The program is never gone: while a newer version is fetched, from a host that is half renewed, and afterwards.
import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test as loud, type Page } from "@playwright/test";
import { askForUpdate, type Host, host, installed, isNewer, renew } from "../tools/host.mjs";
import { noteOf, saveState, settled, writeNote } from "./page";

// Files that are missing are said on the console.
const test = loud.extend<{ here: Host }>({
  here: async ({ baseURL: _ }, use) => {
    const here = await host();
    await use(here);
    await here.stop();
  },
});
test.use({ serviceWorkers: "allow" });

const update = (page: Page) => page.getByTestId("keeping-update");
const states = (page: Page) =>
  page.evaluate(async () => {
    const found = await navigator.serviceWorker.getRegistration();
    return [found?.installing?.state, found?.waiting?.state, found?.active?.state];
  });

async function visit(page: Page, here: Host): Promise<void> {
  await page.goto(here.url);
  await settled(page);
  await installed(page);
}

test("a tab closed and opened while a newer version is being fetched leaves both versions whole", async ({
  page,
  context,
  here,
}) => {
  await visit(page, here);
  renew(here.folder);
  let release: () => void = () => undefined;
  const held = new Promise<void>((done) => {
    release = done;
  });
  // All but one part of the newer version is there.
  here.wait = (path) => (path.includes("all-dialogs-newer") ? held : Promise.resolve());
  await askForUpdate(page);
  await expect.poll(() => here.asked.some((path) => path.includes("all-dialogs-newer"))).toBe(true);
  await page.close();
  const again = await context.newPage();
  await again.goto(here.url);
  await settled(again);
  expect(await isNewer(again)).toBe(false);
  release();
  await expect(update(again)).toContainText("A new version of Saggar is ready");
  await here.stop();
  await update(again).getByRole("button", { name: "Use it now" }).click();
  await expect.poll(() => isNewer(again).catch(() => false)).toBe(true);
  await settled(again);
  await again.keyboard.press("Alt+h");
  await expect(again.getByRole("dialog", { name: "Help" })).toBeVisible();
});

for (const missing of ["the page", "nothing"] as const)
  test(`a host that is half renewed, with ${missing} for missing files, changes nothing until it is whole`, async ({
    page,
    context,
    here,
  }) => {
    await visit(page, here);
    renew(here.folder);
    here.missing = missing;
    here.isMissing = (path) => path.includes("all-dialogs-newer") || path.endsWith("/icon.svg");
    await askForUpdate(page).catch(() => undefined);
    await expect.poll(() => states(page)).toEqual([undefined, undefined, "activated"]);
    await page.close();
    const again = await context.newPage();
    await again.goto(here.url);
    await settled(again);
    expect(await isNewer(again)).toBe(false);
    await expect.poll(() => states(again)).toEqual([undefined, undefined, "activated"]);
    await expect(update(again)).toHaveCount(0);
    here.isMissing = () => false;
    await askForUpdate(again);
    await update(again).getByRole("button", { name: "Use it now" }).click();
    await expect.poll(() => isNewer(again).catch(() => false)).toBe(true);
    await here.stop();
    await again.reload();
    await settled(again);
  });

test("a file that is cut off does not count, though its type is right", async ({ page, here }) => {
  await visit(page, here);
  renew(here.folder);
  // The part with the dialogs, under its right name and type, is not all there.
  const part = join(here.folder, "assets", "all-dialogs-newer000.js");
  writeFileSync(part, readFileSync(part).subarray(0, 1000));
  await askForUpdate(page).catch(() => undefined);
  await expect.poll(() => states(page)).toEqual([undefined, undefined, "activated"]);
  await page.waitForTimeout(1500);
  await expect(update(page)).toHaveCount(0);
});

for (const serviceWorkers of ["allow", "block"] as const)
  test.describe(`service workers: ${serviceWorkers}`, () => {
    test.use({ serviceWorkers });
    test("a first visit to a host that is half there says so, and opens by itself once it is whole", async ({
      page,
      here,
    }) => {
      here.missing = "the page";
      here.isMissing = (path) => /\/index-.*\.js$/.test(path);
      await page.clock.install();
      await page.goto(here.url);
      const message = page.getByTestId("not-loaded");
      await expect(message).toContainText("Saggar could not be loaded");
      await expect(page.getByText("Opening your edition…")).toHaveCount(0);
      await message.getByRole("button", { name: "Try again now" }).click();
      await expect(message).toBeVisible();
      here.isMissing = () => false;
      // Nothing is pressed: it is tried every half minute.
      await page.clock.fastForward("00:30");
      await expect(page.locator(".figures b").first()).toBeVisible();
      await settled(page);
    });

    test("a part that is missing while the first edition is made says so", async ({ page, here }) => {
      here.isMissing = (path) => /\/demo-.*\.js$/.test(path);
      await page.goto(here.url);
      await expect(page.getByRole("alert")).toContainText("could not be started");
      here.isMissing = () => false;
      await page.getByRole("button", { name: "Load the page again" }).click();
      await settled(page);
    });
  });

test("what is kept and lost again is fetched again, and kept", async ({ page, here }) => {
  await visit(page, here);
  await page.evaluate(async () => {
    for (const name of await caches.keys()) await caches.delete(name);
  });
  await page.reload();
  await settled(page);
  const count = () =>
    page.evaluate(async () => (await (await caches.open((await caches.keys())[0] ?? "")).keys()).length);
  await expect.poll(count).toBeGreaterThan(10);
});

test("pages kept as scripts by an earlier version give way to a sound version at once", async ({ page, here }) => {
  await page.goto(here.url);
  await installed(page);
  await page.evaluate(async () => {
    const broken = await caches.open("saggar 0000000000000000");
    await broken.put("./assets/old.js", new Response("<!doctype html>", { headers: { "content-type": "text/html" } }));
  });
  renew(here.folder);
  await askForUpdate(page);
  await expect(update(page)).toContainText("Another tab uses a newer version");
  await page.reload();
  expect(await isNewer(page)).toBe(true);
});

test("three first visits are offered no newer version", async ({ browser, here }) => {
  for (let visitNumber = 0; visitNumber < 3; visitNumber += 1) {
    const context = await browser.newContext({ serviceWorkers: "allow" });
    const page = await context.newPage();
    await visit(page, here);
    await page.waitForTimeout(1500);
    await expect(update(page)).toHaveCount(0);
    await context.close();
  }
});

test("“Use it now” does what it says where no worker ever answers", async ({ page, here }) => {
  await visit(page, here);
  renew(here.folder);
  await page.evaluate(() => {
    ServiceWorker.prototype.postMessage = () => undefined;
    Reflect.set(window, "before", true);
  });
  await askForUpdate(page);
  await update(page).getByRole("button", { name: "Use it now" }).click();
  await expect.poll(() => page.evaluate(() => Reflect.get(window, "before")).catch(() => true)).toBe(undefined);
  await settled(page);
});

test.describe("without service workers", () => {
  test.use({ serviceWorkers: "block" });
  test("an old tab on a renewed host still saves as a file, and hands its edition over", async ({
    page,
    context,
    here,
  }) => {
    await page.addInitScript(() => {
      for (const name of ["showSaveFilePicker", "showOpenFilePicker"]) Reflect.deleteProperty(window, name);
    });
    await page.goto(here.url);
    await settled(page);
    await writeNote(page, "020", "before the host was renewed");
    await expect(saveState(page)).toHaveText(/^Saved/);
    await page.waitForLoadState("networkidle");
    const other = await context.newPage();
    await other.goto(here.url);
    await settled(other);
    rmSync(join(here.folder, "assets"), { recursive: true, force: true });
    await other.getByRole("button", { name: "Write here" }).click();
    await expect(page.getByTestId("keeping-following")).toBeVisible();
    await writeNote(other, "021", "by the other tab");
    await page.bringToFront();
    expect(await noteOf(page, "021")).toBe("by the other tab");
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Save as a file", exact: true }).click(),
    ]);
    expect(await download.failure()).toBeNull();
    // What is gone says so instead of doing nothing.
    await page.getByRole("button", { name: /^Journal/ }).click();
    await expect(page.getByRole("alert").filter({ hasText: "could not be fetched" }).first()).toBeVisible();
  });
});
