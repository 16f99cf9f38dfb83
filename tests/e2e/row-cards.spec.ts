// Rows of short sheets as cards beside the grid: described, drawn, copied and taken away, by hand and by keyboard.
import { expect, type Page } from "@playwright/test";
import { violations, WCAG } from "./axe";
import { cellName, cutTexts, open, resize, settled, tabTo, test, toPlace } from "./page";

const SHEETS = ["Materials", "Kilns", "Programmes", "Tariffs", "Firings"];

const cards = (page: Page) => page.locator(".row-cards");
const field = (page: Page, name: string) => cards(page).getByLabel(name, { exact: true });
const inGrid = (page: Page, text: string) => page.locator(".grid-host td:visible", { hasText: text });

test("a kiln is described by keyboard in its card, drawn as it is typed, and stands on the sheet @both-grids", async ({
  page,
}) => {
  await open(page);
  await toPlace(page, "Kilns");
  await page.getByRole("button", { name: "Add a kiln" }).click();
  const picture = cards(page).getByTestId("kiln-picture");
  await expect(cards(page)).toContainText("To be drawn it needs its width, depth and chamber height inside.");
  await tabTo(page, "Kiln: Rated, kW");
  await page.keyboard.type("8.5");
  await page.keyboard.press("Enter");
  // Enter goes to the next field, which is chosen whole; the card at the side is about it.
  await expect(field(page, "Kiln: Usual firing, h")).toBeFocused();
  await expect.poll(() => cellName(page)).toContain("usual firing");
  await field(page, "Kiln: Shape").selectOption("round");
  await field(page, "Kiln: Width or diameter inside, cm").fill("50");
  await field(page, "Kiln: Chamber height, cm").fill("60");
  await expect(picture).toContainText("Inside 50 cm across and 60 cm high: 118 L.");
  await expect(picture.getByRole("img")).toHaveAccessibleName(/Its wall is not given yet/);
  await field(page, "Kiln: Hot face: material").selectOption("brick-1260");
  await field(page, "Kiln: Hot face: thickness, mm").fill("3 in");
  await page.keyboard.press("Enter");
  await expect(picture).toContainText("Wall: 76.2 mm of brick-1260.");
  // What can't be read stays in its field with the reason, and the drawing keeps what it had.
  await field(page, "Kiln: Hot face: thickness, mm").fill("thick");
  await page.keyboard.press("Enter");
  await expect(cards(page).getByRole("alert")).toContainText("“thick”");
  await expect(picture).toContainText("76.2 mm");
  await field(page, "Kiln: Hot face: thickness, mm").focus();
  await page.keyboard.press("Escape");
  await expect(field(page, "Kiln: Hot face: thickness, mm")).toHaveValue("76.2");
  // The grid follows the field that has the keyboard.
  await field(page, "Kiln: Rated, kW").focus();
  await expect(inGrid(page, "8.5")).toBeVisible();
});

test("from its card a material is copied and removed, a common kiln put in, and a firing given its programme", async ({
  page,
}) => {
  await open(page);
  await test.step("a material is copied and removed", async () => {
    await toPlace(page, "Materials");
    await cards(page).getByRole("button", { name: "Make a copy of Stoneware slip" }).click();
    await expect(field(page, "Stoneware slip copy: Material")).toHaveValue("Stoneware slip copy");
    await expect(page.getByTestId("row-count")).toContainText("4 rows");
    await cards(page).getByRole("button", { name: "Remove Stoneware slip copy" }).click();
    await expect(page.getByTestId("row-count")).toContainText("3 rows");
  });

  await test.step("a common kiln is put in with one press and taken out with one Undo", async () => {
    await toPlace(page, "Kilns");
    const picture = cards(page).getByTestId("kiln-picture");
    await expect(picture).toContainText("52 cm across");
    await cards(page).getByText("Start from a common kiln").click();
    await cards(page).getByRole("button", { name: "About 300 litres" }).click();
    await expect(picture).toContainText("60 cm wide, 65 cm deep and 77 cm high: 300 L");
    await expect(field(page, "Small kiln: Rated, kW")).toHaveValue("18");
    await expect(field(page, "Small kiln: Rated, kW")).toHaveAccessibleDescription("still the template’s");
    await page.getByRole("button", { name: "Undo", exact: true }).first().click();
    await expect(picture).toContainText("52 cm across");
    await expect(field(page, "Small kiln: Rated, kW")).toHaveValue("7.2");
  });

  await test.step("a firing is chosen in the grid, its programme from names that stand once, its cost leads to where it comes from", async () => {
    await toPlace(page, "Firings");
    await inGrid(page, "G5").first().click();
    const programme = field(page, "G5: Programme");
    await expect(programme).toBeVisible();
    const names = await programme.locator("option").allTextContents();
    expect(names.length).toBeGreaterThan(3);
    expect(new Set(names).size).toBe(names.length);
    await programme.selectOption("low lustre");
    await expect(inGrid(page, "low lustre").first()).toBeVisible();
    await page.getByRole("button", { name: "Undo", exact: true }).first().click();
    await expect(programme).toHaveValue("glaze, middle fire");
    await cards(page).getByTitle("From Firings G5, cost").click();
    await expect.poll(() => cellName(page)).toBe("Firings G5, cost");
    await expect(page.locator("#card")).toContainText("energy + wear + labour");
  });
});

test("cards are clean in light and dark, and nothing in them is wider than they are, at every width", async ({
  page,
}) => {
  test.setTimeout(180_000);
  await open(page);
  for (const width of [1440, 1024, 820, 390]) {
    await resize(page, width, width === 390 ? 844 : 900);
    for (const sheet of SHEETS) {
      await toPlace(page, sheet);
      await settled(page);
      if (sheet === "Tariffs" && !(await cards(page).isVisible()))
        await page.getByRole("button", { name: "Add a band" }).click();
      await expect(cards(page)).toBeVisible();
      await expect(page.locator(".grid-host")).toBeVisible({ visible: width > 820 });
      for (const colorScheme of ["light", "dark"] as const) {
        const where = `${sheet} at ${width}, ${colorScheme}`;
        await page.emulateMedia({ colorScheme });
        // The words about the edition beside its title are meant to end where the room does.
        const cut = (await cutTexts(page)).filter((one) => !one.startsWith("quiet note"));
        expect(cut, where).toEqual([]);
        if (width === 1440 || width === 390) {
          const found = await violations(page, { within: ".row-cards", rules: WCAG });
          expect(
            found.map(({ id, nodes }) => `${where} ${id}: ${nodes.map(({ html }) => html.slice(0, 140))}`),
          ).toEqual([]);
        }
      }
    }
  }
});

test("in one column the cards take the grid's place, and a number that leads here leads to its field", async ({
  page,
}) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await open(page);
  await toPlace(page, "Firings");
  const seventh = cards(page).getByRole("button", { name: "G7", exact: true });
  await seventh.click();
  await expect(seventh).toHaveAttribute("aria-expanded", "true");
  await expect(field(page, "G7: Kiln")).toBeVisible();
  await toPlace(page, "Plan");
  await page.getByTestId("plan-kilns").getByRole("button", { name: "Kilns sheet" }).click();
  await expect(field(page, "Small kiln: Kiln")).toBeFocused();
});
