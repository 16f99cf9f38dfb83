// How long the page takes over a CSV file of 50,000 lines, and whether it stays responsive meanwhile.
const LINES = 50_000;

function bigFile() {
  const lines = ["Piece,tier,Cast: slip kept (g),Fettle: time (min),note"];
  for (let at = 1; at <= LINES; at += 1)
    lines.push(
      `${String(at).padStart(5, "0")},${at % 5 ? "standard" : "special"},${1800 + (at % 97)}.5,${10 + (at % 7)},"shelf ${at % 40}, row ${at % 9}"`,
    );
  return `${lines.join("\r\n")}\r\n`;
}

/**
 * Milliseconds from a dropped file to its report with rows refused, to the report with rows added, and the longest frame.
 * @param {import("playwright").Page} page an opened edition
 */
export async function csvTime(page) {
  await page.getByRole("button", { name: "CSV…" }).click();
  await page.locator("dialog > div").waitFor();
  await page.evaluate((text) => {
    const file = new File([text], "bench.csv", { type: "text/csv" });
    const state = { longest: 0, last: performance.now(), start: 0 };
    const frame = () => {
      const now = performance.now();
      state.longest = Math.max(state.longest, now - state.last);
      state.last = now;
      requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
    const event = new Event("drop", { bubbles: true, cancelable: true });
    Object.defineProperty(event, "dataTransfer", { value: { files: [file], getData: () => "" } });
    state.last = performance.now();
    state.start = state.last;
    Object.assign(window, { csvBench: state });
    document.querySelector("dialog > div")?.dispatchEvent(event);
  }, bigFile());
  const shown = (/** @type {boolean} */ isAdded) =>
    page.waitForFunction(
      (added) => {
        const row = document.querySelector('[data-testid="csv-report"] table');
        const count = Number(row?.querySelector("td")?.textContent ?? "-1");
        return row !== null && (added ? count > 1000 : count >= 0)
          ? performance.now() - /** @type {any} */ (window).csvBench.start
          : false;
      },
      isAdded,
      { timeout: 60_000 },
    );
  const read = /** @type {number} */ (await (await shown(false)).jsonValue());
  await page.evaluate(() => {
    /** @type {any} */ (window).csvBench.start = performance.now();
  });
  await page.locator('select[name="missing"]').selectOption("add");
  const planned = /** @type {number} */ (await (await shown(true)).jsonValue());
  const longest = await page.evaluate(() => /** @type {any} */ (window).csvBench.longest);
  await page.keyboard.press("Escape");
  return { lines: LINES, read, planned, longest };
}
