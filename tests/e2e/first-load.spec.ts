// What a first visit has to fetch before the demo is on the page with every number computed.
import { gzipSync } from "node:zlib";
import { expect, type Response, test } from "@playwright/test";
import { settled } from "./page";

/** Bytes over the line when every response is gzipped on its own at level 9, by the grid that the build holds. */
const BUDGETS: Readonly<Record<string, number>> = { free: 300_000, handsontable: 475_000 };

/** What a file of the build belongs to, by its name. */
const PARTS: readonly (readonly [string, RegExp])[] = [
  ["grid", /(?:free|handsontable)-grid/],
  ["engine, in its worker", /\/common-engine-/],
  ["styles", /\.css$/],
  ["page and everything else", /./],
];

async function sizeOf(response: Response): Promise<readonly [string, number]> {
  const { pathname } = new URL(response.url());
  return [pathname, gzipSync(await response.body(), { level: 9 }).length];
}

// Service workers are blocked for all of these tests: what one fetches later, behind the work, is not counted.
test(
  "a first visit with the demo fetches no more than its budget",
  { tag: "@both-grids" },
  async ({ page, context }, { project }) => {
    const responses: Response[] = [];
    context.on("response", (response) => responses.push(response));
    await page.goto("./");
    await settled(page);
    await expect(page.locator(".grid-host td").first()).toBeVisible();
    // What is fetched for the card and the invitation, once the rest is there.
    await page.waitForLoadState("networkidle");
    const sizes = await Promise.all(responses.map(sizeOf));
    const byPart = new Map<string, number>();
    for (const [path, bytes] of sizes) {
      const part = PARTS.find(([, pattern]) => pattern.test(path))?.[0] ?? "";
      byPart.set(part, (byPart.get(part) ?? 0) + bytes);
    }
    const total = sizes.reduce((sum, [, bytes]) => sum + bytes, 0);
    const table = [...byPart, ["together", total] as const].map(([part, bytes]) => ({
      part,
      kB: (bytes / 1000).toFixed(1),
    }));
    console.table(table);
    expect(sizes.length).toBeGreaterThan(5);
    expect(byPart.get("grid")).toBeGreaterThan(0);
    expect(byPart.get("engine, in its worker")).toBeGreaterThan(0);
    expect(total, JSON.stringify(sizes)).toBeLessThanOrEqual(BUDGETS[project.name] ?? 0);
  },
);
