// Where the browser shuts the page off from its storage, or shows it in a frame without an origin, it says so at once.
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { expect, type Frame, test as loud, type Page } from "@playwright/test";
import { type Host, host } from "../tools/host.mjs";
import { noteOf, settled, test, writeNote } from "./page";

/** Every way to storage throws, as in a frame of another site whose data is blocked. */
async function shutOff(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const denied = () => {
      throw new DOMException("The operation is insecure.", "SecurityError");
    };
    for (const name of ["localStorage", "sessionStorage", "indexedDB", "caches"])
      Object.defineProperty(window, name, { configurable: true, get: denied });
    Object.defineProperty(Navigator.prototype, "serviceWorker", { configurable: true, get: denied });
    const refused = () => Promise.reject(new DOMException("Access denied", "SecurityError"));
    LockManager.prototype.request = refused;
    LockManager.prototype.query = refused;
    StorageManager.prototype.persist = refused;
    StorageManager.prototype.persisted = refused;
    for (const name of ["showSaveFilePicker", "showOpenFilePicker"]) Reflect.deleteProperty(window, name);
  });
}

test("storage that throws is told at once, and the page works", async ({ page }) => {
  await shutOff(page);
  await page.goto("./");
  const line = page.getByTestId("keeping-refused");
  await expect(line).toContainText("Nothing can be kept in this browser");
  await expect(line).toContainText("gone when this page is closed");
  await settled(page);
  await writeNote(page, "020", "kept by hand");
  expect(await noteOf(page, "020")).toBe("kept by hand");
  await expect(page.getByText("Another tab writes this edition")).toHaveCount(0);
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    line.getByRole("button", { name: "Save as a file now" }).click(),
  ]);
  let text = "";
  for await (const chunk of await download.createReadStream()) text += chunk;
  expect(text).toContain("kept by hand");
  await page.getByRole("button", { name: "Editions…" }).click();
  const [chooser] = await Promise.all([
    page.waitForEvent("filechooser"),
    page.getByRole("button", { name: "Open a file…" }).click(),
  ]);
  await chooser.setFiles({ name: "m.edition.json", mimeType: "application/json", buffer: Buffer.from(text) });
  await expect(page.getByTestId("notice-done").last()).toContainText("Opened m.edition.json");
  await settled(page);
  expect(await noteOf(page, "020")).toBe("kept by hand");
});

/** A page of another site that shows `url` in a frame with that sandbox. */
async function framed(page: Page, url: string, sandbox: string): Promise<Frame> {
  const outer = createServer((_request, response) => {
    response.setHeader("content-type", "text/html");
    response.end(`<!doctype html><iframe sandbox="${sandbox}" width="1300" height="800" src="${url}"></iframe>`);
  });
  await new Promise<void>((done) => outer.listen(0, "127.0.0.1", done));
  await page.goto(`http://127.0.0.1:${(outer.address() as AddressInfo).port}/`);
  outer.close();
  const frame = page.frames().find((one) => one.url().startsWith(url));
  if (!frame) throw new Error("there is no frame");
  return frame;
}

// What the browser refuses is said on the console too.
const onHost = loud.extend<{ here: Host }>({
  here: async ({ baseURL: _ }, use) => {
    const here = await host();
    await use(here);
    await here.stop();
  },
});

onHost("a frame without an origin of its own says where to open the page instead", async ({ page, here }) => {
  const frame = await framed(page, here.url, "allow-scripts");
  await expect(frame.getByTestId("not-loaded")).toContainText("Open it in a tab of its own");
  await expect(frame.getByRole("link", { name: here.url })).toBeVisible();
});

onHost("a frame with its own origin works as any page", async ({ page, here }) => {
  const frame = await framed(page, here.url, "allow-scripts allow-same-origin");
  await expect(frame.locator(".figures b").first()).not.toHaveText("…");
  await expect(frame.getByText(/^(Calculating|Checking)…/)).toHaveCount(0);
});

for (const absent of ["showPopover", "checkVisibility"] as const)
  onHost(`a browser without ${absent} is told what is needed, and nothing else happens`, async ({ page, here }) => {
    await page.addInitScript((name) => {
      Reflect.deleteProperty(HTMLElement.prototype, name);
      Reflect.deleteProperty(Element.prototype, name);
    }, absent);
    await page.goto(here.url);
    await expect(page.getByTestId("not-loaded")).toContainText("needs Safari or iPadOS 17.4");
    await expect(page.locator("#app")).toHaveText(
      /^This browser is too old for Saggar.*Your editions are not touched\.$/,
    );
  });

onHost("every worker is under the page's policy on a host that sends none", async ({ page, here }) => {
  const refused = new Map<string, string>();
  const ask = async () => {
    for (const worker of page.workers()) {
      const [name, directive] = await worker.evaluate(async (url): Promise<[string, string]> => {
        const broken = new Promise<string>((done) => {
          self.addEventListener("securitypolicyviolation", (event) =>
            done((event as SecurityPolicyViolationEvent).effectiveDirective),
          );
          setTimeout(done, 3000, "nothing was refused");
        });
        await fetch(url).catch(() => undefined);
        return [self.name, await broken];
      }, `${here.url}asked-by-a-worker.txt`);
      refused.set(name, directive);
    }
  };
  /** A worker may end while it is asked. */
  const isRefused = async (name: string) => {
    await ask().catch(() => undefined);
    return refused.has(name);
  };
  await page.addInitScript(() => {
    for (const name of ["showSaveFilePicker", "showOpenFilePicker"]) Reflect.deleteProperty(window, name);
  });
  await page.goto(here.url);
  await settled(page);
  await page.getByRole("button", { name: "CSV…" }).click();
  const [chooser] = await Promise.all([
    page.waitForEvent("filechooser"),
    page.getByRole("button", { name: "Choose a file…" }).click(),
  ]);
  await chooser.setFiles({ name: "a.csv", mimeType: "text/csv", buffer: Buffer.from("Piece,note\n020,a\n") });
  await expect(page.getByRole("dialog")).toContainText("020");
  await ask();
  await page.keyboard.press("Escape");
  await page.getByRole("button", { name: /^What if/ }).click();
  await expect.poll(() => isRefused("what-if")).toBe(true);
  await page.locator("nav.sheets button", { hasText: /^Edition/ }).click();
  await expect.poll(() => isRefused("calculator")).toBe(true);
  expect([...refused].sort()).toEqual(["calculator", "csv", "engine", "what-if"].map((name) => [name, "connect-src"]));
  expect(here.asked.filter((path) => path.includes("asked-by-a-worker"))).toEqual([]);
});

test("a file that is missing is missing, and not the page in its place", async ({ request }) => {
  for (const path of ["assets/none-0000.js", "none.css", "none"]) expect((await request.get(path)).status()).toBe(404);
  expect((await request.get("./")).status()).toBe(200);
});
