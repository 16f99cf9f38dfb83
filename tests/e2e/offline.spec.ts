// Works with no network once it was opened, and goes over to a newer version only when told.
import { expect } from "@playwright/test";
import { askForUpdate, host, installed, isNewer, renew } from "../tools/host.mjs";
import { figure, noteOf, open, saveState, settled, test, writeNote } from "./page";

test.use({ serviceWorkers: "allow" });

test("starts with no network, with parts that were never opened before, and keeps edits", async ({ page, context }) => {
  await open(page);
  await installed(page);
  await context.setOffline(true);
  await page.reload();
  await settled(page);
  await expect(figure(page, "starts")).toHaveText("141\u00a0pieces");
  await writeNote(page, "020", "no network");
  await expect(saveState(page)).toHaveText(/^Saved/);
  await page.keyboard.press("Alt+h");
  await expect(page.getByRole("dialog", { name: "Help" })).toBeVisible();
  await page.keyboard.press("Escape");
  await page.getByRole("button", { name: /^Results/ }).click();
  await expect(page.locator(".picture svg").first()).toBeVisible();
  await page.getByRole("button", { name: /^Pieces/ }).click();
  expect(await noteOf(page, "020")).toBe("no network");
});

test("can be installed: a manifest with a name, a start and icons that are there", async ({
  page,
  request,
  baseURL,
}) => {
  await page.goto("./");
  const href = await page.locator("link[rel=manifest]").getAttribute("href");
  const address = new URL(href ?? "", baseURL).href;
  const manifest = await (await request.get(address)).json();
  expect(manifest).toMatchObject({ short_name: "Saggar", display: "standalone", start_url: "./" });
  const sizes: Record<string, number> = { "icon-192.png": 192, "icon-512.png": 512, "icon-mask-512.png": 512 };
  for (const icon of manifest.icons) {
    const answer = await request.get(new URL(icon.src, address).href);
    expect(answer.ok(), icon.src).toBe(true);
    const body = await answer.body();
    // A PNG says its width at byte 16 (ISO/IEC 15948, IHDR).
    if (icon.type === "image/png") expect(body.readUInt32BE(16), icon.src).toBe(sizes[icon.src]);
    else expect(body.toString(), icon.src).toContain("<svg");
  }
});

test("a newer version waits until it is wanted; nothing is lost, and another tab goes on with the old one", async ({
  page,
  context,
}) => {
  const here = await host();
  const { folder, url } = here;
  try {
    await page.goto(url);
    await settled(page);
    await installed(page);
    const other = await context.newPage();
    await other.goto(url);
    await settled(other);
    await page.bringToFront();
    renew(folder);
    await askForUpdate(page);
    const line = page.getByTestId("keeping-update");
    await expect(line).toContainText("A new version of Saggar is ready");
    await writeNote(page, "020", "before the update");
    expect(await isNewer(page)).toBe(false);
    await line.getByRole("button", { name: "Use it now" }).click();
    await expect.poll(() => isNewer(page).catch(() => false)).toBe(true);
    await settled(page);
    await expect(other.getByTestId("keeping-update")).toContainText("Another tab uses a newer version");
    expect(await isNewer(other)).toBe(false);
    // Parts of the old version that were never loaded are still there for the tab that runs it.
    await other.keyboard.press("Alt+h");
    await expect(other.getByRole("dialog", { name: "Help" })).toBeVisible();
    await other.close();
    await expect(page.getByTestId("keeping-following")).toHaveCount(0);
    expect(await noteOf(page, "020")).toBe("before the update");
    await context.setOffline(true);
    await page.reload();
    await settled(page);
    expect(await isNewer(page)).toBe(true);
  } finally {
    await here.stop();
  }
});
