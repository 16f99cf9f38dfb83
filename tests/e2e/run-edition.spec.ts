// The bench at tablet width: with fingers, and with the keyboard alone.
import { expect, type Locator, type Page } from "@playwright/test";
import { violations, WCAG } from "./axe";
import { figure, open, settled, tabTo, test, toPlace, unfold } from "./page";

test.use({ viewport: { width: 820, height: 1180 }, hasTouch: true });

/** Counts what a maker does: a tap, a choice from a list, or something typed is one action. */
function hands(page: Page) {
  let actions = 0;
  const count = async (done: Promise<unknown>) => {
    actions += 1;
    await done;
  };
  const field = (label: string) =>
    page
      .locator("label.field")
      .filter({ has: page.locator("span").getByText(label, { exact: true }) })
      .locator("input, select");
  const button = (name: string | RegExp) => page.locator("main").getByRole("button", { name, exact: true });
  return {
    count: () => actions,
    tap: (name: string | RegExp) => count(button(name).tap()),
    tapOn: (locator: Locator) => count(locator.tap()),
    /** Two taps: the list, and a name in it. */
    goTo: async (name: string) => {
      await count(unfold(page, "sheets"));
      await count(toPlace(page, name));
    },
    choose: (label: string, option: string | RegExp) =>
      count(
        (async () => {
          const list = field(label);
          const title =
            typeof option === "string"
              ? option
              : await list.locator("option").filter({ hasText: option }).first().textContent();
          await list.selectOption({ label: title ?? "" });
        })(),
      ),
    type: (label: string, text: string) => count(field(label).fill(text)),
    typeInto: (locator: Locator, text: string) => count(locator.fill(text)),
  };
}

const recordIt = (page: Page) => page.getByTestId("record-it");
const chosen = (page: Page) => page.getByTestId("chosen-count");

test("the demo from where it is to finished, with fingers, in under 30 actions", async ({ page }) => {
  test.setTimeout(180_000);
  await open(page);
  const hand = hands(page);
  await hand.goTo("Record");

  await test.step("glaze what is bare, fire it all in a new firing, pack it", async () => {
    await hand.tap(/^Waiting for Glaze 12, choose all/);
    await hand.tap(/^Waiting for Glaze firing 9, choose all/);
    await expect(chosen(page)).toHaveText("21 pieces chosen");
    await hand.choose("Up to and including which step?", "Inspect and pack");
    await hand.choose("Glaze firing: into which firing?", "A new firing");
    await expect(page.getByTestId("plan")).toContainText("Glaze firing: into L12, for 21 pieces");
    await expect(page.getByTestId("plan")).toContainText("Glaze: 3 coats, for 12 pieces");
    await expect(page.getByTestId("plan")).not.toContainText("Mind");
    await hand.tapOn(recordIt(page));
    await expect(page.getByTestId("notice-done").last()).toContainText("Done up to Inspect and pack");
    await settled(page);
  });

  await test.step("the special ones: lustre, low firing, lustre, low firing, pack", async () => {
    await hand.tap(/^Waiting for Lustre 2, choose all/);
    await hand.tap(/^Waiting for Low firing 2, choose all/);
    await hand.tap(/^Waiting for Lustre 2 2, choose all/);
    await hand.choose("Up to and including which step?", "Inspect and pack");
    await hand.choose("Low firing: into which firing?", "A new firing");
    await hand.choose("Low firing 2: into which firing?", "A new firing");
    await expect(page.getByTestId("plan")).toContainText("A new firing, L14");
    await hand.tapOn(recordIt(page));
    await settled(page);
  });

  await test.step("pack the rest, and pass all", async () => {
    await hand.tap(/^Waiting for Inspect and pack/);
    await hand.tapOn(recordIt(page));
    await settled(page);
    await hand.tap(/^Ready to be passed/);
    await hand.tap("Passed");
    await hand.tapOn(recordIt(page));
    await settled(page);
  });

  await expect(page.getByText("No piece is waiting for anything.")).toBeVisible();
  expect(hand.count()).toBeLessThan(30);
  await toPlace(page, "Journal");
  await expect(page.getByTestId("journal")).toContainText("balances");
  await expect(page.getByTestId("unsettled")).toHaveCount(0);
});

test("out of order is asked once more; lost here with a reason of the maker's own; undo", async ({ page }) => {
  await open(page);
  const hand = hands(page);
  const put = await figure(page, "own_lost").textContent();
  await hand.goTo("Record");
  await hand.type("Piece numbers, such as 41-60, 66, 70-", "120-122");
  await hand.tap("Lost here");
  await hand.choose("At which step?", "Glaze firing");
  await hand.type("Another reason", "stuck to the shelf");
  await hand.tap("Keep it in my list");
  await expect(page.getByRole("button", { name: "stuck to the shelf", exact: true })).toHaveAttribute(
    "aria-pressed",
    "true",
  );
  await expect(page.getByTestId("plan")).toContainText("is in no firing at Glaze firing");
  await hand.tapOn(recordIt(page));
  await expect(recordIt(page)).toHaveText("Yes, record it all the same: 3 pieces");
  await hand.tapOn(recordIt(page));
  await settled(page);
  await expect(figure(page, "own_lost")).not.toHaveText(put ?? "");
  await page.getByRole("button", { name: "Undo", exact: true }).first().tap();
  await settled(page);
  await expect(figure(page, "own_lost")).toHaveText(put ?? "");
  await toPlace(page, "Run log");
  await expect(page.getByTestId("log-entry")).toHaveCount(3);
});

test("a flawed lantern is rescued with lustre; the entry is taken back later", async ({ page }) => {
  await open(page);
  const hand = hands(page);
  const before = await figure(page, "put_in").textContent();
  await hand.goTo("Rescue");
  await hand.type("Which flawed piece, or several alike?", "112");
  await expect(page.getByTestId("recommendation")).toContainText("Another glaze coat and firing");
  // A studio that lustres well: the chance decides.
  await hand.typeInto(page.getByLabel("Chance of Cover with lustre as a number, in percent"), "100");
  await expect(page.getByTestId("recommendation")).toContainText("Cover with lustre: it is expected to bring");
  await expect(page.locator(".does").last()).toContainText("Lustre over the flaw: 1 coat, for 1 piece");
  await hand.tap("Do this: Cover with lustre");
  await settled(page);
  await expect(page.getByTestId("rescued")).toContainText("112 waits for Low firing of the flaw");
  await expect(figure(page, "put_in")).not.toHaveText(before ?? "");
  await hand.goTo("Route");
  await expect(page.locator(".grid-host")).toContainText("Lustre over the flaw");

  // Something else happens to it, and then the rescue turns out never to have been done.
  await hand.goTo("Record");
  await hand.type("Piece numbers, such as 41-60, 66, 70-", "112");
  await hand.tap("Note");
  await hand.type("What is to be noted?", "kept for the shop");
  await hand.tapOn(recordIt(page));
  await hand.goTo("Run log");
  await hand.type("Words", "lustre");
  const entry = page.getByTestId("log-entry").filter({ hasText: "Cover with lustre: 112" });
  await hand.tapOn(entry.getByRole("button", { name: "Take back…" }));
  await hand.tapOn(entry.getByRole("button", { name: "Take it back" }));
  await expect(entry).toContainText("taken back");
  await settled(page);
  await expect(figure(page, "put_in")).toHaveText(before ?? "");
  await page.getByRole("button", { name: "Undo", exact: true }).first().tap();
  await expect(entry).not.toContainText("taken back");
  await settled(page);
  await expect(figure(page, "put_in")).not.toHaveText(before ?? "");
});

test("by keyboard alone: choose, fire, record, take back", async ({ page }) => {
  await open(page);
  const key = page.keyboard;
  // The list opens at Pieces, and Record stands before it.
  await key.press("Alt+1");
  await key.press("Shift+Tab");
  await key.press("Enter");
  await expect(page.getByTestId("record")).toBeVisible();
  await key.press("Alt+2");
  await key.type("120-128");
  await tabTo(page, "Into a firing");
  await key.press("Space");
  await expect(page.getByTestId("plan")).toContainText("A new firing, L12, in the Large kiln");
  await tabTo(page, /^Record it/);
  await key.press("Enter");
  await expect(page.getByTestId("notice-done").last()).toContainText("New firing L12: 120–128");
  await key.press("Alt+1");
  await tabTo(page, "Run log");
  await key.press("Enter");
  await expect(page.getByTestId("log-entry").first()).toContainText("New firing L12");
  await key.press("Alt+2");
  await tabTo(page, "Take back…");
  await key.press("Enter");
  await tabTo(page, "Take it back");
  await key.press("Enter");
  await expect(page.getByTestId("log-entry").first()).toContainText("taken back");
  await settled(page);
});

test("a refire for chosen pieces, from the Pieces sheet; everyone else's row is blank there", async ({ page }) => {
  await open(page);
  await page.locator("#choose-pieces").fill("110-111");
  await page.getByRole("button", { name: "Refire or add a step for these…" }).tap();
  const hand = hands(page);
  await hand.tap("Glaze firing");
  await hand.choose("Glaze firing, once more: into which firing?", /^G8/);
  await expect(page.getByTestId("plan")).toContainText("Refire: into G8, for 2 pieces");
  await expect(page.getByTestId("plan")).not.toContainText("A new step");
  await hand.tapOn(recordIt(page));
  await settled(page);
  await toPlace(page, "Pieces");
  await expect(page.locator(".river")).toContainText("Refire");
});

test("Record, Run log and Rescue are clean in light and dark, and large enough to press", async ({ page }) => {
  test.setTimeout(240_000);
  await open(page);
  const clean = async (view: string) => {
    for (const colorScheme of ["light", "dark"] as const) {
      const what = `${view}, ${colorScheme}`;
      await page.emulateMedia({ colorScheme });
      const found = await violations(page, { within: ".bench", rules: WCAG });
      expect(found.map(({ id, nodes }) => `${what} ${id}: ${nodes.map(({ html }) => html.slice(0, 120))}`)).toEqual([]);
      const small = await page
        .locator(".bench button, .bench select, .bench summary, .bench input:not([type=range])")
        .evaluateAll(
          (all) => all.filter((one) => one.checkVisibility() && one.getBoundingClientRect().height < 48).length,
        );
      expect(small, what).toBe(0);
      const overflow = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      expect(overflow, what).toBeLessThanOrEqual(0);
    }
  };
  const hand = hands(page);
  await toPlace(page, "Record");
  await hand.tap(/^Waiting for Glaze 12/);
  await page.locator("summary").filter({ hasText: "Waiting for Glaze firing" }).tap();
  for (const act of ["Done up to a step", "Lost here", "Refire or add a step"]) {
    await hand.tap(act);
    await clean(act);
  }
  await toPlace(page, "Run log");
  await page.getByRole("button", { name: "Take back…" }).first().tap();
  await clean("Run log");
  await toPlace(page, "Rescue");
  await hand.type("Which flawed piece, or several alike?", "112");
  await hand.tap("Change Cover with lustre");
  await clean("Rescue");
});
