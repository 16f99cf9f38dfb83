// A short run of `npm run faults`: nothing that was said to be saved is ever gone.
import { expect, test } from "@playwright/test";
import { fullDisk, twoTabs } from "../tools/faults/store.mjs";
import { killPages } from "../tools/faults/typing.mjs";

test("pages killed in the middle of saves lose nothing that was said to be saved", async ({ context, baseURL }) => {
  test.setTimeout(240_000);
  const count = await killPages(context, baseURL ?? "", 4, 7);
  expect(count.lost).toBe(0);
  expect(count.acknowledged).toBeGreaterThan(0);
  expect(count.made).toBeGreaterThan(count.acknowledged / 2);
});

test("two tabs that take the edition from one another lose nothing", async ({ context, baseURL }) => {
  test.setTimeout(240_000);
  expect(await twoTabs(context, baseURL ?? "", 4)).toMatchObject({ made: 4, kept: 4, lost: 0 });
});

test("a full disk is said at once, and nothing is lost once there is room", async ({ context, baseURL }) => {
  test.setTimeout(120_000);
  const count = await fullDisk(context, baseURL ?? "");
  expect(count).toMatchObject({ made: 5, kept: 5, lost: 0 });
  expect(count.said).toContain("there is no room left");
});
