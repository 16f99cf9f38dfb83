// Chromium, by Playwright, as the other tests start it.
import { chromium } from "playwright";
import { launchOptions } from "../tools/find-browser.mjs";

/** @typedef {import("./page.mjs").Page} Page @typedef {import("./page.mjs").Driver} Driver */

/** @param {import("playwright").Page} page @returns {Page} */
const over = (page) => ({
  goto: async (url) => void (await page.goto(url)),
  run: (todo, ...args) => page.evaluate(`(${todo}).apply(null, ${JSON.stringify(args)})`),
  point: (x, y) => page.mouse.click(x, y),
  tap: (x, y) => page.touchscreen.tap(x, y),
  press: (keys) => page.keyboard.press(keys),
  type: (text) => page.keyboard.type(text),
  size: (width, height) => page.setViewportSize({ width, height }),
  shot: async (path) => void (await page.screenshot({ path })),
  show: () => page.bringToFront(),
  another: async () => over(await page.context().newPage()),
  close: () => page.close(),
});

/** @returns {Promise<Driver>} */
export async function start() {
  const browser = await chromium.launch(launchOptions());
  return {
    name: `Chromium ${browser.version()}`,
    fingers: "touch",
    async visit({ width, height }) {
      const context = await browser.newContext({
        viewport: { width, height },
        locale: "en-US",
        timezoneId: "UTC",
        hasTouch: true,
        permissions: ["clipboard-read", "clipboard-write"],
      });
      return { page: over(await context.newPage()), leave: () => context.close() };
    },
    stop: () => browser.close(),
  };
}
