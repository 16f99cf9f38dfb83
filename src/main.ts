// The only wiring: the platform is put into the app, and the app onto the page.
import "./ui/shell/tokens.css";
import "./ui/shell/styles.css";
import "./ui/edition/river.css";
import "./ui/controls/plain-table.css";
import "./ui/edition/tools.css";
import "./ui/card/card.css";
import "./ui/shell/notices.css";
import "./ui/controls/dialog.css";
import "./ui/shell/widths.css";
import { h, render } from "preact";
import { usableLocale } from "./app/edition/format";
import type { Session } from "./app/edition/session";
import { isPartMissing, PART_MISSING } from "./app/keeping/parts";
import { Studio } from "./app/keeping/studio";
import type { Home } from "./app/keeping/studio-platform";
import type { Problem, Result } from "./core/problem";
import { startCsv } from "./csv/client";
import { startEngine } from "./engine/client";
import type { LockPlatform } from "./storage/edition-lock";
import { openIdbStore } from "./storage/idb-store";
import { createLastEdits } from "./storage/last-edits";
import { goTo } from "./ui/edition/go-to";
import { App } from "./ui/shell/app";
import { watchForInstall } from "./ui/shell/install";
import { guardMarkup } from "./ui/shell/trusted";
import { noUpdate, watchForUpdates } from "./ui/shell/update";

/** 128 random bits; `randomUUID` is missing on pages without a secure address. */
function freshId(): string {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** How long the engine may be at one formula: it is then stopped, and the formula is looked for. */
const FORMULA_MS = 10_000;

const timers = {
  setTimer: (run: () => void, ms: number) => window.setTimeout(run, ms),
  clearTimer: (timer: number) => window.clearTimeout(timer),
};

/** A page of this browser, and how it knows others of the same kind. */
async function lockPlatformHere(): Promise<LockPlatform> {
  // A page that is shut off from the browser's storage has locks to look at, but none to be had.
  const hasLocks = await navigator.locks?.query().then(
    () => true,
    () => false,
  );
  return {
    tab: freshId(),
    locks: hasLocks ? navigator.locks : undefined,
    openChannel(name) {
      try {
        return new BroadcastChannel(name);
      } catch {
        // Absent in old browsers, and denied along with storage by some.
        return undefined;
      }
    },
    wait: (ms) => new Promise((done) => setTimeout(done, ms)),
  };
}

async function main(): Promise<void> {
  guardMarkup();
  const root = document.querySelector<HTMLElement>("#app");
  if (!root) throw new Error("the page has no place for the app");
  let studio: Studio | undefined;
  const onClosed = (problem: Problem) => studio?.homeClosed(problem);
  // The browser is still busy clearing at that moment.
  const onDropped = () => void setTimeout(() => void studio?.wake(), 1000);
  const openHome = (): Promise<Result<Home>> => openIdbStore("saggar", { onClosed, onDropped });
  const [opened, lockPlatform] = await Promise.all([openHome(), lockPlatformHere()]);
  studio = new Studio({
    home: opened.ok ? opened.value : (await import("./storage/memory-store")).createMemoryStore(),
    refused: opened.ok ? [] : opened.problems,
    openHome,
    lastEdits: createLastEdits(() => localStorage),
    lockPlatform,
    storage: navigator.storage,
    // WebKit's rule; a page on the home screen is spared.
    clearsUnvisited: navigator.vendor.startsWith("Apple") && !matchMedia("(display-mode: standalone)").matches,
    startEngine: (patience = FORMULA_MS) => startEngine({ ...timers, patience }),
    startCalculator: async () => (await import("./whatif/run/calculator-client")).startCalculator(),
    startCsv,
    print: () => window.print(),
    locale: usableLocale(navigator.languages),
    now: () => new Date(),
    freshId,
    breathe: () => new Promise((done) => window.setTimeout(done)),
    ...timers,
  });
  const demo = async () => (await import("./app/demo/demo")).demoEdition();
  // The demo opens on a lantern that was refired alone: the card then tells what that cost it.
  const showFirst = (session: Session) =>
    goTo(session, { sheet: "pieces", row: "p17", column: "refire.cost" }, "reveal");
  const openDemo = async () => void (await studio.openNew(await demo(), showFirst));
  const update = noUpdate();
  root.replaceChildren();
  render(h(App, { studio, update, openDemo: () => void openDemo() }), root);
  watchForInstall();
  watchLeaving(studio);
  watchParts(studio);
  await studio.start(demo, showFirst).catch((error: unknown) => studio.notStarted(error));
  if (import.meta.env.PROD && !import.meta.env.VITE_SINGLE && location.protocol.startsWith("http"))
    void watchForUpdates("./service-worker.js", update);
}

function watchLeaving(studio: Studio): void {
  // Hidden is the last state a page is sure to hear of.
  document.addEventListener("visibilitychange", () => {
    void (document.visibilityState === "hidden" ? studio.flush() : studio.wake());
  });
  window.addEventListener("pagehide", () => void studio.flush());
  // Only while something is not saved: a warning that always comes is one that nobody reads.
  window.addEventListener("beforeunload", (event) => {
    if (!studio.isAtRisk) return;
    void studio.flush();
    event.preventDefault();
  });
}

/** A press whose part of the program can't be fetched is answered with a word, not with nothing. */
function watchParts(studio: Studio): void {
  window.addEventListener("unhandledrejection", (event) => {
    if (!isPartMissing(event.reason)) return;
    event.preventDefault();
    studio.session.value?.notify("failed", PART_MISSING);
  });
}

// boot.js says why.
if (!("tooOld" in document.documentElement.dataset)) void main();
