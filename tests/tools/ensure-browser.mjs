// Makes sure that the tests have a browser that starts, installing one if need be. Run by `npm test`.
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import process from "node:process";
import { fileURLToPath, pathToFileURL } from "node:url";
import { chromium } from "playwright";
import { candidates, choiceFile, launchOptionsFor, unpackedDir } from "./find-browser.mjs";

const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
const asRoot = process.getuid?.() === 0;

/** @param {string} cmd @param {string[]} args @param {NodeJS.ProcessEnv} [env] */
function run(cmd, args, env = {}) {
  console.log(`browser: ${cmd} ${args.join(" ")}`);
  const done = spawnSync(cmd, args, {
    cwd: root,
    stdio: ["ignore", "inherit", "inherit"],
    env: { ...process.env, ...env },
    timeout: 10 * 60_000,
    shell: process.platform === "win32",
  });
  return done.status === 0;
}

/** @param {import("./find-browser.mjs").Browser} browser */
async function starts(browser) {
  try {
    const b = await chromium.launch({ ...launchOptionsFor(browser), timeout: 30_000 });
    const version = b.version();
    const page = await b.newPage();
    // Typing shows more than starting does: a Chromium that finds no font starts, but takes no text.
    await page.setContent("<input>");
    await page.locator("input").pressSequentially("ok", { timeout: 10_000 });
    const typed = await page.locator("input").inputValue();
    await b.close();
    if (typed !== "ok") throw new Error("it takes no text (are there no fonts?)");
    return version;
  } catch (error) {
    console.log(`browser: ${browser.path} does not start: ${String(error).split("\n")[0]}`);
    return undefined;
  }
}

const tried = new Set();
async function choose() {
  for (const browser of candidates()) {
    if (tried.has(browser.path)) continue;
    tried.add(browser.path);
    const version = await starts(browser);
    if (version === undefined) continue;
    mkdirSync(dirname(choiceFile), { recursive: true });
    writeFileSync(choiceFile, JSON.stringify(browser));
    console.log(`browser: ${version} (${browser.kind}) ${browser.path}`);
    return true;
  }
  return false;
}

function osRelease() {
  try {
    return readFileSync("/etc/os-release", "utf8");
  } catch {
    return "";
  }
}

const installers = [
  function debianPackage() {
    // Not on Ubuntu, where the package of this name only asks for a snap.
    if (!asRoot || !existsSync("/usr/bin/apt-get") || !/^ID="?debian"?$/m.test(osRelease())) return;
    const quiet = { DEBIAN_FRONTEND: "noninteractive" };
    const lock = ["-o", "DPkg::Lock::Timeout=300"];
    run("apt-get", [...lock, "update", "-qq"], quiet);
    for (const name of ["chromium-headless-shell", "chromium"]) {
      const wanted = ["install", "-y", "-qq", "--no-install-recommends", name, "fonts-liberation"];
      if (run("apt-get", [...lock, ...wanted], quiet)) return;
    }
  },
  function playwrightDownload() {
    if (process.env.PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD) return;
    const deps = asRoot && process.platform === "linux" ? ["--with-deps"] : [];
    run(process.platform === "win32" ? "npx.cmd" : "npx", ["playwright", "install", ...deps, "chromium"]);
  },
  async function npmPackage() {
    if (process.platform !== "linux" || process.arch !== "x64") return;
    const dir = join(root, "tests", "tools", "browser");
    if (!run("npm", ["ci", "--prefix", dir, "--no-audit", "--no-fund"])) return;
    rmSync(unpackedDir, { recursive: true, force: true });
    mkdirSync(unpackedDir, { recursive: true });
    // The package unpacks into os.tmpdir(), and its shared libraries only where it believes itself in AWS Lambda.
    process.env.TMPDIR = unpackedDir;
    process.env.AWS_EXECUTION_ENV = "AWS_Lambda_nodejs20.x";
    const entry = join(dir, "node_modules", "@sparticuz", "chromium", "build", "esm", "index.js");
    await (await import(pathToFileURL(entry).href)).default.executablePath();
    // The font settings that come with it name a temporary folder, and without any font Chromium takes no text and crashes.
    const fonts = join(unpackedDir, "fonts");
    writeFileSync(
      join(fonts, "fonts.conf"),
      `<?xml version="1.0"?>\n<!DOCTYPE fontconfig SYSTEM "fonts.dtd">\n<fontconfig>\n  <dir>${fonts}</dir>\n  <dir>/usr/share/fonts</dir>\n  <cachedir>${fonts}-cache</cachedir>\n</fontconfig>\n`,
    );
  },
];

let ok = await choose();
for (const install of installers) {
  if (ok) break;
  try {
    await install();
  } catch (error) {
    console.log(`browser: ${install.name}: ${String(error)}`);
  }
  ok = await choose();
}
if (!ok) {
  console.error("browser: none could be found or installed. Install Chrome or Chromium, or set CHROME_PATH.");
  process.exitCode = 1;
}
