// The only wiring: the world is put into the app, and the app onto the page.
import "./ui/tokens.css";
import "./ui/styles.css";
import { h, render } from "preact";
import { Studio } from "./app/studio";
import { startCsv } from "./csv/client";
import { startEngine } from "./engine/client";
import { openIdbStore } from "./storage/idb-store";
import { createMemoryStore } from "./storage/memory-store";
import { App } from "./ui/app";
import { goTo } from "./ui/go-to";

async function main(): Promise<void> {
  const root = document.querySelector<HTMLElement>("#app");
  if (!root) throw new Error("the page has no place for the app");
  const opened = await openIdbStore("saggar");
  const store = opened.ok ? opened.value : createMemoryStore();
  const studio = new Studio({
    editions: store.editions,
    preferences: store.preferences,
    startEngine,
    startCsv,
    print: () => window.print(),
    locale: navigator.language,
    now: () => new Date(),
    freshId: () => crypto.randomUUID(),
    setTimer: (run, ms) => window.setTimeout(run, ms),
    clearTimer: (timer) => window.clearTimeout(timer),
  });
  const demo = async () => (await import("./app/demo")).demoEdition();
  // The demo opens on a lantern that was refired alone: the card then tells what that cost it.
  const firstLook = () => {
    const session = studio.session.value;
    if (session) goTo(session, { sheet: "pieces", row: "p17", column: "refire.cost" }, "reveal");
  };
  const openDemo = async () => {
    await studio.openNew(await demo());
    firstLook();
  };
  root.replaceChildren();
  render(h(App, { studio, openDemo: () => void openDemo() }), root);
  // Hidden is the last state a page is sure to be told of.
  document.addEventListener("visibilitychange", () => document.visibilityState === "hidden" && void studio.flush());
  window.addEventListener("pagehide", () => void studio.flush());
  let isFirst = false;
  await studio.start(() => {
    isFirst = true;
    return demo();
  });
  if (isFirst) firstLook();
  if (!opened.ok)
    studio.session.value?.refuse(
      opened.problems,
      "Nothing can be kept in this browser. Save the edition as a file before you leave.",
    );
}

void main();
