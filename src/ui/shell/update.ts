// The page's side of working without a network: the service worker keeps a copy of the program, and a newer one waits
// until the maker says so. Nothing is ever reloaded under work that is not saved.
import { type Signal, signal } from "@preact/signals";
import type { Studio } from "../../app/keeping/studio";

/** How often to ask whether there is a newer version, at most, while the page stays open. */
const ASK_EVERY_MS = 3_600_000;
/** When to try again after a version could not be fetched whole, as from a host that is being renewed. */
const TRY_AGAIN_MS = 60_000;
/** How long a version has to have waited before it is offered. */
const SETTLE_MS = 1000;
/** How long a host may take to say whether there is a newer version, and to give it. */
const FETCH_WAIT_MS = 15_000;
/** How long a newer version may take to come into use once it is wanted. */
const CHANGE_WAIT_MS = 4000;

export interface Update {
  readonly ready: Signal<"no" | "yes" | "in use elsewhere">;
  /** Where the browser has service workers and let this page have one. */
  registration: ServiceWorkerRegistration | undefined;
}

/** No update, as where there is no service worker. */
export function noUpdate(): Update {
  return { ready: signal("no"), registration: undefined };
}

/** The browser's service workers; some throw at the mere mention, as in a frame that is shut in. */
function serviceWorkers(): ServiceWorkerContainer | undefined {
  try {
    return navigator.serviceWorker;
  } catch {
    return undefined;
  }
}

/** Registers the worker at `url` and watches for newer ones; resolves to nothing where the browser has none. */
export async function watchForUpdates(url: string, update: Update): Promise<void> {
  const container = serviceWorkers();
  if (!container) return;
  const register = () => container.register(url, { scope: "./" }).catch(() => undefined);
  // Asked before anything is registered: some engines say only late, and some early, that a page has a worker.
  let hadOne =
    container.controller !== null || Boolean((await container.getRegistration().catch(() => undefined))?.active);
  container.addEventListener("controllerchange", () => {
    // The first worker of all replaces nothing.
    if (hadOne) update.ready.value = "in use elsewhere";
    hadOne = true;
  });
  const ask = async () => {
    const found = await register();
    if (found && found !== update.registration) {
      update.registration = found;
      watch(found, update, () => window.setTimeout(ask, TRY_AGAIN_MS));
    } else await found?.update().catch(() => undefined);
  };
  await ask();
  let asked = performance.now();
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState !== "visible" || performance.now() - asked < ASK_EVERY_MS) return;
    asked = performance.now();
    void ask();
  });
}

/** Offers every version that waits behind one in use; `failed` hears of one that could not be fetched whole. */
function watch(registration: ServiceWorkerRegistration, update: Update, failed: () => void): void {
  // After a moment: some engines show the first worker of all as one that waits before they show it in use.
  const offer = () =>
    window.setTimeout(() => {
      if (isUpdate(registration)) update.ready.value = "yes";
    }, SETTLE_MS);
  const follow = (worker: ServiceWorker | null) => {
    let wasInstalled = false;
    worker?.addEventListener("statechange", () => {
      if (worker.state === "installed") {
        wasInstalled = true;
        offer();
      } else if (worker.state === "redundant" && !wasInstalled) failed();
    });
  };
  offer();
  follow(registration.installing);
  registration.addEventListener("updatefound", () => follow(registration.installing));
}

/** Whether a version waits for another to go. The first of all waits for nobody. */
export function isUpdate({ active, waiting }: Pick<ServiceWorkerRegistration, "active" | "waiting">): boolean {
  return waiting?.state === "installed" && active !== null && active !== waiting;
}

/** Goes over to the newer version once everything is saved; says so where it is not. */
export async function useUpdate(studio: Studio, update: Update): Promise<void> {
  await studio.flush();
  if (studio.isAtRisk) {
    studio.session.value?.notify(
      "refused",
      "The edition is not saved, so the page was not reloaded. Save it as a file first, or wait until it is saved.",
    );
    return;
  }
  await loadNewest(update);
}

/** Loads the page anew, with the newest version of the program that can be had. */
export async function loadNewest({ registration }: Update): Promise<void> {
  if (registration && !registration.waiting) await within(FETCH_WAIT_MS, fetchNewest(registration));
  const waiting = registration?.waiting;
  if (waiting) {
    const isInUse = new Promise<void>((done) => {
      waiting.addEventListener("statechange", () => waiting.state === "activated" && done());
      serviceWorkers()?.addEventListener("controllerchange", () => done(), { once: true });
    });
    waiting.postMessage("use now");
    await within(CHANGE_WAIT_MS, isInUse);
  }
  location.reload();
}

/** Asks the host for a newer version, and resolves once it waits or could not be had. */
async function fetchNewest(registration: ServiceWorkerRegistration): Promise<void> {
  await registration.update().catch(() => undefined);
  const { installing } = registration;
  if (installing?.state === "installing")
    await new Promise<void>((done) => installing.addEventListener("statechange", () => done(), { once: true }));
}

function within(ms: number, work: Promise<void>): Promise<void> {
  return Promise.race([work, new Promise<void>((done) => window.setTimeout(done, ms))]);
}
