// Bad input never loses good data, and each message says what is wrong, where, what was found and what to do.
import { expect, type Page } from "@playwright/test";
import { arrowTo, cardValue, figure, open, paste, settled, tabTo, test, toSheet } from "./page";

async function atCell(page: Page, piece: string, column: string): Promise<void> {
  await page.keyboard.press("Alt+2");
  await page.keyboard.press("Control+a");
  await page.keyboard.type(piece);
  await page.keyboard.press("Enter");
  await expect.poll(() => page.locator("#card h2").first().textContent()).toContain(`Pieces ${piece}`);
  await arrowTo(page, column);
}

async function typeInto(page: Page, text: string): Promise<void> {
  await page.keyboard.type(text);
  await page.keyboard.press("Enter");
}

const refused = (page: Page) => page.getByTestId("notice-refused").last();

test("text, negative numbers and unknown firings are refused one by one, and the cell keeps what it had", async ({
  page,
}) => {
  await open(page);
  await page.getByRole("button", { name: "Unfold the steps" }).click();
  const before = await figure(page, "put_in").textContent();
  await atCell(page, "020", "Fettle: time");
  const time = await cardValue(page).textContent();
  await typeInto(page, "three");
  await expect(refused(page)).toContainText(
    "Pieces 020, Fettle: time: found “three”, but it takes a number, 0 or more and 1440 or less.",
  );
  await atCell(page, "020", "Fettle: time");
  await expect(cardValue(page)).toHaveText(time ?? "");
  await atCell(page, "020", "Glaze: coats");
  await typeInto(page, "-2");
  await expect(refused(page)).toContainText(
    "Glaze: coats: found “-2”, but it takes a whole number, 0 or more and 50 or less.",
  );
  await atCell(page, "020", "Glaze firing: firing");
  await typeInto(page, "G99");
  await expect(refused(page)).toContainText("found “G99”, but it takes one of B1, B2, B3");
  await atCell(page, "020", "outcome");
  await settled(page);
  await expect(figure(page, "put_in")).toHaveText(before ?? "");
});

test("a computed cell is not overwritten by typing or pasting, only on purpose, and can be given back", async ({
  page,
}) => {
  await open(page);
  await page.getByRole("button", { name: "Unfold the steps" }).click();
  await atCell(page, "020", "Glaze: used");
  const used = await cardValue(page).textContent();
  await typeInto(page, "500");
  await expect(refused(page)).toContainText("it takes no entry, because it is computed");
  await atCell(page, "020", "Glaze: used");
  await page.getByRole("button", { name: "Give it another value" }).click();
  await page.keyboard.type("500");
  await page.keyboard.press("Enter");
  await expect(page.locator("#card")).toContainText("given by hand, in place of its formula");
  await expect(page.getByTestId("row-count")).toContainText("1 given by hand");
  await page.getByRole("button", { name: "Give it back to its formula" }).click();
  await settled(page);
  await expect(cardValue(page)).toHaveText(used ?? "");
});

test("a loss of 100 % or more is refused", async ({ page }) => {
  await open(page);
  await page
    .getByRole("navigation")
    .getByRole("button", { name: /^Route/ })
    .click();
  await toSheet(page);
  await page.keyboard.press("Control+Home");
  await arrowTo(page, "planned loss");
  await typeInto(page, "100");
  await expect(refused(page)).toContainText("found “100”, but it takes a percentage, 0 % or more and below 100 %.");
  await expect(figure(page, "starts")).toHaveText("141\u00a0pieces");
});

test("a paste that is too large is refused, and one with two bad cells keeps the others", async ({ page }) => {
  await open(page);
  await test.step("20 MB are refused at once and nothing changes", async () => {
    const before = await figure(page, "put_in").textContent();
    await page.getByRole("button", { name: "Unfold the steps" }).click();
    await atCell(page, "001", "Fettle: time");
    await page.evaluate(() => {
      const data = new DataTransfer();
      data.setData("text/plain", "15\t".repeat(7_000_000));
      document.activeElement?.dispatchEvent(
        new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true }),
      );
    });
    await expect(refused(page)).toContainText("lay beyond the sheet");
    await expect(figure(page, "put_in")).toHaveText(before ?? "");
  });

  await test.step("of 60 cells with two bad ones 58 are kept, it says which two, and is one undo step", async () => {
    await atCell(page, "001", "Fettle: time");
    const rows = Array.from({ length: 60 }, (_, at) => (at === 10 ? "ten" : at === 20 ? "-1" : "15"));
    await paste(page, rows.join("\n"));
    await expect(refused(page)).toContainText("58 of 60 cells pasted; 2 kept as they were.");
    await expect(refused(page).locator("li")).toHaveCount(2);
    await settled(page);
    const undo = page.getByRole("button", { name: "Undo", exact: true }).first();
    await expect(undo).toHaveAttribute("title", "Undo: Pasted 60 cells");
  });
});

const FILES: readonly { readonly name: string; readonly text: (good: string) => string; readonly says: string }[] = [
  {
    name: "half.edition.json",
    text: (good) => good.slice(0, good.length / 2),
    says: "an edition that breaks off after",
  },
  { name: "notes.edition.json", text: () => "three bags of clay", says: "a whole edition file" },
  {
    name: "newer.edition.json",
    text: (good) => good.replace(/"formatVersion":\d+/, '"formatVersion":99'),
    says: "It was written by a newer Saggar",
  },
  {
    name: "broken.edition.json",
    text: (good) => good.replace('"currency":"EUR"', '"currency":"euro"'),
    says: "meta.currency: found “euro”, but it takes a three-letter ISO 4217 code",
  },
];

test("broken files are refused with what is wrong, and the open edition stays", async ({ page }) => {
  await page.addInitScript(() => {
    Reflect.deleteProperty(window, "showOpenFilePicker");
    Reflect.deleteProperty(window, "showSaveFilePicker");
  });
  await open(page);
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save as a file" }).click(),
  ]);
  const stream = await download.createReadStream();
  let good = "";
  for await (const chunk of stream) good += chunk;
  expect(good.length).toBeGreaterThan(10_000);
  for (const file of FILES) {
    await page.getByRole("button", { name: "Editions…" }).click();
    const [chooser] = await Promise.all([
      page.waitForEvent("filechooser"),
      page.getByRole("button", { name: "Open a file…" }).click(),
    ]);
    await chooser.setFiles({ name: file.name, mimeType: "application/json", buffer: Buffer.from(file.text(good)) });
    await expect(refused(page)).toContainText(file.says);
    await expect(refused(page)).toContainText(file.name);
    await expect(page.getByRole("heading", { level: 1 })).toHaveText("Marram");
  }
  await page.getByRole("button", { name: "Editions…" }).click();
  const [chooser] = await Promise.all([
    page.waitForEvent("filechooser"),
    page.getByRole("button", { name: "Open a file…" }).click(),
  ]);
  await chooser.setFiles({ name: "good.edition.json", mimeType: "application/json", buffer: Buffer.from(good) });
  await expect(page.getByTestId("notice-done").last()).toContainText("Opened good.edition.json.");
  await settled(page);
  await expect(figure(page, "starts")).toHaveText("141\u00a0pieces");
});

test("the start dialog says what is wrong and keeps what was typed", async ({ page }) => {
  await open(page);
  await page.getByRole("button", { name: "Start an edition…" }).click();
  await page.locator("input[name=title]").fill("A try");
  await page.locator("input[name=wanted]").fill("0");
  await page.locator("input[name=currency]").fill("XQZ");
  await tabTo(page, "Start it");
  await page.keyboard.press("Enter");
  await expect(page.getByRole("alert")).toContainText(
    "Pieces to deliver: found “0”, but it takes a whole number from 1 to 10 000.",
  );
  await expect(page.getByRole("alert")).toContainText("Currency: found “XQZ”");
  await expect(page.locator("input[name=title]")).toHaveValue("A try");
});
