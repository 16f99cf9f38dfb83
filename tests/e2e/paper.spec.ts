// Papers: what is printed is whole, on the paper that was chosen, and every waiting piece is on the bench sheet.
import { expect, type Page } from "@playwright/test";
import { CAUTIONS } from "../../src/core/sheets/caution-texts";
import { type PdfPage, readPdf } from "../tools/pdf-text";
import { violations, WCAG } from "./axe";
import { open, painted, tabTo, test, toPlace } from "./page";

async function openPaper(page: Page): Promise<void> {
  await open(page);
  await toPlace(page, "Paper");
  await expect(page.getByTestId("papers").locator(".leaf").first()).toBeVisible();
}

const pdfOf = async (page: Page) => readPdf(await page.pdf({ preferCSSPageSize: true }));
/** Piece numbers of the demo: three digits and nothing else. */
const piecesOn = (pages: readonly PdfPage[]) => pages.flatMap(({ runs }) => runs.filter((run) => /^\d{3}$/.test(run)));

/** The pieces that the Pieces sheet has in progress, by its own filter; the window is made tall enough for all its rows. */
async function waitingPieces(page: Page): Promise<string[]> {
  await page.setViewportSize({ width: 1440, height: 2400 });
  await page
    .getByRole("navigation", { name: "Sheets" })
    .getByRole("button", { name: /^Pieces/ })
    .click();
  await page.getByRole("combobox", { name: "Which pieces are shown" }).selectOption({ label: "In progress" });
  const grid = page.locator(".grid-host");
  await expect(grid).toContainText("129");
  const labelled = grid.locator("[role=rowheader]");
  await expect(labelled.filter({ hasText: /^\s*001\s*$/ })).toHaveCount(0);
  const labels = await labelled.allTextContents();
  return [...new Set(labels.map((label) => label.trim()).filter((label) => /^\d{3}$/.test(label)))].sort();
}

const SIZES = [
  // ISO 216: 210 × 297 mm. ANSI/ASME Y14.1: 8.5 × 11 inches.
  ["A4", 210 / 25.4, 297 / 25.4],
  ["Letter", 8.5, 11],
] as const;

test("the bench sheet, on A4 and Letter, has every waiting piece once, a step a page, its head on every page", async ({
  page,
}) => {
  await openPaper(page);
  const onPaper: string[][] = [];
  for (const [size, width, height] of SIZES) {
    await page.getByLabel("Paper size").selectOption(size);
    await painted(page);
    const said = await page.getByTestId("paper-summary").textContent();
    const pages = await pdfOf(page);
    for (const one of pages) {
      expect(Math.abs(one.width / 72 - width)).toBeLessThan(0.01);
      expect(Math.abs(one.height / 72 - height)).toBeLessThan(0.01);
    }
    const printed = piecesOn(pages);
    expect(new Set(printed).size).toBe(printed.length);
    expect(said).toBe(`${printed.length} pieces at 6 steps`);
    // A page with a piece on it has the table's head above it; no page has the controls of the screen on it.
    for (const one of pages.filter((each) => piecesOn([each]).length > 0)) expect(one.runs).toContain("Piece");
    expect(pages.flatMap(({ runs }) => runs).join(" ")).not.toMatch(/Print…|Paper size|Undo|Settle/);
    const titles = ["Glaze", "Glaze firing", "Lustre", "Low firing", "Lustre 2", "Inspect and pack"];
    const starts = titles.map((title) => pages.findIndex(({ runs }) => runs.includes(title)));
    expect(starts).toEqual([...starts].sort((a, b) => a - b));
    expect(new Set(starts).size).toBe(titles.length);
    expect(starts[0]).toBe(0);
    onPaper.push(printed.sort());
  }
  const waiting = await waitingPieces(page);
  expect(onPaper).toEqual(SIZES.map(() => waiting));
});

test("cautions stand on the bench sheet and beside the cells of their steps, and hold up nothing", async ({ page }) => {
  await openPaper(page);
  const glaze = page.locator(".leaf").first();
  await expect(glaze.getByLabel("Cautions")).toContainText("respirable crystalline silica");
  await expect(glaze.getByLabel("Cautions")).toContainText("follow local codes");
  await expect(glaze.getByText("Mind:")).toBeVisible();
  await page
    .getByRole("navigation", { name: "Sheets" })
    .getByRole("button", { name: /^Firings/ })
    .click();
  await page.locator(".grid-host").getByRole("rowheader", { name: "L9", exact: true }).first().click();
  const card = page.locator("#card");
  await expect(card).toContainText("Lustre.");
  await expect(card).toContainText("Hot kiln.");
  await expect(card).toContainText("They come first.");
});

test("each caution is read in full once on the screen, then folds to one line that opens; on paper all stand whole", async ({
  page,
}) => {
  await page.setViewportSize({ width: 1440, height: 1600 });
  await page.clock.install();
  await open(page);
  await toPlace(page, "Firings");
  const row = (name: string) => page.locator(".grid-host").getByRole("rowheader", { name, exact: true }).first();
  const whole = page.locator("#card > .caution:not(details)");
  const again = page.getByTestId("cautions-again");
  // Where the edition is opened, a firing of glaze is selected: of a firing of lustre one caution is new.
  const isNew = whole.filter({ hasText: CAUTIONS.lustre.text });
  const isFolded = again.filter({ hasText: CAUTIONS.lustre.text });
  await row("L9").click();
  await expect(isNew).toContainText(CAUTIONS.lustre.text);
  await expect(isFolded).toHaveCount(0);
  // What was passed quickly has not been read.
  await row("L10").click();
  await expect(isNew).toBeVisible();
  await expect(isFolded).toHaveCount(0);
  await painted(page);
  await page.clock.fastForward(2500);
  await row("L11").click();
  await expect(isNew).toHaveCount(0);
  await expect(again.locator("summary")).toHaveText(/^\d cautions, as before: .*lustre/);
  await expect(again.getByText(CAUTIONS.lustre.text)).toBeHidden();
  await again.locator("summary").click();
  await expect(again).toContainText(CAUTIONS.lustre.text);
  await expect(again.getByText(CAUTIONS.lustre.text)).toBeVisible();
  await toPlace(page, "Paper");
  await page.getByRole("radio", { name: "Firing sheet" }).check();
  for (const { text } of [CAUTIONS.kiln, CAUTIONS.fumes])
    await expect(page.locator(".leaf").first().getByLabel("Cautions")).toContainText(text);
});

test("a long bench sheet is printed whole, though the screen shows its beginning", async ({ page }) => {
  await openPaper(page);
  await page
    .getByRole("navigation", { name: "Sheets" })
    .getByRole("button", { name: /^Pieces/ })
    .click();
  await page.getByRole("button", { name: "Add pieces…" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("spinbutton").or(dialog.getByRole("textbox")).first().fill("400");
  await dialog.getByRole("button", { name: /^Add/ }).click();
  await expect(page.getByText(/^(Calculating|Checking)…/)).toHaveCount(0);
  await toPlace(page, "Paper");
  await expect(page.getByTestId("paper-summary")).toHaveText("449 pieces at 7 steps");
  await expect(page.getByText("The first 300 rows are shown here; all 449 are printed.")).toBeVisible();
  await expect(page.locator(".leaf tbody tr")).toHaveCount(300);
  const printed = piecesOn(await pdfOf(page));
  expect(printed.length).toBe(449);
  expect(new Set(printed).size).toBe(449);
  await expect(page.locator(".leaf tbody tr")).toHaveCount(300);
});

test("firings, cards and the statement: chosen by number, one a page, and the size is remembered", async ({ page }) => {
  await openPaper(page);
  await page.getByLabel("Paper size").selectOption("Letter");
  await page.getByLabel("Margins").selectOption({ label: "25 mm, room to file" });
  await page.getByLabel("Firing sheet").check();
  await page.getByLabel(/^Firings/).fill("G4, L10");
  await expect(page.getByTestId("paper-summary")).toHaveText("2 firings");
  const firings = await pdfOf(page);
  const text = firings.flatMap(({ runs }) => runs).join(" ");
  expect(text).toContain("Firing G4");
  expect(text).toContain("Meter before, kWh");
  expect(text).toMatch(/1\s229.°C · 2\s24[34].°F/);

  await page.getByLabel(/^Firings/).fill("Q77");
  await expect(page.getByTestId("paper-refused")).toContainText("Q77");
  await expect(page.getByRole("button", { name: "Print…" })).toBeDisabled();

  await page.getByLabel("Piece card").check();
  await page.getByLabel(/^Pieces/).fill("2, 17, 38");
  await expect(page.getByTestId("paper-summary")).toHaveText("3 cards");
  expect((await pdfOf(page)).length).toBe(3);
  expect((await pdfOf(page)).flatMap(({ runs }) => runs)).not.toContain("Together");
  await page.getByLabel("With cost and notes").check();
  await page.getByLabel("A page for each card").uncheck();
  const cards = await pdfOf(page);
  expect(cards.length).toBeLessThan(3);
  expect(cards.flatMap(({ runs }) => runs)).toContain("Together");

  await page.getByLabel("Edition statement").check();
  const put = ((await page.getByTestId("figure-put_in").locator("b").textContent()) ?? "").replace(/[^\d.]+/g, "");
  const statement = (await pdfOf(page)).flatMap(({ runs }) => runs).map((run) => run.replace(/[\s\u202f]/g, ""));
  expect(statement).toContain(put);

  await page.reload();
  await toPlace(page, "Paper");
  await expect(page.getByLabel("Paper size")).toHaveValue("Letter");
});

test("Print… asks the browser once, by keyboard too", async ({ page }) => {
  await page.addInitScript(() => {
    Object.assign(window, { printed: 0, print: () => Object.assign(window, { printed: window.printed + 1 }) });
  });
  await openPaper(page);
  await page.getByLabel("Bench sheet").focus();
  await page.keyboard.press("ArrowRight");
  await expect(page.getByLabel("Firing sheet")).toBeChecked();
  await tabTo(page, "Print…");
  await page.keyboard.press("Enter");
  expect(await page.evaluate(() => window.printed)).toBe(1);
});

declare global {
  interface Window {
    printed: number;
  }
}

test("axe finds nothing on any paper in light and dark, and each fits at 820 px", async ({ page }) => {
  await page.setViewportSize({ width: 820, height: 1100 });
  await openPaper(page);
  for (const paper of ["Bench sheet", "Firing sheet", "Piece card", "Edition statement"]) {
    await page.getByLabel(paper, { exact: true }).check();
    // A few of each are enough for axe, which is slow with many.
    if (paper === "Firing sheet") await page.getByLabel(/^Firings/).fill("G7, L9");
    if (paper === "Piece card") await page.getByLabel(/^Pieces/).fill("2, 38");
    await expect(page.getByTestId("papers").locator(".leaf").first()).toBeVisible();
    for (const colorScheme of ["light", "dark"] as const) {
      await page.emulateMedia({ colorScheme });
      const found = await violations(page, { rules: WCAG });
      expect(
        found.map(({ id, nodes }) => `${paper}, ${colorScheme} ${id}: ${nodes.map(({ html }) => html.slice(0, 120))}`),
      ).toEqual([]);
      const overflow = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      expect(overflow, `${paper}, ${colorScheme}`).toBeLessThanOrEqual(0);
    }
  }
});
