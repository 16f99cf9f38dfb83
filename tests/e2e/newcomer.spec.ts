// A newcomer's whole job as one test, with its count of actions: from Start to a price one trusts, through the run, to the
// papers. What is counted is what a maker does: a press, a choice from a list, or a field typed into is one action.
import { expect, type Locator, type Page } from "@playwright/test";
import { figure, open, settled, test, withoutPickers } from "./page";

/** Counts actions, part by part; each part is held to a number. */
function hands() {
  let [actions, before] = [0, 0];
  const counts: string[] = [];
  const one = async (done: Promise<unknown>) => {
    actions += 1;
    await done;
  };
  return {
    press: (what: Locator) => one(what.click()),
    type: (what: Locator, text: string) => one(what.fill(text)),
    choose: (what: Locator, option: string) => one(what.selectOption({ label: option })),
    part: (name: string, most: number) => {
      counts.push(`${actions - before} ${name}`);
      expect(actions - before, name).toBeLessThanOrEqual(most);
      before = actions;
    },
    said: () => `${actions} actions: ${counts.join("; ")}`,
  };
}

const part = (page: Page, name: string) => page.getByTestId(`plan-${name}`);
const field = (page: Page, name: string | RegExp) => page.locator(".plan [data-cell]").and(page.getByLabel(name));
const keepRest = (page: Page, name: string) =>
  part(page, name).getByRole("button", { name: /^Keep the template’s \d/ });
const cost = (page: Page) => page.getByTestId("answer-cost-standard");
/** A field of the bench by its question. */
const asked = (page: Page, label: string) =>
  page
    .locator("label.field")
    .filter({ has: page.locator("span").getByText(label, { exact: true }) })
    .locator("input, select");
const button = (page: Page, name: string | RegExp) => page.locator("main").getByRole("button", { name, exact: true });
const place = (page: Page, name: string) =>
  page.locator("nav.sheets button").filter({ hasText: new RegExp(`^${name}\\d*$`) });
const recordIt = (page: Page) => page.getByTestId("record-it");
const NUMBERS = "Piece numbers, such as 41-60, 66, 70-";

test("a newcomer's cups, from an empty studio to a trusted price, pieces recorded, one rescued, some sold, papers made", async ({
  page,
}) => {
  test.setTimeout(240_000);
  await withoutPickers(page);
  await open(page);
  const hand = hands();
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
  hand.part("plan, until the cost of one piece is trusted (231 by way of the sheets)", 34);

  await test.step("rows on Pieces with one press", async () => {
    const gap = page.getByTestId("gap");
    await expect(gap).toContainText(/^Pieces has \d+ rows for \d+ starts/);
    await hand.press(gap.getByRole("button"));
    await expect(gap).toHaveCount(0);
    hand.part("rows for all starts", 1);
  });
  const started = Number.parseInt((await figure(page, "starts").textContent()) ?? "", 10);

  await test.step("a step for many; one cracks; a firing", async () => {
    await hand.press(place(page, "Record"));
    await hand.press(button(page, /^Waiting for Throw/));
    await hand.choose(asked(page, "Up to and including which step?"), "Dry");
    await expect(page.getByTestId("plan")).toContainText(`This will happen to ${started} pieces`);
    await hand.press(recordIt(page));
    await settled(page);
    hand.part("record a step for many", 4);

    await hand.type(asked(page, NUMBERS), "3");
    await hand.press(button(page, "Lost here"));
    await hand.type(asked(page, "Another reason"), "cracked while drying");
    await hand.press(recordIt(page));
    await settled(page);
    hand.part("record a cracked piece", 4);

    // The shelves of the kiln have room for no more than 67.
    await hand.type(asked(page, NUMBERS), "1-60");
    await hand.press(button(page, "Done up to a step"));
    await hand.choose(asked(page, "Up to and including which step?"), "Bisque firing");
    await hand.choose(asked(page, "Bisque firing: into which firing?"), "A new firing");
    await hand.press(recordIt(page));
    await settled(page);
    hand.part("record a firing", 5);
  });

  await test.step("glazed and fired; one has a flaw and is rescued", async () => {
    await hand.press(button(page, /^Waiting for Brush the band/));
    await hand.choose(asked(page, "Up to and including which step?"), "Glaze firing");
    await hand.choose(asked(page, "Glaze firing: into which firing?"), "A new firing");
    await hand.press(recordIt(page));
    await settled(page);
    hand.part("record glaze and glaze firing", 4);

    await hand.press(place(page, "Rescue"));
    await hand.type(asked(page, "Which flawed piece, or several alike?"), "5");
    await expect(page.getByTestId("recommendation")).toContainText("Another glaze coat and firing: it is expected to");
    await hand.press(button(page, "Do this: Another glaze coat and firing"));
    await settled(page);
    await expect(page.getByTestId("rescued")).toContainText("005 waits for");
    hand.part("decide on a rescue", 3);
  });

  await test.step("the others are finished, and three are sold", async () => {
    await hand.press(place(page, "Record"));
    await hand.press(button(page, /^Inspected and good/));
    await settled(page);
    hand.part("inspect and pass", 2);

    await hand.press(place(page, "Sales"));
    await hand.type(asked(page, NUMBERS), "6-8");
    await hand.press(recordIt(page));
    await settled(page);
    hand.part("record a sale", 3);
  });

  await test.step("what it came to, and the papers", async () => {
    await hand.press(place(page, "Results"));
    await expect(page.getByTestId("story")).toContainText(/A good piece cost €.\d/);
    await hand.press(place(page, "For the accountant"));
    const download = page.waitForEvent("download");
    await hand.press(button(page, "Save the papers…"));
    await hand.press(page.getByRole("dialog").getByRole("button", { name: "Save as a zip…" }));
    expect((await download).suggestedFilename()).toMatch(/\.zip$/);
    hand.part("results and papers", 4);
  });
  console.log(hand.said());
});
