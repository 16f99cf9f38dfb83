// The whole program as one file, opened from a disk.
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { expect } from "@playwright/test";
import { figure, noteOf, saveState, settled, test, writeNote } from "./page";

const folder = new URL("../../dist-single/", import.meta.url);
const file = new URL("saggar.html", folder);

test("one file calculates, keeps and saves from a disk, and asks nothing of any network", async ({ page }) => {
  const asked: string[] = [];
  page.on("request", (request) => asked.push(request.url()));
  await page.addInitScript(() => {
    Reflect.deleteProperty(window, "showSaveFilePicker");
    Reflect.deleteProperty(window, "showOpenFilePicker");
  });
  await page.goto(file.href);
  await settled(page);
  await expect(figure(page, "starts")).toHaveText("141\u00a0pieces");
  await writeNote(page, "020", "from a disk");
  await expect(saveState(page)).toHaveText(/^Saved/);
  await page.reload();
  await settled(page);
  expect(await noteOf(page, "020")).toBe("from a disk");
  await page.getByRole("button", { name: /^Results/ }).click();
  await expect(page.locator(".picture svg").first()).toBeVisible();
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save as a file", exact: true }).click(),
  ]);
  expect(download.suggestedFilename()).toBe("Marram.edition.json");
  expect(asked.filter((url) => !/^(file|blob|data):/.test(url))).toEqual([]);
});

test("one file holds its licences, has a policy of its own, and nothing else beside it but them", () => {
  const html = readFileSync(file, "utf8");
  expect(readdirSync(folder).sort()).toEqual(["licences", "saggar.html"]);
  expect(existsSync(fileURLToPath(new URL("licences/saggar-GPL-3.0.txt", folder)))).toBe(true);
  expect(html).toContain("GNU GENERAL PUBLIC LICENSE");
  expect(html).toContain('data-licence="hyperformula.txt"');
  const policy = /Content-Security-Policy" content="([^"]*)"/.exec(html)?.[1] ?? "";
  expect(policy).toMatch(/script-src 'sha256-[\w+/=]+'/);
  expect(policy).toContain("connect-src 'none'");
  expect(policy).not.toContain("unsafe-eval");
  expect(html).not.toMatch(/<script[^>]* src=|<link[^>]*stylesheet/);
});
