// Labels and certificates: to the millimetre on the paper that was chosen, and no word beyond the edge of its label.
import { expect, type Page } from "@playwright/test";
import { readPdf } from "../tools/pdf-text";
import { violations } from "./axe";
import { open, painted, test, toPlace } from "./page";

async function openLabels(page: Page, name: "Labels" | "Certificate" = "Labels"): Promise<void> {
  await open(page);
  await toPlace(page, "Paper");
  await page.getByRole("radio", { name }).check();
}

const pdfOf = async (page: Page) => readPdf(await page.pdf({ preferCSSPageSize: true }));

interface Box {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** Where the labels of the first sheet stand on it, in millimetres: 96 CSS pixels are an inch (CSS Values 4, 5.2). */
async function boxesOf(page: Page): Promise<readonly Box[]> {
  return page
    .locator(".label-sheet")
    .first()
    .evaluate((sheet) => {
      const page = sheet.getBoundingClientRect();
      const mm = (pixels: number) => (pixels / 96) * 25.4;
      return [...sheet.querySelectorAll(".piece-label")].map((label) => {
        const { left, top, width, height } = label.getBoundingClientRect();
        return { left: mm(left - page.left), top: mm(top - page.top), width: mm(width), height: mm(height) };
      });
    });
}

/** Labels whose words reach beyond their edges. */
const beyondEdges = (page: Page) =>
  page.locator(".piece-label").evaluateAll((labels) =>
    labels.flatMap((label) => {
      const edge = label.getBoundingClientRect();
      const range = document.createRange();
      range.selectNodeContents(label);
      const isOut = [...range.getClientRects()].some(
        ({ left, top, right, bottom }) =>
          left < edge.left - 1 || top < edge.top - 1 || right > edge.right + 1 || bottom > edge.bottom + 1,
      );
      return isOut ? [label.textContent ?? ""] : [];
    }),
  );

test("a sheet in use goes on at its place, to a tenth of a millimetre, on A4 and Letter", async ({ page }) => {
  await openLabels(page);
  for (const [size, width, height] of [
    ["A4", 210, 297],
    ["Letter", 215.9, 279.4],
  ] as const) {
    await page.getByLabel("Paper size").selectOption(size);
    for (const [field, typed] of [
      ["Labels across", "2"],
      ["Labels down", "5"],
      ["Side margins, mm", "12.5"],
      ["Top and bottom margins, mm", "20"],
      ["Gap across, mm", "4"],
      ["Gap down, mm", "1.5"],
      ["Begin at label", "4"],
    ] as const)
      await page.getByLabel(field).fill(typed);
    await page.locator(".choose").fill("1-9");
    await expect(page.getByTestId("paper-summary")).toContainText("on 2 sheets");
    await page.emulateMedia({ media: "print" });
    await painted(page);
    const sheet = await page.locator(".label-sheet").first().boundingBox();
    expect([sheet?.x, sheet?.y]).toEqual([0, 0]);
    const [first, , third] = await boxesOf(page);
    const [wide, high] = [(width - 25 - 4) / 2, (height - 40 - 6) / 5];
    // Label 4 is the second one of the second row; the third of ours the first of the fourth.
    const wanted = (column: number, row: number) => ({
      ...{ left: 12.5 + column * (wide + 4), top: 20 + row * (high + 1.5), width: wide, height: high },
    });
    for (const [is, of] of [
      [first, wanted(1, 1)],
      [third, wanted(1, 2)],
    ] as const)
      for (const [name, mm] of Object.entries(of))
        expect(Math.abs((is?.[name as keyof Box] ?? 0) - mm)).toBeLessThan(0.1);
    await page.emulateMedia({ media: null });
    const pages = await pdfOf(page);
    expect(pages.length).toBe(2);
    for (const one of pages) {
      expect(Math.abs((one.width / 72) * 25.4 - width)).toBeLessThan(0.3);
      expect(Math.abs((one.height / 72) * 25.4 - height)).toBeLessThan(0.3);
    }
    expect(pages.flatMap(({ runs }) => runs).join(" ")).not.toMatch(/Print…|Paper size|Undo|Settle|page 1/);
  }
});

test("words that are too long, settings that can't be, and settings that are kept", async ({ page }) => {
  await openLabels(page);
  await test.step("long words wrap and shrink until they fit, and what can't is said", async () => {
    await expect(page.locator(".piece-label").first()).toBeVisible();
    const size = () =>
      page
        .locator(".piece-label")
        .first()
        .evaluate((label) => Number.parseFloat(getComputedStyle(label).fontSize));
    const before = await size();
    await page.getByRole("textbox", { name: "My own words" }).fill("Thrown-together-without-a-space".repeat(6));
    await expect.poll(size).toBeLessThan(before);
    expect(await beyondEdges(page)).toEqual([]);
    await expect(page.getByText(/more than fits on it/)).toHaveCount(0);
    await page.getByRole("textbox", { name: "My own words" }).fill("A long tale of clay and fire. ".repeat(20));
    await page.getByLabel("Labels down").fill("20");
    await expect(page.getByRole("alert").filter({ hasText: "more than fits" })).toBeVisible();
    await page.getByLabel("Labels across").fill("1");
    await page.getByLabel("Labels down").fill("4");
    await expect(page.getByText(/more than fits on it/)).toHaveCount(0);
    expect(await beyondEdges(page)).toEqual([]);
  });

  await test.step("what can't be is said where it is, and settings are kept", async () => {
    await page.getByLabel("Labels across").fill("0");
    await expect(page.getByTestId("paper-refused")).toContainText("Labels across");
    await page.getByLabel("Labels across").fill("4");
    await page.getByRole("textbox", { name: "My own words" }).fill("Made by the sea");
    await page.getByLabel("Of food it says").selectOption("Nothing");
    await expect(page.locator(".piece-label").first()).toContainText("Made by the sea");
    await openLabels(page);
    await expect(page.getByLabel("Labels across")).toHaveValue("4");
    await expect(page.locator(".piece-label").first()).toContainText("Made by the sea");
    await expect(page.locator(".piece-label").first()).not.toContainText("not meant for food");
  });
});

test("a certificate says which piece it is, what it is and what it is not, and a phone shows both papers", async ({
  page,
}) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await openLabels(page, "Certificate");
  await page.locator(".choose").fill("7, 8");
  await expect(page.getByTestId("paper-summary")).toHaveText("2 certificates");
  const first = page.locator(".certificate").first();
  await expect(first).toContainText("7 of 120");
  await expect(first).toContainText("Signed");
  const isNarrow = async () =>
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  await isNarrow();
  expect((await pdfOf(page)).length).toBe(2);
  await page.getByRole("radio", { name: "Labels" }).check();
  await expect(page.locator(".piece-label").first()).toBeVisible();
  await isNarrow();
  const found = await violations(page, { within: "[data-testid=papers]" });
  expect(found).toEqual([]);
});
