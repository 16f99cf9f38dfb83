// Numbers that reach every piece are answered before the engine is done, and what is shown then is what the engine says.
import { expect, type Page } from "@playwright/test";
import { figure, open, scrolledTo, settled, test } from "./page";

interface Heard {
  readonly ask: string;
  readonly values: number;
}

/** What the calculator was asked, and how many values it said. */
const heard = (page: Page) => page.evaluate(() => (window as unknown as { heard: Heard[] }).heard);

async function watch(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const list: Heard[] = [];
    Object.assign(window, { heard: list });
    const Original = window.Worker;
    window.Worker = class extends Original {
      constructor(url: string | URL, options?: WorkerOptions) {
        super(url, options);
        if (options?.name !== "calculator") return;
        this.addEventListener("message", ({ data }) => {
          const patch = data.kind === "opened" ? data.opened.patch : data.patch;
          const values =
            patch?.columns.reduce(
              (sum: number, one: { values: { rows: Int32Array } }) => sum + one.values.rows.length,
              0,
            ) ?? 0;
          if (values > 0) list.push({ ask: data.kind === "opened" ? "prepare" : "apply", values });
        });
      }
    };
  });
}

const wage = (page: Page) => page.locator("#card form input").first();

test("the wage is answered at once, and the engine says the same", async ({ page }) => {
  await watch(page);
  await open(page);
  const before = await figure(page, "put_in").textContent();
  await page.locator("nav.sheets button", { hasText: "Edition" }).click();
  await (await scrolledTo(page, /^22\.00$/)).click();
  await expect(page.locator("#card h2")).toContainText("Wage");
  await expect.poll(async () => (await heard(page)).map(({ ask }) => ask)).toEqual(["prepare"]);
  await wage(page).fill("33");
  await wage(page).press("Enter");
  await expect(figure(page, "put_in")).not.toHaveText(before ?? "");
  const pending = await figure(page, "put_in").textContent();
  await settled(page);
  expect(await figure(page, "put_in").textContent()).toBe(pending);
  const [, applied] = await heard(page);
  expect(applied?.ask).toBe("apply");
  expect(applied?.values).toBeGreaterThan(1000);
  // Opened again it is calculated from the start: the same.
  await expect(page.getByTestId("save-state")).toContainText("Saved");
  await page.reload();
  await settled(page);
  expect(await figure(page, "put_in").textContent()).toBe(pending);
});
