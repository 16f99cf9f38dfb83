// How a grid scrolls: flung by touch, and drawn by its scroll bar. Frames are timed in a pass of their own; blanks are looked
// for in the frames that the browser really showed, because what is composed may run ahead of what the page knows.

/** @typedef {import("playwright").Page} Page */
/** @typedef {{ longest: number, over: number, frames: number, blanks: number }} Scrolled */

const SCROLLER = ".free-scroller, .ht_master .wtHolder";
const ROW_HEIGHT = 26;
const ROUNDS = 3;

/** The box of the scroller in px. @param {Page} page */
const boxOf = (page) =>
  page
    .locator(SCROLLER)
    .first()
    .evaluate((element) => {
      const { left, top, right, bottom } = element.getBoundingClientRect();
      const heads = [...(element.closest(".grid-host") ?? element).querySelectorAll("thead")];
      const head = Math.max(top, ...heads.map((one) => one.getBoundingClientRect().bottom));
      return { left, top, right, bottom, head, bar: element.getBoundingClientRect().width - element.clientWidth };
    });

/** @param {Page} page @param {number} top */
async function scrollTo(page, top) {
  await page
    .locator(SCROLLER)
    .first()
    .evaluate((element, to) => {
      element.scrollTop = to;
    }, top);
  // Two frames: what came into sight is painted by then.
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
}

/** @param {Page} page */
const scrolled = (page) =>
  page
    .locator(SCROLLER)
    .first()
    .evaluate((element) => element.scrollTop);

/** Three flings downwards, as fast as a finger goes. @param {Page} page */
async function fling(page) {
  const { left, top, right, bottom } = await boxOf(page);
  const session = await page.context().newCDPSession(page);
  for (let at = 0; at < 3; at += 1)
    await session.send("Input.synthesizeScrollGesture", {
      x: (left + right) / 2,
      y: top + (bottom - top) * 0.7,
      yDistance: -6000,
      speed: 8000,
      preventFling: false,
      gestureSourceType: "touch",
    });
  await session.detach();
}

/** The thumb of the scroll bar drawn to the foot of its track and half way back. @param {Page} page */
async function drag(page) {
  const { top, right, bottom, bar } = await boxOf(page);
  if (bar < 4) throw new Error("the scroller has no scroll bar to be drawn");
  const x = right - bar / 2;
  const length = bottom - top;
  for (const offset of [6, 12, 18, 24]) {
    await page.mouse.move(x, top + offset);
    await page.mouse.down();
    await page.mouse.move(x, top + offset + 8, { steps: 2 });
    // The page hears of it a frame or two later.
    await page.waitForTimeout(60);
    if ((await scrolled(page)) > 0) {
      await page.mouse.move(x, top + length * 0.9, { steps: 24 });
      await page.mouse.move(x, top + length * 0.4, { steps: 16 });
      await page.mouse.up();
      return;
    }
    await page.mouse.up();
  }
  throw new Error("the scroll bar was not found");
}

/** The frames of the page while it is scrolled. @param {Page} page @param {() => Promise<void>} scroll */
async function frameTimes(page, scroll) {
  await page.evaluate(() => {
    /** @type {number[]} */
    const times = [];
    const state = { isOn: true, times };
    Object.assign(window, { frames: state });
    const next = (/** @type {number} */ now) => {
      times.push(now);
      if (state.isOn) requestAnimationFrame(next);
    };
    requestAnimationFrame(next);
  });
  await scroll();
  return page.evaluate(() => {
    const { frames } = /** @type {any} */ (window);
    frames.isOn = false;
    return frames.times.slice(1).map((/** @type {number} */ time, /** @type {number} */ at) => time - frames.times[at]);
  });
}

/**
 * The most rows that were blank in one frame: how far it is at most from one line of text to the next, frozen columns and
 * others each for themselves. @param {Page} looker any page of our own @param {readonly string[]} pictures
 * @param {{ left: number, head: number, right: number, bottom: number }} box
 */
const blankRows = (looker, pictures, box) =>
  looker.evaluate(
    async ([list, { left, head, right, bottom }, height]) => {
      const FROZEN = 60;
      let most = 0;
      for (const data of list) {
        const bytes = Uint8Array.from(atob(data), (c) => c.charCodeAt(0));
        const bitmap = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
        const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
        const drawing = canvas.getContext("2d", { willReadFrequently: true });
        drawing?.drawImage(bitmap, 0, 0);
        const [from, to] = [Math.ceil(head), Math.floor(bottom) - 20];
        for (const [x, width] of [
          [Math.ceil(left) + 4, FROZEN],
          [Math.ceil(left) + 300, Math.floor(right - left) - 340],
        ]) {
          const { data: pixels } = drawing?.getImageData(x ?? 0, from, width ?? 1, to - from) ?? { data: [] };
          let run = 0;
          for (let y = 0; y < to - from; y += 1) {
            let hasInk = false;
            for (let at = y * (width ?? 1) * 4; at < (y + 1) * (width ?? 1) * 4 && !hasInk; at += 4)
              hasInk = (pixels[at] ?? 255) + (pixels[at + 1] ?? 255) + (pixels[at + 2] ?? 255) < 330;
            run = hasInk ? 0 : run + 1;
            most = Math.max(most, Math.floor(run / height));
          }
        }
      }
      return most;
    },
    /** @type {[readonly string[], typeof box, number]} */ ([pictures, box, ROW_HEIGHT]),
  );

/** What the browser showed while the page was scrolled, as PNG. @param {Page} page @param {() => Promise<void>} scroll */
async function picturesOf(page, scroll) {
  const session = await page.context().newCDPSession(page);
  /** @type {string[]} */
  const pictures = [];
  session.on("Page.screencastFrame", ({ data, sessionId }) => {
    pictures.push(data);
    session.send("Page.screencastFrameAck", { sessionId }).catch(() => {});
  });
  await session.send("Page.startScreencast", { format: "png", everyNthFrame: 1 });
  await scroll();
  await session.send("Page.stopScreencast");
  await session.detach();
  return pictures;
}

/** @param {Page} page @param {Page} looker @param {() => Promise<void>} scroll @returns {Promise<Scrolled>} */
async function measure(page, looker, scroll) {
  /** @type {number[][]} */
  const rounds = [];
  for (let at = 0; at < ROUNDS; at += 1) {
    await scrollTo(page, 0);
    rounds.push(await frameTimes(page, scroll));
  }
  await scrollTo(page, 0);
  const pictures = await picturesOf(page, scroll);
  const longest = rounds.map((times) => Math.max(...times)).sort((a, b) => a - b);
  return {
    longest: longest[Math.floor(ROUNDS / 2)] ?? 0,
    over: rounds.flat().filter((time) => time > 50).length,
    frames: rounds.flat().length,
    blanks: await blankRows(looker, pictures, await boxOf(page)),
  };
}

/**
 * The median of the longest frame in ms, the frames over 50 ms of all rounds, and the most blank rows in one frame, for a
 * fling and for a drag of the scroll bar. @param {Page} page shows a grid @param {Page} looker another page
 * @returns {Promise<{ fling: Scrolled, drag: Scrolled }>}
 */
export async function scrollTimes(page, looker) {
  await page.bringToFront();
  const flung = await measure(page, looker, () => fling(page));
  const dragged = await measure(page, looker, () => drag(page));
  await scrollTo(page, 0);
  return { fling: flung, drag: dragged };
}
