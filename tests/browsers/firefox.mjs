// Firefox, by WebDriver BiDi. A visit is a whole browser: its profile is then as fresh as a maker's.
import puppeteer from "puppeteer-core";

/** @typedef {import("./page.mjs").Page} Page @typedef {import("./page.mjs").Driver} Driver */

/** @param {import("puppeteer-core").Page} page @returns {Page} */
const over = (page) => ({
  goto: async (url) => void (await page.goto(url)),
  run: (todo, ...args) => /** @type {Promise<any>} */ (page.evaluate(`(${todo}).apply(null, ${JSON.stringify(args)})`)),
  point: (x, y) => page.mouse.click(x, y),
  tap: (x, y) => page.touchscreen.tap(x, y),
  async press(keys) {
    const all = /** @type {import("puppeteer-core").KeyInput[]} */ (keys.split("+"));
    for (const key of all) await page.keyboard.down(key);
    for (const key of all.toReversed()) await page.keyboard.up(key);
  },
  type: (text) => page.keyboard.type(text),
  size: (width, height) => page.setViewport({ width, height }),
  shot: async (path) => void (await page.screenshot({ path: /** @type {`${string}.png`} */ (path) })),
  show: () => page.bringToFront(),
  another: async () => over(await page.browser().newPage()),
  close: () => page.close(),
});

/** @param {{ path: string }} found @returns {Promise<Driver>} */
export async function start({ path }) {
  const launch = () =>
    puppeteer.launch({
      browser: "firefox",
      executablePath: path,
      headless: true,
      protocol: "webDriverBiDi",
      extraPrefsFirefox: { "intl.accept_languages": "en-US, en", "intl.locale.requested": "en-US" },
      env: { ...process.env, TZ: "UTC" },
    });
  const first = await launch();
  const name = (await first.version()).replace("/", " ").replace(/^firefox/i, "Firefox");
  /** @type {import("puppeteer-core").Browser | undefined} */
  let ready = first;
  return {
    name,
    fingers: "touch",
    async visit({ width, height }) {
      const browser = ready ?? (await launch());
      ready = undefined;
      const page = await browser.newPage();
      await page.setViewport({ width, height });
      return { page: over(page), leave: () => browser.close() };
    },
    stop: async () => void (await ready?.close()),
  };
}
