// WebKit's GTK port, by the W3C's WebDriver protocol, on a screen of its own.
import { spawn } from "node:child_process";
import { writeFileSync } from "node:fs";
import process from "node:process";
import { setTimeout as sleep } from "node:timers/promises";

/** @typedef {import("./page.mjs").Page} Page @typedef {import("./page.mjs").Driver} Driver */

// https://www.w3.org/TR/webdriver2/#keyboard-actions
/** @type {Readonly<Record<string, string>>} */
const KEYS = {
  Enter: "\uE007",
  Escape: "\uE00C",
  Tab: "\uE004",
  Backspace: "\uE003",
  Delete: "\uE017",
  ArrowLeft: "\uE012",
  ArrowUp: "\uE013",
  ArrowRight: "\uE014",
  ArrowDown: "\uE015",
  Home: "\uE011",
  End: "\uE010",
  Control: "\uE009",
  Shift: "\uE008",
  Alt: "\uE00A",
};

/** One window of a session. */
class Window {
  /** @param {string} session @param {string} handle @param {{ now: string }} shown */
  constructor(session, handle, shown) {
    Object.assign(this, { session, handle, shown });
    /** @type {string} */ this.session = session;
    this.handle = handle;
    this.shown = shown;
  }

  /** @param {string} method @param {string} path @param {unknown} [body] @returns {Promise<any>} */
  async ask(method, path, body) {
    if (this.shown.now !== this.handle) {
      await call("POST", `${this.session}/window`, { handle: this.handle });
      this.shown.now = this.handle;
    }
    return call(method, this.session + path, body);
  }

  /** @param {unknown[]} actions */
  act(...actions) {
    return this.ask("POST", "/actions", { actions });
  }
}

/** @param {string} method @param {string} url @param {unknown} [body] @returns {Promise<any>} */
async function call(method, url, body) {
  const answer = await fetch(url, {
    method,
    ...(body === undefined ? {} : { body: JSON.stringify(body), headers: { "content-type": "application/json" } }),
  });
  const { value } = await answer.json();
  if (!answer.ok) throw new Error(`${url}: ${value.error}: ${value.message}`);
  return value;
}

/** @param {Window} window @returns {Page} */
function over(window) {
  /** @param {string} pointerType */
  const pointer = (pointerType) => (/** @type {number} */ x, /** @type {number} */ y) =>
    window.act({
      type: "pointer",
      id: pointerType,
      parameters: { pointerType },
      actions: [
        { type: "pointerMove", x: Math.round(x), y: Math.round(y), duration: 20 },
        { type: "pointerDown", button: 0 },
        { type: "pointerUp", button: 0 },
      ],
    });
  /** @param {unknown[]} actions */
  const keyboard = (actions) => window.act({ type: "key", id: "keys", actions });
  /** @type {Page["run"]} */
  const run = async (todo, ...args) => {
    const script = `const done = arguments[arguments.length - 1]; Promise.resolve((${todo}).apply(null, arguments[0])).then((is) => done({ is }), (error) => done({ error: String(error) }));`;
    const answer = await window.ask("POST", "/execute/async", { script, args: [args] });
    if (answer?.error) throw new Error(answer.error);
    return answer?.is;
  };
  return {
    goto: (url) => window.ask("POST", "/url", { url }),
    run,
    point: pointer("mouse"),
    tap: pointer("touch"),
    press(keys) {
      const all = keys.split("+").map((key) => KEYS[key] ?? key);
      return keyboard([
        ...all.map((value) => ({ type: "keyDown", value })),
        ...all.toReversed().map((value) => ({ type: "keyUp", value })),
      ]);
    },
    type: (text) =>
      keyboard(
        [...text].flatMap((value) => [
          { type: "keyDown", value },
          { type: "keyUp", value },
        ]),
      ),
    // The window is made larger by what its frame takes, so that the page itself is of this size.
    async size(width, height) {
      let [wide, high] = [width, height];
      for (let at = 0; at < 4; at += 1) {
        await window.ask("POST", "/window/rect", { width: wide, height: high, x: 0, y: 0 });
        await sleep(250);
        const [w, h] = await run(() => [innerWidth, innerHeight]);
        if (w === width && h === height) return;
        wide += width - w;
        high += height - h;
      }
    },
    shot: async (path) => writeFileSync(path, Buffer.from(await window.ask("GET", "/screenshot"), "base64")),
    show: async () => void (await window.ask("GET", "/window")),
    async another() {
      // A tab that its driver turns to stays hidden, and what a hidden page waits for never comes; a window is in sight.
      const { handle } = await window.ask("POST", "/window/new", { type: "window" });
      return over(new Window(window.session, handle, window.shown));
    },
    close: async () => {
      await window.ask("DELETE", "/window");
      window.shown.now = "";
    },
  };
}

/**
 * A running driver, once it answers.
 * @param {string} program @param {number} port @param {NodeJS.ProcessEnv} env
 */
async function startDriver(program, port, env) {
  const runs = spawn(program, [`--port=${port}`], { stdio: "ignore", env });
  const base = `http://127.0.0.1:${port}`;
  for (let left = 50; left > 0; left -= 1) {
    const isReady = await fetch(`${base}/status`).then(
      ({ ok }) => ok,
      () => false,
    );
    if (isReady) break;
    await sleep(200);
  }
  return { base, stop: () => runs.kill() };
}

/** @param {{ driver: string, browser: string, screen: string }} found @returns {Promise<Driver>} */
export async function start({ driver, browser, screen }) {
  const display = `:${90 + (process.pid % 900)}`;
  const screenRuns = spawn(screen, [display, "-screen", "0", "1600x1400x24", "-nolisten", "tcp"], { stdio: "ignore" });
  await sleep(700);
  const env = { ...process.env, DISPLAY: display, LANG: "en_US.UTF-8", LANGUAGE: "en_US", TZ: "UTC" };
  let port = 20_000 + (process.pid % 20_000);
  let runs = await startDriver(driver, port, env);
  // However this ends, neither outlives it.
  process.once("exit", () => {
    runs.stop();
    screenRuns.kill();
  });
  const name = { now: "" };
  const openOnce = async () => {
    const { sessionId, capabilities } = await call("POST", `${runs.base}/session`, {
      capabilities: { alwaysMatch: { "webkitgtk:browserOptions": { binary: browser, args: ["--automation"] } } },
    });
    name.now = `WebKitGTK ${capabilities.browserVersion}`;
    const session = `${runs.base}/session/${sessionId}`;
    await call("POST", `${session}/timeouts`, { script: 120_000, pageLoad: 120_000 });
    return session;
  };
  // A driver that ends between two visits has said nothing of the page: another takes its place.
  const open = () =>
    openOnce().catch(async (error) => {
      console.log(`          the driver gave no session (${error.message}) and is started anew`);
      runs.stop();
      port += 1;
      runs = await startDriver(driver, port, env);
      return openOnce();
    });
  /** One browser at a time is what the driver gives. @type {string | undefined} */
  let ready = await open();
  return {
    name: name.now,
    fingers: "mouse",
    async visit({ width, height }) {
      const session = ready ?? (await open());
      ready = undefined;
      const handle = await call("GET", `${session}/window`);
      const page = over(new Window(session, handle, { now: handle }));
      await page.size(width, height);
      return { page, leave: () => call("DELETE", session) };
    },
    async stop() {
      if (ready) await call("DELETE", ready);
      runs.stop();
      screenRuns.kill();
    },
  };
}
