// The plan first: from nothing to a price one trusts, by hand and by keyboard, at every width.
import AxeBuilder from "@axe-core/playwright";
import { expect, type Locator, type Page } from "@playwright/test";
import { cutTexts, figure, open, settled, tabTo, test, unfold } from "./page";

const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

/** Counts what a maker does: a press, a choice, or a field typed into is one action. */
function counted() {
  let actions = 0;
  const one = async (done: Promise<unknown>) => {
    actions += 1;
    await done;
  };
  return {
    count: () => actions,
    press: (what: Locator) => one(what.click()),
    type: (what: Locator, text: string) => one(what.fill(text)),
    choose: (what: Locator, option: string) => one(what.selectOption({ label: option })),
  };
}

const part = (page: Page, name: string) => page.getByTestId(`plan-${name}`);
const field = (page: Page, name: string | RegExp) => page.locator(".plan [data-cell]").and(page.getByLabel(name));
const keepRest = (page: Page, name: string) =>
  part(page, name).getByRole("button", { name: /^Keep the template’s \d/ });
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

test("a newcomer's cups: what one costs, trusted, in 40 actions at most (231 by way of the sheets)", async ({
  page,
}) => {
  test.setTimeout(120_000);
  await open(page);
  const hand = counted();
  await test.step("start", async () => {
    await hand.press(page.getByRole("button", { name: "Start an edition…" }));
    const dialog = page.getByRole("dialog");
    await hand.type(dialog.locator("[name=title]"), "Cups");
    await hand.type(dialog.locator("[name=wanted]"), "60");
    await hand.press(dialog.locator("[value=tableware]"));
    await hand.press(dialog.getByRole("button", { name: "Start it" }));
    await settled(page);
  });
  const examples = page.getByTestId("examples");
  await expect(examples).toContainText(/^\d+ amounts are the template’s/);

  await test.step("the piece and the studio", async () => {
    await hand.type(field(page, "It weighs, dry, kg"), "0.24");
    await hand.type(field(page, "Its height, cm"), "9");
    await hand.type(field(page, "Shelf it takes, cm²"), "64");
    await hand.type(field(page, "Clay or slip, Throw, g"), "380");
    await hand.type(field(page, "Area covered, Glaze, cm²"), "390");
    await hand.press(keepRest(page, "piece"));
    await hand.type(field(page, /^An hour of work/), "24");
    await hand.type(field(page, /^Overhead an hour/), "7");
    await hand.type(field(page, /^Electricity/), "0.34");
    await hand.press(keepRest(page, "studio"));
  });
  await test.step("what is bought", async () => {
    await hand.type(field(page, /^Stoneware clay: A pack costs/), "24");
    await hand.type(field(page, /^Stoneware clay: It holds/), "10 kg");
    await hand.type(field(page, /^Oatmeal glaze: A pack costs/), "58");
    await hand.type(field(page, /^Oatmeal glaze: It holds/), "5000");
    await hand.press(keepRest(page, "materials"));
  });
  await test.step("the way: no handle, other minutes and losses", async () => {
    await hand.press(part(page, "way").getByRole("button", { name: "Pull and fix the handle", exact: true }));
    await hand.press(part(page, "way").getByRole("button", { name: "Take it out" }));
    await hand.type(field(page, /^Throw: Minutes/), "6");
    await hand.type(field(page, /^Turn the foot: Minutes/), "5");
    await hand.type(field(page, /^Glaze: Minutes/), "2");
    await hand.type(field(page, /^Throw: Lost/), "9");
    await hand.type(field(page, /^Glaze firing: Lost/), "5");
    await hand.press(keepRest(page, "way"));
  });
  await test.step("the kiln and the promise", async () => {
    await hand.type(field(page, /^Top loader: Room for/), "70");
    await hand.type(field(page, /^Top loader: Rated/), "8");
    await hand.press(keepRest(page, "kilns"));
    await hand.type(field(page, /^Price,/), "38");
    await hand.type(field(page, /^Margin to be left/), "25");
    await hand.press(keepRest(page, "promise"));
  });

  await settled(page);
  await expect(examples).toHaveCount(0);
  await expect(cost(page)).toContainText(/€.\d+\.\d\d/);
  await expect(page.getByTestId("answer-price-standard")).toContainText(/€.\d/);
  await expect(page.getByTestId("answer-ready")).toContainText(/20\d\d/);
  expect(hand.count()).toBeLessThanOrEqual(40);
  console.log(`actions until the cost of one piece is trusted: ${hand.count()} (231 by way of the sheets)`);

  await test.step("rows on Pieces follow with one press; the sheets hold what was typed", async () => {
    const gap = page.getByTestId("gap");
    await expect(gap).toContainText(/^Pieces has \d+ rows for \d+ starts/);
    await hand.press(gap.getByRole("button"));
    await expect(gap).toHaveCount(0);
    await hand.press(cost(page).getByRole("button"));
    await expect(page.locator("#card h2").first()).toHaveText(/A standard piece is planned to cost/);
  });
});

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

for (const scheme of ["light", "dark"] as const)
  test(`axe finds nothing on the plan (${scheme})`, async ({ page }) => {
    await page.emulateMedia({ colorScheme: scheme });
    await start(page, "Clean", "lustre");
    await part(page, "way").getByRole("button", { name: "Glaze", exact: true }).click();
    const found = await new AxeBuilder({ page }).withTags(TAGS).analyze();
    expect(found.violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 120))}`)).toEqual(
      [],
    );
  });

for (const width of [1440, 1024, 820, 390])
  test(`nothing on the plan is cut at ${width} px`, async ({ page }) => {
    await page.setViewportSize({ width, height: width > 400 ? 900 : 844 });
    await start(page, "Wide and narrow", "lustre");
    await field(page, "… of them special, pieces").fill("6");
    await expect(page.getByTestId("answer-cost-special")).toContainText(/€.\d/);
    await part(page, "way").getByRole("button", { name: "Glaze", exact: true }).click();
    expect(await cutTexts(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)).toBeLessThanOrEqual(0);
    await expect(cost(page)).toBeInViewport();
  });

test("key figures are those of the phase", async ({ page }) => {
  await start(page, "Phases", "tableware");
  await expect(figure(page, "plan_standard")).toContainText(/€.\d/);
  await expect(figure(page, "plan_pays")).toContainText(/€/);
  await expect(figure(page, "ready")).toContainText(/20\d\d/);
  await page.getByTestId("figure-ready").click();
  await expect(page.getByTestId("calendar")).toBeVisible();
});
