// The plan first: from nothing to a price one trusts, by hand and by keyboard, at every width.
import { expect, type Page } from "@playwright/test";
import { violations, WCAG } from "./axe";
import { cutTexts, figure, open, resize, settled, tabTo, test, unfold } from "./page";

const part = (page: Page, name: string) => page.getByTestId(`plan-${name}`);
const field = (page: Page, name: string | RegExp) => page.locator(".plan [data-cell]").and(page.getByLabel(name));
const cost = (page: Page) => page.getByTestId("answer-cost-standard");

async function start(page: Page, title: string, template: string): Promise<void> {
  await open(page);
  await unfold(page, "more");
  await page.getByRole("button", { name: "Start an edition…" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.locator("[name=title]").fill(title);
  await dialog.locator(`[value=${template}]`).check();
  await dialog.getByRole("button", { name: "Start it" }).click();
  await settled(page);
  await expect(page.getByTestId("plan-page")).toBeVisible();
  await expect(cost(page)).toContainText(/€.\d/);
}

test("the answer moves while a number is typed, in one step that Undo takes back", async ({ page }) => {
  await start(page, "Typed", "tableware");
  const before = (await cost(page).textContent()) ?? "";
  const wage = field(page, /^An hour of work/);
  await wage.click();
  await page.keyboard.type("31.50", { delay: 60 });
  await expect(cost(page)).not.toHaveText(before);
  await expect(wage).toBeFocused();
  await expect(wage).toHaveValue("31.50");
  await page.getByRole("button", { name: "Undo", exact: true }).click();
  await settled(page);
  await expect(cost(page)).toHaveText(before);
  await expect(wage).toHaveValue("20");
  await wage.fill("a lot");
  await wage.press("Tab");
  await expect(page.getByTestId("plan-page").getByRole("alert")).toContainText("a lot");
  await expect(page.locator(".notices")).not.toContainText("a lot");
  await expect(cost(page)).toHaveText(before);
});

test("by keyboard alone: to the plan, through what is the template's, a step opened, the answer", async ({ page }) => {
  await start(page, "Keys", "tableware");
  const key = page.keyboard;
  await key.press("Alt+1");
  await tabTo(page, "Record");
  await key.press("Enter");
  await key.press("Alt+1");
  const focused = () => page.evaluate(() => document.activeElement?.textContent ?? "");
  for (let at = 0; at < 12 && (await focused()) !== "Plan"; at += 1) await key.press("Shift+Tab");
  await key.press("Enter");
  await key.press("Alt+3");
  await expect(page.getByTestId("plan-page")).toBeFocused();
  const left = async () => Number.parseInt((await page.getByTestId("examples").textContent()) ?? "0", 10);
  const many = await left();
  await tabTo(page, "To the next one");
  await key.press("Enter");
  await expect(field(page, "It weighs, dry, kg")).toBeFocused();
  await key.type("0.3");
  await key.press("Enter");
  await expect(field(page, "Its height, cm")).toBeFocused();
  await expect.poll(left).toBe(many - 1);
  // Enter on an amount that is right keeps it; Tab goes to the button that says so.
  await key.press("Enter");
  await expect.poll(left).toBe(many - 2);
  await key.press("Tab");
  await expect(page.getByRole("button", { name: /^Keep Shelf it takes/ })).toBeFocused();
  await key.press("Enter");
  await expect.poll(left).toBe(many - 3);
  await tabTo(page, "Glaze");
  await key.press("Enter");
  await tabTo(page, /^Glaze: Coats/);
  await key.type("2");
  await key.press("Enter");
  await settled(page);
  await key.press("Alt+4");
  await expect(page.locator("#card")).toBeFocused();
  await key.press("Tab");
  await key.press("Enter");
  await expect(page.locator("#card h2").first()).toHaveText(/A standard piece is planned to cost/);
});

test("the plan is whole at every width, and clean in light and dark", async ({ page }) => {
  // Begun where there is least room, and with its lists folded.
  await page.setViewportSize({ width: 390, height: 844 });
  await start(page, "Wide and narrow", "lustre");
  await field(page, "… of them special, pieces").fill("6");
  await expect(page.getByTestId("answer-cost-special")).toContainText(/€.\d/);
  await part(page, "way").getByRole("button", { name: "Glaze", exact: true }).click();
  for (const width of [390, 820, 1024, 1440])
    await test.step(`nothing is cut at ${width} px`, async () => {
      await resize(page, width, width > 400 ? 900 : 844);
      expect(await cutTexts(page), `${width} px`).toEqual([]);
      const wider = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      expect(wider, `${width} px`).toBeLessThanOrEqual(0);
      await expect(cost(page), `${width} px`).toBeInViewport();
    });
  for (const colorScheme of ["light", "dark"] as const)
    await test.step(`axe finds nothing (${colorScheme})`, async () => {
      await page.emulateMedia({ colorScheme });
      const found = await violations(page, { rules: WCAG });
      expect(
        found.map(({ id, nodes }) => `${colorScheme} ${id}: ${nodes.map(({ html }) => html.slice(0, 120))}`),
      ).toEqual([]);
    });
});

test("key figures are those of the phase", async ({ page }) => {
  await start(page, "Phases", "tableware");
  await expect(figure(page, "plan_standard")).toContainText(/€.\d/);
  await expect(figure(page, "plan_pays")).toContainText(/€/);
  await expect(figure(page, "ready")).toContainText(/20\d\d/);
  await page.getByTestId("figure-ready").click();
  await expect(page.getByTestId("calendar")).toBeVisible();
});
