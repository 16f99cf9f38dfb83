// The loss story on one screen, the journal, and the statements: each number one click from where it comes from.
import { expect } from "@playwright/test";
import { violations } from "./axe";
import { cardValue, cellName, open, settled, test, toPlace } from "./page";

const sheet = (page: Parameters<typeof open>[0], name: RegExp) =>
  page.getByRole("navigation", { name: "Sheets" }).getByRole("button", { name });

test("Results tell what a piece cost, what the losses cost and whether it paid", async ({ page }) => {
  await open(page);
  await sheet(page, /^Results/).click();
  const story = page.getByTestId("story");
  await expect(story.getByRole("heading")).toHaveText([
    "What did a piece cost?",
    "What did the losses cost?",
    "Did the edition pay?",
  ]);
  await expect(story).toContainText("17 of 141 pieces were lost");

  await test.step("three pictures, each with its numbers as a table", async () => {
    await expect(story.locator(".picture svg")).toHaveCount(3);
    await expect(story.getByRole("img")).toHaveCount(3);
    const [losses, build] = [story.locator("figure").nth(0), story.locator("figure").nth(1)];
    await losses.getByText("The same as a table").click();
    await expect(losses.getByRole("row", { name: /^Glaze firing 109 4/ })).toBeVisible();
    await build.getByText("The same as a table").click();
    await expect(build.getByRole("row", { name: /^Together/ })).toBeVisible();
  });

  await test.step("a number leads to its cell, with what it is computed from", async () => {
    const number = story.locator(".sentence").first().getByRole("button").first();
    const text = ((await number.textContent()) ?? "").replace(/[^\d.]/g, "");
    await number.click();
    await expect.poll(() => cellName(page)).toBe("Results, Cost of a good piece");
    await expect(cardValue(page)).toContainText(text);
    await expect(page.getByTestId("origins")).toBeVisible();
  });

  await test.step("a number of the table leads to the Route", async () => {
    const losses = story.locator("figure").nth(0);
    await losses.getByRole("row", { name: /^Dry / }).getByRole("button").nth(1).click();
    await expect.poll(() => cellName(page)).toBe("Route Dry, lost");
  });
});

test("what was seen becomes the plan and goes back; the pages of settling are read by everyone", async ({ page }) => {
  await open(page);
  await test.step("what was seen becomes the plan in one step and goes back in one", async () => {
    await sheet(page, /^Route/).click();
    const starts = page.getByTestId("figure-starts").locator("b");
    await expect(starts).toHaveText("141\u00a0pieces");
    await page.getByRole("button", { name: "Use what was seen as the planned loss" }).click();
    await settled(page);
    await expect(page.getByTestId("notice-done").last()).toContainText("is what was seen");
    await expect(starts).not.toHaveText("141\u00a0pieces");
    await page.getByRole("button", { name: "Undo", exact: true }).first().click();
    await settled(page);
    await expect(starts).toHaveText("141\u00a0pieces");
  });

  await test.step("the pages of settling are read by everyone", async () => {
    for (const name of ["Results", "Journal", "For the accountant"]) {
      await toPlace(page, name);
      // The pictures of the story come a little later.
      if (name === "Results") await expect(page.getByTestId("story").locator(".picture svg")).toHaveCount(3);
      const found = await violations(page, { without: ".grid-host" });
      expect(found.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
    }
  });
});

test("the journal balances under the maker's own names, and is kept", async ({ page }) => {
  await open(page);
  await sheet(page, /^Journal/).click();
  const journal = page.getByTestId("journal");
  await expect(journal.getByText("balances", { exact: true }).first()).toBeVisible();
  await expect(journal.getByText("does not balance")).toHaveCount(0);
  const sums = await journal
    .locator("tr.sum")
    .evaluateAll((rows) => rows.map((row) => [...row.querySelectorAll("td")].slice(1).map((cell) => cell.textContent)));
  for (const [debit, credit] of sums) expect(debit).toBe(credit);

  await journal.getByText("Accounts", { exact: true }).click();
  await journal.getByLabel("Kiln energy applied: name").fill("6100 Power");
  await journal.getByLabel("Kiln energy applied: name").press("Tab");
  await expect(journal.getByRole("cell", { name: "6100 Power" }).first()).toBeVisible();
  await journal.getByLabel("References begin with").fill("NOV");
  await journal.getByLabel("References begin with").press("Tab");
  await expect(journal.getByRole("cell", { name: "NOV-1" })).toBeVisible();
  await expect(page.getByTestId("save-state")).toContainText("Saved");
  await page.reload();
  await settled(page);
  await sheet(page, /^Journal/).click();
  await expect(page.getByTestId("journal").getByRole("cell", { name: "6100 Power" }).first()).toBeVisible();
});

test("the accountant's statements agree with Results and print without the page around them", async ({ page }) => {
  await open(page);
  await sheet(page, /^For the accountant/).click();
  const paper = page.getByTestId("accountant");
  const put = ((await page.getByTestId("figure-put_in").locator("b").textContent()) ?? "").replace(/^[^\d]+/, "");
  await expect(paper.getByRole("row", { name: /^Everything put in/ })).toContainText(put);
  await expect(paper.getByRole("row", { name: /^Seconds 1 / })).toBeVisible();
  // A chain of steps for each tier.
  await expect(paper.getByRole("row", { name: /^Glaze firing/ })).toHaveCount(2);
  await page.emulateMedia({ media: "print" });
  await expect(page.getByRole("navigation", { name: "Sheets" })).toBeHidden();
  await expect(paper.getByRole("button", { name: "Print" })).toBeHidden();
  await expect(paper.getByRole("row", { name: /^Everything put in/ })).toBeVisible();
  await page.emulateMedia({ media: null });
  await paper
    .getByRole("row", { name: /^Everything put in/ })
    .getByRole("button")
    .click();
  await expect.poll(() => cellName(page)).toBe("Results, Everything put in");
});

test("a cost written over by hand keeps the journal back, and says where", async ({ page }) => {
  await open(page);
  await sheet(page, /^Results/).click();
  const losses = page.getByTestId("story").locator("figure").nth(0);
  await losses.getByText("The same as a table").click();
  await losses.getByRole("row", { name: /^Dry / }).getByRole("button").nth(2).click();
  await expect.poll(() => cellName(page)).toBe("Route Dry, lost here");
  await page.getByRole("button", { name: "Give it another value" }).click();
  await page.getByLabel("The value to give it").fill("900");
  await page.getByRole("button", { name: "Give it this value" }).click();
  await settled(page);
  await sheet(page, /^Journal/).click();
  const refused = page.getByTestId("unsettled");
  await expect(refused).toContainText("No papers are made until the edition adds up.");
  await expect(page.getByTestId("journal").getByText("balances", { exact: true })).toHaveCount(0);
  await refused.getByRole("button", { name: "Route Dry, lost here" }).click();
  await expect.poll(() => cellName(page)).toBe("Route Dry, lost here");
});
