// A browser of its own over a folder that outlives it, to be killed with all its processes.
import { spawn } from "node:child_process";
import { createServer } from "node:net";
import process from "node:process";
import { chromium } from "playwright";
import { launchOptions } from "../find-browser.mjs";
import { wait } from "./page.mjs";

/** A free port. @returns {Promise<number>} */
export function freePort() {
  return new Promise((done) => {
    const server = createServer();
    server.listen(0, "127.0.0.1", () => {
      const { port } = /** @type {import("node:net").AddressInfo} */ (server.address());
      server.close(() => done(port));
    });
  });
}

/** Starts a browser of its own over a folder that outlives it. @param {string} folder */
export async function startBrowser(folder) {
  const { executablePath, args = [] } = launchOptions();
  const port = await freePort();
  const child = spawn(
    executablePath ?? chromium.executablePath(),
    [...args, "--headless", `--remote-debugging-port=${port}`, `--user-data-dir=${folder}`, "about:blank"],
    // A group of its own: what is started may be a script that starts the browser.
    { stdio: "ignore", detached: true },
  );
  for (let attempt = 0; ; attempt += 1) {
    try {
      const browser = await chromium.connectOverCDP(`http://127.0.0.1:${port}`);
      return { child, browser };
    } catch (error) {
      if (attempt > 100) throw error;
      await wait(200);
    }
  }
}

/** Kills a browser with all its processes. @param {import("node:child_process").ChildProcess} child */
export function killGroup(child) {
  if (child.pid !== undefined) process.kill(-child.pid, "SIGKILL");
}

/** Waits until a browser has ended. @param {import("node:child_process").ChildProcess} child */
export async function untilEnded(child) {
  if (child.exitCode === null && child.signalCode === null) await new Promise((done) => child.once("exit", done));
}
