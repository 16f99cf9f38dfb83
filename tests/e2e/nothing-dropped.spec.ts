// Nothing a maker typed is dropped without a word: not by opening another edition, by another tab, by closing, by the browser.
import { expect, type Page } from "@playwright/test";
import { cellName, noteOf, open, saveState, settled, tabTo, test, writeNote } from "./page";

const notice = (page: Page, name: string) => page.getByTestId(`keeping-${name}`);
const setFull = (page: Page, isFull: boolean) => page.evaluate((is) => Reflect.set(window, "isDiskFull", is), isFull);

/** Lets neither the database nor the small storage take anything while told so. */
const fillDisk = () => {
  const refuse = () => {
    if (Reflect.get(window, "isDiskFull")) throw new DOMException("no room", "QuotaExceededError");
  };
  const { put } = IDBObjectStore.prototype;
  IDBObjectStore.prototype.put = function (...given) {
    refuse();
    return put.apply(this, given);
  };
  const { setItem } = Storage.prototype;
  Storage.prototype.setItem = function (...given) {
    refuse();
    return setItem.apply(this, given);
  };
  // Files are downloads, as in a browser without a file dialog of its own.
  Reflect.deleteProperty(window, "showSaveFilePicker");
  Reflect.deleteProperty(window, "showOpenFilePicker");
};

async function freshDemo(page: Page): Promise<void> {
  await page.getByRole("button", { name: "Editions…" }).click();
  await page.getByRole("button", { name: "A fresh demo edition" }).click();
}

test("another edition is not opened over edits that can't be saved unless the maker says so", async ({ page }) => {
  await page.addInitScript(fillDisk);
  await open(page);
  await setFull(page, true);
  await writeNote(page, "020", "no room");
  await expect(saveState(page)).toHaveText("Not saved");
  await freshDemo(page);
  const asked = page.getByRole("dialog", { name: "“Marram” is not saved" });
  await expect(asked).toContainText("there is no room left");
  await expect(asked).toContainText("1 edit will be lost");
  await page.keyboard.press("Escape");
  await expect(asked).toHaveCount(0);
  expect(await noteOf(page, "020")).toBe("no room");
  await freshDemo(page);
  await expect(asked.getByRole("button", { name: "Leave and lose 1 edit" })).toBeVisible();
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    asked.getByRole("button", { name: "Save as a file" }).click(),
  ]);
  let saved = "";
  for await (const chunk of await download.createReadStream()) saved += chunk;
  expect(saved).toContain('"no room"');
  await expect(asked).toContainText("The file holds everything.");
  await asked.getByRole("button", { name: "Stay" }).click();
  await setFull(page, false);
  await freshDemo(page);
  // The one before stays in sight until the new one is kept.
  await expect.poll(() => cellName(page)).toBe("Pieces 017, Refire: share");
  await settled(page);
  await expect(asked).toHaveCount(0);
  expect(await noteOf(page, "020")).toBe("blank");
  await page.getByRole("button", { name: "Editions…" }).click();
  await page.getByTestId("editions").getByRole("button", { name: "Open Marram" }).click();
  await expect.poll(() => cellName(page)).not.toBe("Pieces 020, note");
  await settled(page);
  expect(await noteOf(page, "020")).toBe("no room");
});

test("a second tab that takes over has what the first could not save", async ({ page, context }) => {
  await context.addInitScript(fillDisk);
  await open(page);
  await setFull(page, true);
  await writeNote(page, "020", "in this page alone");
  await expect(saveState(page)).toHaveText("Not saved");
  const second = await context.newPage();
  await second.addInitScript(() => Reflect.set(window, "isDiskFull", true));
  await open(second);
  await expect.poll(() => noteOf(second, "020")).toBe("in this page alone");
  await notice(second, "following").getByRole("button", { name: "Write here" }).click();
  await expect(notice(page, "following")).toBeVisible();
  await expect(saveState(second)).toHaveText("Not saved");
  expect([await noteOf(page, "020"), await noteOf(second, "020")]).toEqual([
    "in this page alone",
    "in this page alone",
  ]);
  await setFull(second, false);
  await notice(second, "unsaved").getByRole("button", { name: "Try now" }).click();
  await expect(saveState(second)).toHaveText(/^Saved/);
  await setFull(page, false);
  await page.reload();
  await settled(page);
  expect(await noteOf(page, "020")).toBe("in this page alone");
});

test("the browser asks before a page is closed on an edit that is not saved yet", async ({ page }) => {
  await page.addInitScript(() => {
    const real = window.setTimeout;
    // Edits are collected for a third of a second; here for ever.
    window.setTimeout = ((run: () => void, ms: number) => real(run, ms === 350 ? 1e8 : ms)) as typeof setTimeout;
  });
  await open(page);
  await writeNote(page, "020", "just typed");
  const [asked] = await Promise.all([page.waitForEvent("dialog"), page.close({ runBeforeUnload: true })]);
  expect(asked.type()).toBe("beforeunload");
  await asked.dismiss();
  // Asked once: meanwhile it was saved.
  await expect(saveState(page)).toHaveText(/^Saved/);
});

test("while the page is open its database is deleted, or all data cleared: it is noticed and everything is written again", async ({
  page,
  context,
}) => {
  await open(page);
  for (const how of ["the database is deleted", "the browser's data is cleared"]) {
    await writeNote(page, "020", `still here after ${how}`);
    await expect(saveState(page)).toHaveText(/^Saved/);
    if (how === "the database is deleted") await page.evaluate(() => void indexedDB.deleteDatabase("saggar"));
    else {
      const client = await context.newCDPSession(page);
      const { origin } = new URL(page.url());
      await client.send("Storage.clearDataForOrigin", { origin, storageTypes: "indexeddb,local_storage" });
    }
    await expect(page.getByTestId("notice-failed").last()).toContainText(
      "This browser cleared what it had kept for this page.",
    );
    await expect(saveState(page)).toHaveText(/^Saved/);
    await page.reload();
    await settled(page);
    expect(await noteOf(page, "020")).toBe(`still here after ${how}`);
  }
});

test("edits set aside are listed, put back as one step as far as they fit, and discarded, by keyboard", async ({
  page,
}) => {
  await open(page);
  await writeNote(page, "020", "as it is now");
  await expect(saveState(page)).toHaveText(/^Saved/);
  // What a page of another session wrote down, as after a crash: one note that fits, and one that was written over since.
  await page.evaluate(async () => {
    const request = indexedDB.open("saggar");
    const database = await new Promise<IDBDatabase>((done) => {
      request.onsuccess = () => done(request.result);
    });
    const ids = database.transaction("documents").objectStore("documents").getAllKeys();
    const id = await new Promise((done) => {
      ids.onsuccess = () => done(ids.result[0]);
    });
    database.close();
    const stamp = (edits: number) => ({ sitting: "another", edits });
    const edits = [
      { row: "p19", is: "from before" },
      { row: "p20", is: "older" },
    ].map(({ row, is }, at) => ({
      stamp: stamp(at + 1),
      ...(at === 0 ? {} : { after: stamp(at) }),
      change: { label: `Typed ${is}`, operations: [{ kind: "cell", sheet: "pieces", row, column: "note", is }] },
    }));
    localStorage.setItem(`saggar last edits ${id}`, JSON.stringify(edits));
  });
  await page.reload();
  await settled(page);
  await expect(notice(page, "aside")).toContainText("2 edits are set aside");
  await tabTo(page, "Look at them…");
  await page.keyboard.press("Enter");
  const list = page.getByTestId("aside");
  await expect(list.getByRole("listitem")).toContainText("2 edits set aside");
  await expect(list).toContainText("Typed from before · Typed older");
  await tabTo(page, /^Put back what fits/);
  await page.keyboard.press("Enter");
  await expect(page.getByTestId("notice-refused").last()).toContainText("Put back 2 edits, as far as they fit.");
  await expect(page.getByTestId("notice-refused").last()).toContainText(
    "Typed older: 1 of 1 cell no longer holds what it did",
  );
  expect([await noteOf(page, "019"), await noteOf(page, "020")]).toEqual(["from before", "as it is now"]);
  await page.keyboard.press("Control+z");
  await expect.poll(() => noteOf(page, "019")).toBe("blank");
  await expect(notice(page, "aside")).toContainText("1 edit is set aside");
  await page.getByRole("button", { name: "Look at them…" }).press("Enter");
  await tabTo(page, /^Discard…/);
  await page.keyboard.press("Enter");
  await page.getByRole("button", { name: "Discard for good" }).press("Enter");
  await expect(list).toHaveCount(0);
  await page.keyboard.press("Escape");
  await expect(notice(page, "aside")).toHaveCount(0);
});
