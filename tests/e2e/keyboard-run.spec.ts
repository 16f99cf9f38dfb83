// The whole job by keyboard alone, at a desk: no pointer is used anywhere. After every key the keyboard's place is in sight
// and has a name.
import { readFile } from "node:fs/promises";
import { expect, type Page, test as plain } from "@playwright/test";
import { strFromU8, unzipSync } from "fflate";
import { cellName, figure, open, settled, test } from "./page";

/** What has the keyboard, as someone who sees and someone who listens would find it. */
interface Place {
  readonly name: string;
  readonly problem: string;
}

/** Runs in the page. */
function placeOfKeyboard(): Place {
  const element = document.activeElement;
  if (!(element instanceof HTMLElement) || element === document.body) return { name: "", problem: "it is nowhere" };
  const textOf = (ids: string | null) =>
    (ids ?? "")
      .split(" ")
      .map((id) => document.getElementById(id)?.textContent ?? "")
      .join(" ");
  const isField = element instanceof HTMLInputElement || element instanceof HTMLSelectElement;
  const label = isField ? (element.labels?.[0]?.querySelector("span") ?? element.labels?.[0])?.textContent : "";
  const names = [element.getAttribute("aria-label"), textOf(element.getAttribute("aria-labelledby")), label];
  // A cell is named by its headers; what it holds may be nothing.
  const cell = element.closest(".grid-host")
    ? (document.querySelector("#card h2")?.textContent ?? "")
    : (element.textContent ?? element.title);
  const name = (names.find((one) => (one ?? "").trim() !== "") ?? cell).replace(/\s+/g, " ").trim();
  const box = element.getBoundingClientRect();
  const isInSight = box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth;
  const style = getComputedStyle(element);
  const isMarked =
    (style.outlineStyle !== "none" && Number.parseFloat(style.outlineWidth) > 0) ||
    [...document.querySelectorAll<HTMLElement>(".grid-host .wtBorder.current")].some((one) => one.checkVisibility()) ||
    element.matches(".grid-host *, dialog");
  const what = `${element.tagName} “${name.slice(0, 60)}”`;
  // A date takes the keyboard part by part; the field then has its mark without being called focus-visible.
  if (!element.matches(":focus-visible, input[type=date]")) return { name, problem: `${what} does not show it` };
  if (name === "") return { name, problem: `${element.outerHTML.slice(0, 120)} has no name` };
  if (!isInSight) return { name, problem: `${what} is out of sight` };
  return { name, problem: isMarked ? "" : `${what} has no mark around it` };
}

/** Presses a key and gives the name of what has the keyboard then: in sight, marked and named. */
async function press(page: Page, key: string): Promise<string> {
  await page.keyboard.press(key);
  const here = () => page.evaluate(placeOfKeyboard);
  const place = await here();
  if (place.problem === "") return place.name;
  await expect.poll(async () => (await here()).problem, { message: `after ${key}`, timeout: 5000 }).toBe("");
  return (await here()).name;
}

/** Goes on with Tab, or back, to what has that name. */
async function goTo(page: Page, name: string | RegExp, key: "Tab" | "Shift+Tab" = "Tab"): Promise<void> {
  const isIt = (found: string) => (typeof name === "string" ? found === name : name.test(found));
  const passed: string[] = [];
  for (let at = 0; at < 150; at += 1) {
    const found = await press(page, key).catch((error: Error) => {
      throw new Error(`${error.message}; on the way to ${name} it passed ${passed.join(" | ")}`);
    });
    if (isIt(found)) return;
    passed.push(found);
  }
  throw new Error(`${key} never reached ${name}; it passed ${passed.join(" | ")}`);
}

/** Goes to a sheet or page by the list of sheets. */
async function toSheetNamed(page: Page, name: RegExp): Promise<void> {
  const nav = page.getByRole("navigation", { name: "Sheets" });
  const titles = (await nav.getByRole("button").allTextContents()).map((title) => title.trim());
  const here = titles.indexOf(await press(page, "Alt+1"));
  const there = titles.findIndex((title) => name.test(title));
  for (let at = here; at !== there; at += Math.sign(there - here)) await press(page, at < there ? "Tab" : "Shift+Tab");
  await page.keyboard.press("Enter");
  await expect(nav.locator("[aria-current]")).toHaveText(name);
  await expect(page.locator("#sheet")).toBeVisible();
}

/** In the sheet: the selected cell, moved with the arrows until it is the wanted one. */
async function arrowsTo(page: Page, key: string, wanted: RegExp): Promise<void> {
  for (let at = 0; at < 80; at += 1) {
    const before = await cellName(page);
    if (wanted.test(before)) return;
    await press(page, key);
    await expect.poll(() => cellName(page), { intervals: [5, 10, 20, 50] }).not.toBe(before);
  }
  throw new Error(`${key} never reached ${wanted}; last at ${await cellName(page)}`);
}

const done = (page: Page) => page.getByTestId("notice-done").last();

/** Fills the box of pieces on the page “Record”. */
async function choose(page: Page, pieces: string): Promise<void> {
  await press(page, "Alt+2");
  await page.keyboard.press("Control+a");
  await page.keyboard.type(pieces);
}

/** Presses “Record it”, and once more where there is something to mind. */
async function recordIt(page: Page): Promise<void> {
  await goTo(page, /^Record it/);
  await press(page, "Enter");
  if (await page.getByText("Press once more to record it").isVisible()) await press(page, "Enter");
  await expect(page.getByTestId("chosen-count")).toHaveText("0 pieces chosen");
  await settled(page);
}

test.beforeEach(async ({ page }) => {
  await page.addInitScript(() => {
    Reflect.deleteProperty(window, "showOpenFilePicker");
    Reflect.deleteProperty(window, "showSaveFilePicker");
    for (const kind of ["pointerdown", "mousedown", "touchstart"])
      window.addEventListener(kind, () => console.error(`a pointer was used: ${kind}`), { capture: true });
  });
});

test("an edition from its start to the accountant's papers, without a pointer", { tag: "@both-grids" }, async ({
  page,
}) => {
  plain.setTimeout(300_000);
  await open(page);
  const key = page.keyboard;

  await test.step("start an edition of 12 from a template", async () => {
    await goTo(page, "Start an edition…");
    await press(page, "Enter");
    await expect(page.getByRole("dialog")).toBeVisible();
    await key.type("By keyboard");
    await press(page, "Tab");
    await press(page, "Control+a");
    await key.type("12");
    await press(page, "Tab");
    const template = page.locator("input[name=template]:checked");
    for (let at = 0; at < 8 && (await template.getAttribute("value")) !== "lustre"; at += 1)
      await press(page, "ArrowDown");
    await expect(template).toHaveValue("lustre");
    await key.press("Enter");
    await expect(page.getByRole("heading", { level: 1 })).toHaveText("By keyboard");
    await settled(page);
  });

  const planned = (await figure(page, "starts").textContent()) ?? "";
  await test.step("plan: a loss on the Route, and what it does to the pieces to start", async () => {
    await toSheetNamed(page, /^Route/);
    await press(page, "Alt+3");
    await press(page, "Control+Home");
    await arrowsTo(page, "ArrowDown", /^Route Bisque/);
    await arrowsTo(page, "ArrowRight", /, planned loss$/);
    await key.type("20");
    await press(page, "Enter");
    await settled(page);
    await expect(figure(page, "starts")).not.toHaveText(planned);
    await press(page, "Alt+5");
    await expect(page.getByRole("dialog")).toBeVisible();
    await press(page, "Escape");
  });

  await test.step("undone and done again", async () => {
    const changed = (await figure(page, "starts").textContent()) ?? "";
    await press(page, "Control+z");
    await expect(figure(page, "starts")).toHaveText(planned);
    await press(page, "Control+y");
    await expect(figure(page, "starts")).toHaveText(changed);
  });

  await test.step("the plan is read on Edition, from its lines and its derivation", async () => {
    await press(page, "Alt+1");
    await goTo(page, /^Start, to deliver/, "Shift+Tab");
    await press(page, "Enter");
    await expect(page.getByRole("dialog", { name: /Pieces to start/i })).toBeVisible();
    await press(page, "Escape");
    await expect(page.getByRole("dialog")).toHaveCount(0);
  });

  await test.step("record at the bench: cast and fired, one lost, glazed and fired", async () => {
    await toSheetNamed(page, /^Record$/);
    await choose(page, "1-12");
    await goTo(page, "Up to and including which step?");
    await key.type("Bisque");
    await recordIt(page);
    await expect(done(page)).toContainText("Bisque");
    await choose(page, "5");
    await goTo(page, "Lost here");
    await press(page, "Space");
    await goTo(page, "At which step?");
    await key.type("Bisque");
    await goTo(page, "Another reason");
    await key.type("cracked foot");
    await recordIt(page);
    await expect(figure(page, "own_lost")).not.toHaveText(/\u00a00\.00$/);
    await choose(page, "1-4, 6-12");
    await goTo(page, "Done up to a step");
    await press(page, "Space");
    await goTo(page, "Up to and including which step?");
    await key.type("Glaze firing");
    await recordIt(page);
    await expect(done(page)).toContainText("Glaze firing");
  });

  await test.step("a refire for one of them", async () => {
    await choose(page, "2");
    await goTo(page, "Refire or add a step");
    await press(page, "Space");
    await goTo(page, "Glaze firing");
    await press(page, "Space");
    await goTo(page, /into which firing\?$/);
    await key.type("A new");
    await expect(page.getByTestId("plan")).toContainText("A new step, as needed: Glaze firing 2");
    await recordIt(page);
  });

  await test.step("the ways of a rescue are looked at", async () => {
    await toSheetNamed(page, /^Rescue$/);
    await goTo(page, "Which flawed piece, or several alike?");
    await key.type("3");
    await expect(page.getByTestId("recommendation")).toBeVisible();
    await goTo(page, /^Do this/);
  });

  await test.step("what if a loss were higher: the case is used", async () => {
    const before = (await figure(page, "starts").textContent()) ?? "";
    await toSheetNamed(page, /^What if$/);
    await expect(page.getByTestId("what-if").locator(".picture svg").first()).toBeVisible();
    await press(page, "Alt+3");
    await goTo(page, "Glaze firing");
    await expect(page.getByTestId("slider-glaze_firing").getByRole("textbox")).toBeFocused();
    await key.press("Control+a");
    await key.type("25");
    await press(page, "Enter");
    await expect(page.getByTestId("trying")).toContainText("Glaze firing: planned loss");
    await goTo(page, "Use this case");
    await press(page, "Enter");
    await settled(page);
    await expect(figure(page, "starts")).not.toHaveText(before);
  });

  await test.step("ready when, and what it came to", async () => {
    await toSheetNamed(page, /^Ready when$/);
    await expect(page.getByTestId("ready")).toContainText(/\d{4}|ready/i);
    await press(page, "Alt+3");
    await press(page, "Tab");
    await toSheetNamed(page, /^Results/);
    await press(page, "Alt+3");
    await press(page, "ArrowDown");
    await expect.poll(() => cellName(page)).toMatch(/^Results /);
  });

  await test.step("journal, and the papers for the accountant as a zip", async () => {
    await toSheetNamed(page, /^Journal$/);
    await expect(page.getByTestId("journal")).toContainText("balances");
    await toSheetNamed(page, /^For the accountant$/);
    await press(page, "Alt+3");
    // What was typed on a sheet has no day until one is taken.
    if ((await page.getByRole("button", { name: "Take the proposed days" }).count()) > 0) {
      await goTo(page, "Take the proposed days");
      await press(page, "Enter");
      await expect(page.getByTestId("undated")).toHaveCount(0);
      await press(page, "Alt+3");
    }
    await goTo(page, "Save the papers…");
    await press(page, "Enter");
    await expect(page.getByRole("dialog", { name: "For the accountant" })).toBeVisible();
    await goTo(page, "Save as a zip…");
    const [pack] = await Promise.all([page.waitForEvent("download"), key.press("Enter")]);
    const files = unzipSync(await readFile(await pack.path()));
    expect(Object.keys(files).length).toBeGreaterThan(4);
    expect(
      Object.values(files)
        .map((file) => strFromU8(file))
        .join(""),
    ).toContain("By keyboard");
    await expect(page.getByRole("dialog")).toHaveCount(0);
  });

  await test.step("saved as a file", async () => {
    const [saved] = await Promise.all([page.waitForEvent("download"), press(page, "Control+s")]);
    expect(saved.suggestedFilename()).toContain("By keyboard");
    expect(JSON.parse(await readFile(await saved.path(), "utf8"))).toBeTruthy();
  });

  await test.step("help is opened, searched and left", async () => {
    await press(page, "Alt+h");
    await expect(page.getByRole("dialog", { name: "Help" })).toBeVisible();
    await key.type("lost");
    await expect(page.getByRole("dialog")).toContainText(/lost/i);
    await goTo(page, /go there$/);
    await press(page, "Escape");
    await expect(page.getByRole("dialog")).toHaveCount(0);
  });
});

test("a control that is gone or out of use after it was pressed leaves the keyboard to the one beside it", {
  tag: "@both-grids",
}, async ({ page }) => {
  await open(page);
  const undo = page.getByRole("button", { name: "Undo", exact: true }).first();
  await press(page, "Alt+3");
  await press(page, "Control+Home");
  await page.keyboard.press("End");
  await page.keyboard.type("a note");
  await press(page, "Enter");
  await expect(undo).toBeEnabled();
  await press(page, "Alt+1");
  await goTo(page, "Undo", "Shift+Tab");
  await page.keyboard.press("Enter");
  await expect(undo).toBeDisabled();
  await expect(page.getByRole("button", { name: "Redo", exact: true })).toBeFocused();
  await page.keyboard.press("Enter");
  await expect(page.getByRole("button", { name: "Redo", exact: true })).toBeDisabled();
  await expect(undo).toBeFocused();

  // A search that finds nothing, and the button that takes it back goes with it.
  await press(page, "Alt+2");
  await goTo(page, "Show only rows with this text");
  await page.keyboard.type("nothing is called that");
  await goTo(page, "Show all, in order");
  await press(page, "Enter");
  await expect(page.getByRole("button", { name: "CSV…" })).toBeFocused();
});
