// `npm start`: builds the page, serves it and opens it, always at one address, since what is kept belongs to the address.
import { spawn } from "node:child_process";
import process from "node:process";
import { build, preview, resolveConfig } from "vite";

const quiet = /** @type {const} */ ({ logLevel: "error" });
/** What was said behind a name, as in `--port 4180`. @param {string} name */
const saidOf = (name) => (process.argv.includes(name) ? process.argv[process.argv.indexOf(name) + 1] : undefined);
const mode = saidOf("--mode") ?? "production";
const config = await resolveConfig(quiet, "serve", mode, "production", true);
const port = Number(saidOf("--port") ?? config.preview.port);
const address = `http://${config.preview.host}:${port}/`;

/** What answers at the address. @returns {Promise<"nothing" | "Saggar" | "another program">} */
async function whoIsThere() {
  try {
    const answer = await fetch(address, { signal: AbortSignal.timeout(3000) });
    return (await answer.text()).includes("<title>Saggar</title>") ? "Saggar" : "another program";
  } catch (error) {
    const { code } = /** @type {{ readonly code?: unknown }} */ (
      error instanceof Error && typeof error.cause === "object" ? (error.cause ?? {}) : {}
    );
    return code === "ECONNREFUSED" ? "nothing" : "another program";
  }
}

/** Opens the address; where there is no browser to open, the line with the address has to do. BROWSER=none opens none. */
function open() {
  const { BROWSER } = process.env;
  if (BROWSER === "none") return;
  const [command, ...before] = BROWSER
    ? [BROWSER]
    : process.platform === "darwin"
      ? ["open"]
      : process.platform === "win32"
        ? ["cmd", "/c", "start", ""]
        : ["xdg-open"];
  const opened = spawn(command ?? "", [...before, address], { stdio: "ignore", detached: true });
  opened.on("error", () => undefined);
  opened.unref();
}

/** @param {readonly string[]} lines The last is the address. */
const say = (...lines) => process.stdout.write(`${lines.join("\n")}\n`);

const there = await whoIsThere();
if (there === "Saggar") {
  say("Another Saggar is running already, so that one is opened; to start this one, end it first.", address);
  open();
} else if (there === "another program") {
  say(
    "Saggar was not started: another program uses its address, and editions belong to the address they were made at.",
    "End that program, or choose another address for good with: npm start -- --port 4180",
    address,
  );
  process.exitCode = 1;
} else {
  say("Building Saggar…");
  await build({ ...quiet, mode, build: { rolldownOptions: { checks: { pluginTimings: false } } } });
  await preview({ ...quiet, mode, preview: { port, strictPort: true } });
  say("Saggar runs until you press Ctrl+C. What you make is kept by your browser for this address:", address);
  open();
}
