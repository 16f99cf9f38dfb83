// Two versions of the program with different formats on one store: the older one writes over nothing, and says so.
import { rmSync } from "node:fs";
import { expect, test } from "@playwright/test";
import { buildNewerFormat, type Host, host } from "../tools/host.mjs";
import { noteOf, saveState, settled, writeNote } from "./page";

let newer = "";
test.beforeAll(async () => {
  test.setTimeout(240_000);
  newer = await buildNewerFormat();
});
test.afterAll(() => rmSync(newer, { recursive: true, force: true }));

/** Both builds at one address: `folder` of the host changes. */
async function bothAt(use: (here: Host, renewed: () => void) => Promise<void>): Promise<void> {
  const old = await host();
  try {
    await use(old, () => old.serve(newer));
  } finally {
    await old.stop();
  }
}

test("an old tab stops where a newer one has written its edition, and loses nothing", async ({ page, context }) => {
  await bothAt(async (here, renewed) => {
    await page.goto(here.url);
    await settled(page);
    await writeNote(page, "020", "by the older one");
    await expect(saveState(page)).toHaveText(/^Saved/);
    await page.waitForLoadState("networkidle");
    renewed();
    const other = await context.newPage();
    await other.goto(here.url);
    await settled(other);
    expect(await noteOf(other, "020")).toBe("by the older one");
    await other.getByRole("button", { name: "Write here" }).click();
    await writeNote(other, "021", "by the newer one");
    await expect(saveState(other)).toHaveText(/^Saved/);
    await page.bringToFront();
    const line = page.getByTestId("keeping-newer");
    await expect(line).toContainText("A newer version of Saggar has written this edition");
    await expect(page.getByTestId("keeping-damaged")).toHaveCount(0);
    await expect(page.getByRole("button", { name: "Write here" })).toHaveCount(0);
    await line.getByRole("button", { name: "Reload the page" }).click();
    await expect(page.getByTestId("keeping-following")).toBeVisible();
    expect(await noteOf(page, "021")).toBe("by the newer one");
    await other.reload();
    await settled(other);
    expect([await noteOf(other, "020"), await noteOf(other, "021")]).toEqual(["by the older one", "by the newer one"]);
  });
});

test("an older program that comes back finds the edition whole, leaves it alone, and says so", async ({ page }) => {
  await bothAt(async (here, renewed) => {
    renewed();
    await page.goto(here.url);
    await settled(page);
    await writeNote(page, "020", "by the newer one");
    await expect(saveState(page)).toHaveText(/^Saved/);
    here.serve(undefined);
    await page.reload();
    await expect(page.getByRole("alert")).toContainText("written by a newer version of Saggar");
    renewed();
    await page.getByRole("button", { name: "Load the page again" }).click();
    await settled(page);
    expect(await noteOf(page, "020")).toBe("by the newer one");
  });
});
