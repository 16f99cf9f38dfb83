// Works with no network once it was opened, and goes over to a newer version only when told.
import { createHash } from "node:crypto";
import { cpSync, mkdtempSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from "node:fs";
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { extname, join } from "node:path";
import { expect, type Page } from "@playwright/test";
import { figure, noteOf, open, saveState, settled, test, writeNote } from "./page";

test.use({ serviceWorkers: "allow" });

/** Waits until the program is kept whole and answers for this page. */
async function installed(page: Page): Promise<void> {
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
    if (!navigator.serviceWorker.controller)
      await new Promise((done) => navigator.serviceWorker.addEventListener("controllerchange", done, { once: true }));
  });
}

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

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html",
  ".js": "text/javascript",
  ".css": "text/css",
  ".svg": "image/svg+xml",
  ".webmanifest": "application/manifest+json",
};

/** Serves a folder as any host of plain files does. */
async function serve(folder: string): Promise<{ readonly server: Server; readonly url: string }> {
  const server = createServer((request, response) => {
    const path = (request.url ?? "/").split("?")[0] ?? "/";
    const file = join(folder, path === "/" ? "index.html" : path);
    try {
      const body = readFileSync(file);
      response.setHeader("content-type", TYPES[extname(file)] ?? "application/octet-stream");
      response.end(body);
    } catch {
      response.statusCode = 404;
      response.end();
    }
  });
  await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
  return { server, url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/` };
}

/** Makes a build a newer one: the page has a mark, and the part with the dialogs another name; the old one is gone. */
function renew(folder: string): void {
  const assets = readdirSync(join(folder, "assets"));
  const main = assets.find((name) => /^all-dialogs-.*\.js$/.test(name)) ?? "";
  const newer = "all-dialogs-newer000.js";
  for (const name of ["index.html", "service-worker.js", ...assets.map((asset) => `assets/${asset}`)]) {
    const file = join(folder, name);
    if (!statSync(file).isFile() || !/\.(js|html)$/.test(name)) continue;
    writeFileSync(file, readFileSync(file, "utf8").replaceAll(main, newer));
  }
  renameSync(join(folder, "assets", main), join(folder, "assets", newer));
  const page = join(folder, "index.html");
  writeFileSync(page, readFileSync(page, "utf8").replace("<html", '<html data-version="newer"'));
  const worker = readFileSync(join(folder, "service-worker.js"), "utf8");
  const version = createHash("sha256").update(worker).digest("hex").slice(0, 16);
  writeFileSync(join(folder, "service-worker.js"), worker.replace(/"version":"\w+"/, `"version":"${version}"`));
}

const isNewer = (page: Page) => page.evaluate(() => document.documentElement.dataset.version === "newer");
const askForUpdate = (page: Page) =>
  page.evaluate(async () => void (await (await navigator.serviceWorker.ready).update()));

test("a newer version waits until it is wanted; nothing is lost, and another tab goes on with the old one", async ({
  page,
  context,
}) => {
  const folder = mkdtempSync(join(tmpdir(), "saggar-"));
  cpSync(new URL("../../dist", import.meta.url), folder, { recursive: true });
  const { server, url } = await serve(folder);
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
    server.close();
    server.closeAllConnections();
    rmSync(folder, { recursive: true, force: true });
  }
});
