// Which browsers this machine has for the walk, and Debian's packages for those it lacks.
import { spawnSync } from "node:child_process";
import { accessSync, constants, readdirSync, readFileSync } from "node:fs";
import { delimiter, join } from "node:path";
import process from "node:process";
import { candidates } from "../tools/find-browser.mjs";

/** @typedef {"chromium" | "firefox" | "webkit"} Engine */

/** @param {string} path */
function isRunnable(path) {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** The first of these programs that is there; a bare name is looked for along PATH. @param {readonly string[]} names */
function program(...names) {
  const dirs = (process.env.PATH ?? "").split(delimiter).filter(Boolean);
  const paths = names.flatMap((name) => (name.includes("/") ? [name] : dirs.map((dir) => join(dir, name))));
  return paths.find(isRunnable);
}

function miniBrowser() {
  try {
    return readdirSync("/usr/lib")
      .flatMap((arch) => ["4.1", "4.0", "6.0"].map((version) => `/usr/lib/${arch}/webkit2gtk-${version}/MiniBrowser`))
      .find(isRunnable);
  } catch {
    return undefined;
  }
}

/** What an engine's driver is started with, or nothing where a part is absent. */
export const FOUND = {
  chromium: () => (candidates().length > 0 ? {} : undefined),
  firefox: () => {
    const path =
      process.env.FIREFOX_PATH ?? program("firefox-esr", "firefox", "/Applications/Firefox.app/Contents/MacOS/firefox");
    return path === undefined ? undefined : { path };
  },
  webkit: () => {
    const [driver, browser, screen] = [program("WebKitWebDriver"), miniBrowser(), program("Xvfb")];
    return driver && browser && screen ? { driver, browser, screen } : undefined;
  },
};

/** @type {Readonly<Partial<Record<Engine, readonly string[]>>>} */
const PACKAGES = { firefox: ["firefox-esr"], webkit: ["webkit2gtk-driver", "xvfb"] };

/** Has Debian's packages put in for the engines that are absent; says why where it can't. @param {readonly Engine[]} engines */
export function install(engines) {
  const wanted = engines.filter((engine) => !FOUND[engine]()).flatMap((engine) => PACKAGES[engine] ?? []);
  if (wanted.length === 0) return;
  const isDebian =
    isRunnable("/usr/bin/apt-get") && /^ID(_LIKE)?=.*debian/m.test(readFileSync("/etc/os-release", "utf8"));
  if (process.getuid?.() !== 0 || !isDebian) {
    console.log(`not installed, for want of root or of Debian: ${wanted.join(" ")}`);
    return;
  }
  const apt = (/** @type {string[]} */ ...rest) =>
    spawnSync("apt-get", ["-o", "DPkg::Lock::Timeout=300", "-qq", ...rest], {
      stdio: ["ignore", "ignore", "inherit"],
      env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" },
      timeout: 300_000,
    }).status === 0;
  // One by one: what can't be had takes nothing else with it.
  const updated = apt("update");
  for (const name of wanted)
    if (!updated || !apt("install", "-y", "--no-install-recommends", name))
      console.log(`could not be installed: ${name}`);
}
