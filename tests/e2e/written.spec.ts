// One way to write numbers, money and days, on every page, picture and paper.
import { expect, type Page } from "@playwright/test";
import { open, settled, test } from "./page";

/** What is never written so, by locale. */
const NEVER = {
  everywhere: {
    "a day as in a file": /(?<![\w-])\d{4}-\d\d-\d\d(?![\w-])/,
    "a day with strokes": /(?<![\d/])\d{1,2}\/\d{1,2}\/\d{2,4}/,
    "a hyphen for a minus": /(?:^|[\s(€$])-(?:[€$]\s?)?\d/,
    "thousands without a space": /(?<![\d.,\u202f#=–-])(?!(?:19|20)\d\d(?!\d))\d{4,}(?!\d)/,
    "a currency's code for its sign": /(?:\d[\s\u00a0\u202f]EUR\b)|(?:\bEUR[\s\u00a0\u202f]?\d)/,
    "a sign of money without its space": /[€$]\d/,
    "a minus after the currency": /[€$][\s\u00a0]?\u2212/,
  },
  "en-GB": { "commas between thousands": /\d,\d{3}(?!\d)/ },
  "de-DE": { "a decimal point": /(?<![\d.])\d+\.\d{1,2}(?![\d.])/ },
} as const;

/** Every text in sight of a reader, also in pictures; fields, formulas, rules by their number and published limits are as they were typed. */
async function texts(page: Page): Promise<readonly string[]> {
  return page.evaluate(() => {
    const found: string[] = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const holder = node.parentElement;
      if (
        !holder ||
        holder.closest("script, style, code, cite, pre, .formula, textarea, option, .cautions, dialog:not([open])")
      )
        continue;
      if (holder.getClientRects().length > 0) found.push((node.textContent ?? "").trim());
    }
    for (const one of document.querySelectorAll("[aria-label], [title]"))
      for (const name of ["aria-label", "title"]) found.push(one.getAttribute(name) ?? "");
    return found.filter((text) => /\d/.test(text));
  });
}

async function wrongOn(page: Page, where: string, locale: keyof typeof NEVER): Promise<readonly string[]> {
  const rules = Object.entries({ ...NEVER.everywhere, ...NEVER[locale] });
  return (await texts(page)).flatMap((text) =>
    rules.flatMap(([what, rule]) => (rule.test(text) ? [`${where}: ${what}: ${text.slice(0, 90)}`] : [])),
  );
}

for (const locale of ["en-GB", "de-DE"] as const)
  test.describe(locale, () => {
    test.use({ locale });

    test("every page, sheet and paper writes numbers and days the one way", async ({ page }) => {
      test.setTimeout(240_000);
      await open(page);
      const list = page.locator(".sheets button");
      const wrong: string[] = [];
      const names = await list.allTextContents();
      expect(names.length).toBeGreaterThan(15);
      for (const [at, name] of names.entries()) {
        await list.nth(at).click();
        await settled(page);
        await expect(page.locator("main, #sheet, .grid-host").first()).toBeVisible();
        wrong.push(...(await wrongOn(page, name, locale)));
        const papers = await page.locator("[name=which-paper]").count();
        for (let paper = 0; paper < papers; paper += 1) {
          const one = page.locator("[name=which-paper]").nth(paper);
          await one.check();
          await expect(page.getByTestId("paper-summary")).not.toHaveText("");
          wrong.push(...(await wrongOn(page, `${name} ${paper}`, locale)));
        }
      }
      expect([...new Set(wrong)]).toEqual([]);
    });
  });
