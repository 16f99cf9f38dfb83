// What if: losses dragged and the picture follows, a long question stopped, a case used and undone, kept and compared.
import { readFile } from "node:fs/promises";
import { expect, type Page } from "@playwright/test";
import { violations } from "./axe";
import { figure, open, settled, test } from "./page";

const question = (page: Page, name: string) =>
  page.getByRole("navigation", { name: "Questions" }).getByRole("button", { name });
const outcome = (page: Page, row: string) => page.getByTestId(`outcome-${row}`);
const picture = (page: Page) => page.getByTestId("what-if").locator(".picture svg").first();
const undo = (page: Page) => page.locator("header").getByRole("button", { name: "Undo" });

/** Waits until nothing is being asked. */
async function answered(page: Page): Promise<void> {
  await expect(page.getByRole("region", { name: "The answer" })).toHaveAttribute("aria-busy", "false", {
    timeout: 60_000,
  });
}

async function whatIfLosses(page: Page): Promise<void> {
  await open(page);
  await page
    .getByRole("navigation", { name: "Sheets" })
    .getByRole("button", { name: /^Route/ })
    .click();
  await page.getByRole("button", { name: "What if losses change…" }).click();
  await expect(picture(page)).toBeVisible();
  await answered(page);
}

test("scrap at the glaze firing is dragged and the picture follows; the case is used, and undone", async ({ page }) => {
  test.setTimeout(180_000);
  await whatIfLosses(page);
  const slider = page.getByTestId("slider-glaze_firing").getByRole("slider");
  await expect(outcome(page, "starts")).toContainText("141");
  const before = await picture(page).innerHTML();

  await test.step("while the finger is down the picture changes again and again, and the edition does not", async () => {
    const box = await slider.boundingBox();
    if (!box) throw new Error("no slider");
    const at = (share: number) => [box.x + box.width * share, box.y + box.height / 2] as const;
    await page.mouse.move(...at(0.15));
    await page.mouse.down();
    await page.mouse.move(...at(0.4), { steps: 4 });
    await expect.poll(() => picture(page).innerHTML()).not.toBe(before);
    const half = await picture(page).innerHTML();
    await page.mouse.move(...at(0.7), { steps: 4 });
    await expect.poll(() => picture(page).innerHTML()).not.toBe(half);
    await page.mouse.up();
    await expect(page.getByTestId("trying")).toContainText("Glaze firing: planned loss");
    await expect(figure(page, "starts")).toHaveText("141\u00a0pieces");
    await expect(undo(page)).toBeDisabled();
  });

  let started = "";
  await test.step("an exact number is typed, and one that its cell does not take is refused", async () => {
    const field = page.getByTestId("slider-glaze_firing").getByRole("textbox");
    await field.fill("100");
    await field.press("Enter");
    await expect(page.getByTestId("slider-glaze_firing").getByRole("alert")).toContainText("below 100 %");
    await field.fill("12");
    await field.press("Enter");
    await expect(page.getByTestId("trying")).toContainText("Glaze firing: planned loss 12\u202f%");
    await answered(page);
    started = (await outcome(page, "starts").locator("b").textContent()) ?? "";
    expect(Number.parseInt(started, 10)).toBeGreaterThan(141);
  });

  await test.step("used, it is one step of the history", async () => {
    await page.getByRole("button", { name: "Use this case" }).click();
    await settled(page);
    await expect(figure(page, "starts")).toHaveText(started);
    await answered(page);
    await expect(outcome(page, "starts")).toContainText(started);
    await expect(page.getByTestId("trying")).toHaveCount(0);
    await expect(undo(page)).toHaveAttribute("title", /^Undo: Use the case: Glaze firing: planned loss 12/);
    await undo(page).click();
    await settled(page);
    await expect(figure(page, "starts")).toHaveText("141\u00a0pieces");
    await expect(undo(page)).toBeDisabled();
  });
});

test("a long question is stopped, and asked again in small", async ({ page }) => {
  test.setTimeout(180_000);
  await whatIfLosses(page);
  await question(page, "Chance").click();
  await answered(page);
  await expect(page.getByTestId("chance")).toContainText("The chance of falling short is");
  const draws = page.getByLabel("Draws", { exact: true });
  await draws.fill("400000");
  await draws.press("Enter");
  const stop = page.getByRole("button", { name: "Stop" });
  await stop.click();
  await expect(page.getByText("Stopped.")).toBeVisible();
  // What was answered before stays in sight.
  await expect(page.getByTestId("chance")).toContainText("Drawn 4\u202f000 times");
  await draws.fill("300");
  await draws.press("Enter");
  await expect(page.getByTestId("chance")).toContainText("Drawn 300 times");
  await page.getByRole("button", { name: /^Try \d+ to start/ }).click();
  await expect(page.getByTestId("trying")).toContainText("Pieces to start");
});

test("a price is found by keyboard alone, kept as a case, and stands beside today", async ({ page }) => {
  test.setTimeout(180_000);
  await whatIfLosses(page);
  const key = page.keyboard;
  await question(page, "What must it be").click();
  await answered(page);
  await expect(page.getByTestId("break-even")).toContainText("Plan leaves is €\u00a00.00 once");
  const input = page.getByRole("combobox", { name: "Which input" });
  await input.focus();
  await key.type("special price");
  await expect(page.getByRole("option")).toHaveCount(1);
  await key.press("Enter");
  await expect(input).toHaveValue("Price, special");
  await answered(page);
  const target = page.getByLabel("is to be");
  await target.fill("5000");
  await target.press("Enter");
  await answered(page);
  const found = page.getByTestId("break-even").getByRole("button", { name: /^Try / });
  await found.first().focus();
  await key.press("Enter");
  await expect(outcome(page, "plan_pays").locator("b")).toHaveText("€\u00a05\u202f000.00");
  await page.getByRole("button", { name: "Keep as a case…" }).focus();
  await key.press("Enter");
  await key.type("Cheaper specials");
  await key.press("Enter");
  await settled(page);
  await question(page, "Cases side by side").click();
  const cases = page.getByTestId("cases");
  await expect(cases.getByRole("columnheader")).toHaveText(["Result", "today", "Cheaper specials", "Being tried"]);
  await cases.getByRole("button", { name: "Use Cheaper specials" }).click();
  await settled(page);
  await expect(undo(page)).toHaveAttribute("title", /^Undo: Use the case: Price, special/);
});

test("numbers and pictures are saved as files, without a network", async ({ page }) => {
  test.setTimeout(180_000);
  // Without the pickers of the browser a file is downloaded.
  await page.addInitScript(() => {
    Reflect.deleteProperty(window, "showOpenFilePicker");
    Reflect.deleteProperty(window, "showSaveFilePicker");
  });
  await whatIfLosses(page);
  const requests: string[] = [];
  page.on("request", (request) => !/^(blob|data):/.test(request.url()) && requests.push(request.url()));
  const save = async (name: string) => {
    const [file] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name }).click()]);
    return { name: file.suggestedFilename(), bytes: await readFile(await file.path()) };
  };
  const csv = await save("Numbers as CSV");
  expect(csv.name).toBe("Marram, If losses change.csv");
  const [header = "", first = ""] = csv.bytes.toString("utf8").split("\r\n");
  expect(header).toBe('Input,set to,"Planned cost of a good piece, EUR",Planned margin,"Pieces to start, pieces"');
  expect(first).toMatch(/^Bisque firing: planned loss,0,\d+\.\d{6,},0\.\d{6,},\d+$/);
  const svg = (await save("Picture as SVG")).bytes.toString("utf8");
  expect(svg).toMatch(/^<svg [^>]*xmlns="http:\/\/www.w3.org\/2000\/svg"/);
  expect(svg).toContain("Planned cost of a good piece, EUR");
  expect(svg).not.toContain("var(");
  const png = (await save("Picture as PNG")).bytes;
  expect(png.subarray(1, 4).toString("latin1")).toBe("PNG");
  expect(png.readUInt32BE(16)).toBeGreaterThan(600);
  expect(requests.filter((url) => !url.startsWith("http://127.0.0.1"))).toEqual([]);
});

test("every question is read by everyone", async ({ page }) => {
  test.setTimeout(240_000);
  await whatIfLosses(page);
  const names = [
    "If losses change",
    "One input",
    "Two inputs",
    "What matters most",
    "What must it be",
    "Cases side by side",
    "Chance",
  ];
  for (const name of names) {
    await question(page, name).click();
    await expect(page.getByTestId("what-if").locator(".picture svg, .words").first()).toBeVisible({ timeout: 60_000 });
    await answered(page);
    const found = await violations(page, { within: ".what-if" });
    expect(found.map(({ id, nodes }) => `${name}, ${id}: ${nodes[0]?.html}`)).toEqual([]);
  }
});
