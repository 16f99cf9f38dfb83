// Every view at every width: it fits, nothing is cut, a thumb can press it, and a message covers none of it.
// With SHOTS=FOLDER a picture of each is left there, to be looked at. Nothing is compared.
import { expect, type Page } from "@playwright/test";
import { CONTRAST, violations, WCAG } from "./axe";
import { cutTexts, open, placeNames, resize, test, toPlace } from "./page";

/**
 * Themes that a maker may have set; the first of a size is gone through with every rule, the others with what colour
 * decides. Where the system gives all colours there is no contrast of ours to measure: that theme is left as a picture.
 */
const THEMES = {
  light: { colorScheme: "light", contrast: "no-preference" },
  dark: { colorScheme: "dark", contrast: "no-preference" },
  contrast: { colorScheme: "light", contrast: "more" },
} as const;
/** Width, height, and the themes that axe goes through. */
const SIZES = [
  [1440, 900, "light", "dark", "contrast"],
  [1024, 900],
  [820, 1180, "dark", "light", "contrast"],
  [390, 844, "dark", "light"],
] as const;
/** Up to this width things are pressed with fingers. */
const FINGERS = 900;

async function picture(page: Page, name: string): Promise<void> {
  if (process.env.SHOTS) await page.screenshot({ path: `${process.env.SHOTS}/${name}.png` });
}

for (const [width, height, ...themes] of SIZES)
  test(`every view at ${width} px fits, is read whole, can be pressed and is clean`, async ({ page }) => {
    test.setTimeout(600_000);
    await page.setViewportSize({ width, height });
    await open(page);
    const names = await placeNames(page);
    expect(names.length).toBeGreaterThan(15);
    const unclean: string[] = [];
    for (const name of names) {
      await toPlace(page, name);
      await picture(page, `${width}-${name.toLowerCase().replaceAll(" ", "-")}`);
      const wide = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(wide, `${name} is wider than the page`).toBeLessThanOrEqual(1);
      expect(await cutTexts(page), `cut on ${name}`).toEqual([]);
      if (width <= FINGERS) expect(await smallTargets(page), `too small on ${name}`).toEqual([]);
      for (const [at, theme] of themes.entries()) {
        await page.emulateMedia(THEMES[theme]);
        const found = await violations(page, { rules: at === 0 ? WCAG : CONTRAST });
        for (const { id, nodes } of found)
          unclean.push(`${name}, ${theme}, ${id}: ${nodes.map(({ html }) => html.slice(0, 120))}`);
      }
      await page.emulateMedia(THEMES.light);
    }
    expect(unclean).toEqual([]);
    await page.emulateMedia({ colorScheme: "dark" });
    await toPlace(page, "Pieces");
    await picture(page, `${width}-dark`);
    await page.emulateMedia({ forcedColors: "active" });
    await toPlace(page, "Plan");
    await picture(page, `${width}-forced`);
  });

test("a message covers nothing, at any width", async ({ page }) => {
  test.setTimeout(240_000);
  await open(page);
  // Refused, so it stays until something is done.
  await toPlace(page, "Loads");
  await page
    .getByLabel("numbers, or click on pieces below")
    .or(page.getByPlaceholder("such as 41-44, 60"))
    .first()
    .fill("999");
  await page.getByRole("button", { name: "Fire these once more" }).click();
  await expect(page.locator(".notice")).toHaveCount(1);
  for (const name of await placeNames(page)) {
    await toPlace(page, name);
    for (const width of [1440, 820, 390]) {
      await resize(page, width, 900);
      await expect(page.locator(".notice")).toBeVisible();
      expect(await coveredControls(page), `covered on ${name} at ${width} px`).toEqual([]);
    }
  }
});

/** Controls that are shown, without the lists a press opens. */
const CONTROLS = "button, input, select, textarea, summary, a[href]";

/** What can be pressed and is smaller than 44 px; a number within a sentence is pressed on more than its letters. */
function smallTargets(page: Page): Promise<string[]> {
  return page.evaluate((controls) => {
    const small: string[] = [];
    for (const element of document.querySelectorAll<HTMLElement>(controls)) {
      if (!element.checkVisibility() || element.closest(".unseen, .skip, .grid-host")) continue;
      const pressed = element.matches("[type=checkbox], [type=radio]")
        ? (element.closest("label") ?? element)
        : element;
      const { width, height } = pressed.getBoundingClientRect();
      const around = getComputedStyle(element, "::after");
      const isAbsolute = around.position === "absolute" && around.content !== "none";
      const [across, down] = isAbsolute
        ? [Number.parseFloat(around.width), Number.parseFloat(around.height)]
        : [width, height];
      if (across < 43.5 || down < 43.5)
        small.push(`${element.textContent || element.getAttribute("aria-label")} ${across} × ${down}`);
    }
    return small;
  }, CONTROLS);
}

/** Controls that can be brought into sight and then have something over them. */
function coveredControls(page: Page): Promise<string[]> {
  return page.evaluate((controls) => {
    const covered: string[] = [];
    for (const element of document.querySelectorAll<HTMLElement>(controls)) {
      if (!element.checkVisibility() || element.closest(".unseen, .skip, .grid-host")) continue;
      element.scrollIntoView({ block: "center", inline: "center" });
      const { left, top, width, height } = element.getBoundingClientRect();
      const over = document.elementFromPoint(left + width / 2, top + height / 2);
      const label = element.closest("label");
      if (!over || !(element.contains(over) || over.contains(element) || label?.contains(over)))
        covered.push(`${element.textContent || element.getAttribute("aria-label")}: ${over?.className}`);
    }
    return covered;
  }, CONTROLS);
}
