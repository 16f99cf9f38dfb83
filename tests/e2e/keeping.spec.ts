// Nothing that was said to be saved is ever lost, and what can't be saved is said at once.
import { expect, type Page } from "@playwright/test";
import { noteOf, open, saveState, settled, test, writeNote } from "./page";

const notice = (page: Page, name: string) => page.getByTestId(`keeping-${name}`);

/** Makes every write to the database fail as on a full disk, until told otherwise. */
async function fillDisk(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = function (...given) {
      if (Reflect.get(window, "isDiskFull") && this.name !== "preferences")
        throw new DOMException("no room", "QuotaExceededError");
      return put.apply(this, given);
    };
  });
}

/** Files are downloads, as in a browser without a file dialog of its own. */
async function withoutPickers(page: Page): Promise<void> {
  await page.addInitScript(() => {
    Reflect.deleteProperty(window, "showSaveFilePicker");
    Reflect.deleteProperty(window, "showOpenFilePicker");
  });
}

test("an edit is saved within half a second and is there after a reload", async ({ page }) => {
  await open(page);
  await writeNote(page, "020", "kept");
  await expect(saveState(page)).toHaveText(/^Saved \d\d:\d\d$/);
  await page.reload();
  await settled(page);
  expect(await noteOf(page, "020")).toBe("kept");
});

test("an edit made right before the page is closed is put back", async ({ page, context }) => {
  await open(page);
  await page.evaluate(() => {
    // A database that is slower than the maker: nothing is written any more.
    IDBObjectStore.prototype.put = () => {
      throw new DOMException("too late", "UnknownError");
    };
  });
  await writeNote(page, "020", "at the last moment");
  await page.close();
  const again = await context.newPage();
  await open(again);
  await expect(again.getByTestId("notice-refused").last()).toContainText(
    "Put back what was done just before the page was closed",
  );
  expect(await noteOf(again, "020")).toBe("at the last moment");
  await expect(saveState(again)).toHaveText(/^Saved/);
});

test("a full disk is said at once with a way out, work goes on, and saving goes on once there is room", async ({
  page,
}) => {
  await fillDisk(page);
  await withoutPickers(page);
  await open(page);
  await page.evaluate(() => Reflect.set(window, "isDiskFull", true));
  await writeNote(page, "020", "no room");
  await expect(saveState(page)).toHaveText("Not saved");
  await expect(notice(page, "unsaved")).toContainText("there is no room left");
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    notice(page, "unsaved").getByRole("button", { name: "Save as a file now" }).click(),
  ]);
  expect(await text(await download.createReadStream())).toContain('"no room"');
  await writeNote(page, "021", "still no room");
  await expect(saveState(page)).toHaveText("Not saved");
  const tryNow = notice(page, "unsaved").getByRole("button", { name: "Try now" });
  await expect(tryNow).toBeEnabled();
  // In one breath: it is tried again by itself, and that must not be what saves it.
  await tryNow.evaluate((button: HTMLElement) => {
    Reflect.set(window, "isDiskFull", false);
    button.click();
  });
  await expect(saveState(page)).toHaveText(/^Saved/);
  await expect(notice(page, "unsaved")).toHaveCount(0);
  await page.reload();
  await settled(page);
  expect([await noteOf(page, "020"), await noteOf(page, "021")]).toEqual(["no room", "still no room"]);
});

async function text(stream: AsyncIterable<Buffer>): Promise<string> {
  let all = "";
  for await (const chunk of stream) all += chunk;
  return all;
}

test("where the browser refuses storage the page works, says so, and keeps a file", async ({ page }) => {
  await page.addInitScript(() => {
    Reflect.set(window, "isRefused", true);
    const real = IDBFactory.prototype.open;
    IDBFactory.prototype.open = function (...given) {
      if (Reflect.get(window, "isRefused")) throw new DOMException("denied", "SecurityError");
      return real.apply(this, given);
    };
  });
  await withoutPickers(page);
  await open(page);
  await expect(notice(page, "refused")).toContainText("the browser does not let this page store anything");
  await expect(saveState(page)).toHaveText("Kept only while this page is open");
  await writeNote(page, "020", "in memory");
  expect(await noteOf(page, "020")).toBe("in memory");
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    notice(page, "refused").getByRole("button", { name: "Save as a file now" }).click(),
  ]);
  expect(download.suggestedFilename()).toBe("Marram.edition.json");
  await page.evaluate(() => Reflect.set(window, "isRefused", false));
  await notice(page, "refused").getByRole("button", { name: "Try again" }).click();
  await expect(notice(page, "refused")).toHaveCount(0);
  await expect(saveState(page)).toHaveText(/^Saved/);
  await page.reload();
  await page.evaluate(() => Reflect.set(window, "isRefused", false));
});

test("a damaged record is set aside and the last good copy opens", async ({ page }) => {
  await open(page);
  await writeNote(page, "020", "first");
  await expect(saveState(page)).toHaveText(/^Saved/);
  await page.evaluate(async () => {
    const request = indexedDB.open("saggar");
    const database = await new Promise<IDBDatabase>((done) => {
      request.onsuccess = () => done(request.result);
    });
    const transaction = database.transaction("documents", "readwrite");
    const store = transaction.objectStore("documents");
    const keys = store.getAllKeys();
    const all = store.getAll();
    all.onsuccess = () => {
      for (const [at, record] of all.result.entries())
        store.put({ ...record, text: record.text.slice(0, 5000) }, keys.result[at]);
    };
    await new Promise((done) => transaction.addEventListener("complete", done));
    database.close();
  });
  await page.reload();
  await settled(page);
  await expect(notice(page, "damaged")).toContainText("It is set aside as it is");
  await expect(notice(page, "damaged")).toContainText("with 141 pieces");
  await notice(page, "damaged").getByRole("button", { name: "Open the last good copy" }).click();
  await settled(page);
  await expect(page.getByRole("heading", { level: 1 })).toContainText("Marram (copy of");
  await expect(notice(page, "damaged")).toHaveCount(0);
  await page.getByRole("button", { name: "Editions…" }).click();
  await expect(page.getByTestId("editions")).toContainText("the stored record is damaged");
});

test("earlier copies are kept on purpose, looked at, put back as one step, and opened apart", async ({ page }) => {
  await open(page);
  await writeNote(page, "020", "early");
  await page.getByRole("button", { name: "Editions…" }).click();
  await page.getByRole("button", { name: "Copies… of Marram" }).click();
  await page.getByLabel("Name of a copy of how it stands now").fill("Before the second glaze");
  await page.getByRole("button", { name: "Keep a copy" }).click();
  await expect(page.getByTestId("copies")).toContainText("“Before the second glaze” · Marram · 141 pieces");
  await page.getByRole("button", { name: "Close", exact: true }).click();
  await writeNote(page, "020", "late");
  const openCopies = async () => {
    await page.getByRole("button", { name: "Editions…" }).click();
    await page.getByRole("button", { name: "Copies… of Marram" }).click();
  };
  await openCopies();
  const copy = page.getByTestId("copies").getByRole("listitem").filter({ hasText: "Before the second glaze" });
  await copy.getByRole("button", { name: /^Look at it/ }).click();
  await expect(notice(page, "preview")).toContainText("the copy “Before the second glaze”");
  expect(await noteOf(page, "020")).toBe("early");
  await writeNote(page, "021", "no");
  await expect(page.getByTestId("notice-refused").last()).toContainText(
    "this is an earlier copy, and it stays as it was",
  );
  await notice(page, "preview").getByRole("button", { name: "Back to the edition" }).click();
  await settled(page);
  expect(await noteOf(page, "020")).toBe("late");
  await openCopies();
  await copy.getByRole("button", { name: /^Put it back/ }).click();
  await expect(page.getByTestId("notice-done").last()).toContainText("Put back the copy of");
  expect(await noteOf(page, "020")).toBe("early");
  await page.keyboard.press("Control+z");
  await expect.poll(() => noteOf(page, "020")).toBe("late");
  await openCopies();
  await copy.getByRole("button", { name: /^Open as a new edition/ }).click();
  await settled(page);
  await expect(page.getByRole("heading", { level: 1 })).toContainText("Marram (copy of");
  await expect(page.getByRole("dialog")).toHaveCount(0);
  expect(await noteOf(page, "020")).toBe("early");
});
