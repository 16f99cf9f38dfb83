import { expect } from "@playwright/test";
import { arrowTo, cardValue, cellName, figure, open, paste, settled, tabTo, test, toSheet } from "./page";

test("an edition from template to costed pieces, by keyboard alone", { tag: "@both-grids" }, async ({ page }) => {
  test.setTimeout(240_000);
  await open(page);
  const key = page.keyboard;

  await test.step("start an edition of 60 from the lustre template", async () => {
    await tabTo(page, "Start an edition…");
    await key.press("Enter");
    await expect(page.getByRole("dialog")).toBeVisible();
    await key.type("Sixty by keyboard");
    await key.press("Tab");
    await key.press("Control+a");
    await key.type("60");
    await key.press("Tab");
    for (let at = 0; at < 6; at += 1) {
      if ((await page.locator("input[name=template]:checked").getAttribute("value")) === "lustre") break;
      await key.press("ArrowDown");
    }
    await expect(page.locator("input[name=template]:checked")).toHaveValue("lustre");
    await key.press("Enter");
    await expect(page.getByRole("heading", { level: 1 })).toHaveText("Sixty by keyboard");
    await settled(page);
    // It lands on the plan; the pieces are a sheet.
    await key.press("Alt+1");
    await tabTo(page, /^Pieces ?\d+$/);
    await key.press("Enter");
  });

  await test.step("paste 60 rows of slip, minutes and coats", async () => {
    await toSheet(page);
    await key.press("Control+Home");
    await arrowTo(page, "Cast: slip kept");
    await paste(page, Array.from({ length: 60 }, () => "1900").join("\n"));
    await arrowTo(page, "Fettle: time");
    await paste(page, Array.from({ length: 60 }, (_, at) => `${12 + (at % 4)}`).join("\n"));
    await arrowTo(page, "Glaze: coats");
    await paste(page, Array.from({ length: 60 }, () => "3").join("\n"));
    await expect(page.getByTestId("notice-done").last()).toContainText("60 cells pasted");
    await settled(page);
  });

  const intoFiring = async (pieces: string, step: string) => {
    await key.press("Alt+2");
    await key.press("Control+a");
    await key.type(pieces);
    await tabTo(page, "Into a firing…");
    await key.press("Enter");
    await expect(page.getByRole("dialog", { name: "Into a firing" })).toBeVisible();
    await tabTo(page, "For which step?");
    await key.type(step);
    await tabTo(page, "Put them in");
    await key.press("Enter");
    await expect(page.getByRole("dialog")).toHaveCount(0);
  };

  await test.step("put pieces into two firings", async () => {
    await intoFiring("1-30", "Bisque");
    await intoFiring("31-60", "Bisque");
    await settled(page);
  });

  await test.step("lose three", async () => {
    await key.press("Alt+2");
    await key.type("7, 21-22");
    await tabTo(page, "Lost here…");
    await key.press("Enter");
    await tabTo(page, "At which step?");
    await key.type("Bisque");
    await tabTo(page, "Why?");
    await key.type("cracked foot");
    await tabTo(page, "Lost here");
    await key.press("Enter");
    await settled(page);
    await expect(page.locator(".river")).toContainText("3 lost");
  });

  await test.step("refire one alone: its share is the whole firing", async () => {
    await toSheet(page);
    await key.press("Control+Home");
    await arrowTo(page, "Bisque firing: share");
    await key.press("Alt+2");
    await tabTo(page, "Add a step…");
    await key.press("Enter");
    await expect(page.getByRole("dialog", { name: "Add a step" })).toBeVisible();
    await tabTo(page, "After which step?");
    await key.type("Glaze firing");
    await tabTo(page, "Add it");
    await key.press("Enter");
    await expect(page.getByRole("dialog")).toHaveCount(0);
    await intoFiring("9", "Glaze firing 2");
    await settled(page);
    await key.press("Alt+2");
    await key.type("9");
    await key.press("Enter");
    await expect.poll(() => cellName(page)).toContain("Pieces 009");
    await arrowTo(page, "Glaze firing 2: share");
    await expect(page.getByTestId("load-note")).toContainText("fired alone and bears the whole firing");
    const share = await cardValue(page).textContent();
    await expect(page.getByTestId("origins").locator("li").filter({ hasText: ", cost" }).first()).toContainText(
      (share ?? "").trim(),
    );
  });

  const lost = await figure(page, "own_lost").textContent();
  const put = await figure(page, "put_in").textContent();

  await test.step("undo all of it, redo all of it", async () => {
    const undo = page.getByRole("button", { name: "Undo", exact: true }).first();
    await toSheet(page);
    for (let at = 0; at < 40 && (await undo.isEnabled()); at += 1) await key.press("Control+z");
    await settled(page);
    // Nothing is begun any more, so the plan's figures stand.
    await expect(figure(page, "plan_cost")).toBeVisible();
    await expect(figure(page, "put_in")).toHaveCount(0);
    const redo = page.getByRole("button", { name: "Redo", exact: true });
    for (let at = 0; at < 40 && (await redo.isEnabled()); at += 1) await key.press("Control+y");
    await settled(page);
    await expect(figure(page, "put_in")).toHaveText(put ?? "");
    await expect(figure(page, "own_lost")).toHaveText(lost ?? "");
  });

  await test.step("reload: still there", async () => {
    await expect(page.getByTestId("save-state")).toContainText("Saved");
    await page.reload();
    await settled(page);
    await expect(page.getByRole("heading", { level: 1 })).toHaveText("Sixty by keyboard");
    await expect(figure(page, "put_in")).toHaveText(put ?? "");
    await expect(figure(page, "own_lost")).toHaveText(lost ?? "");
  });
});
