// The page's side of working without a network: the service worker keeps a copy of the program, and a newer one waits
// until the maker says so. Nothing is ever loaded anew under work that is not saved.
import { type Signal, signal } from "@preact/signals";
import type { Studio } from "./studio";

/** How often to ask whether there is a newer version, at most, while the page stays open. */
const ASK_EVERY_MS = 3_600_000;

export interface Update {
  readonly ready: Signal<"no" | "yes" | "in use elsewhere">;
  /** The worker that waits, once there is one. */
  waiting: ServiceWorker | undefined;
}

/** No update, as where there is no service worker. */
export function noUpdate(): Update {
  return { ready: signal("no"), waiting: undefined };
}

/** Registers the worker at `url` and watches for newer ones; resolves to nothing where the browser has none. */
export async function watchForUpdates(url: string, update: Update): Promise<void> {
  const container: ServiceWorkerContainer | undefined = navigator.serviceWorker;
  if (!container) return;
  const hadOne = container.controller !== null;
  const registration = await container.register(url, { scope: "./" }).catch(() => undefined);
  if (!registration) return;
  const offer = (worker: ServiceWorker | null) => {
    // The first worker of all takes over at once and replaces nothing.
    if (worker?.state !== "installed" || !container.controller) return;
    update.waiting = worker;
    update.ready.value = "yes";
  };
  offer(registration.waiting);
  registration.addEventListener("updatefound", () => {
    const worker = registration.installing;
    worker?.addEventListener("statechange", () => offer(worker));
  });
  container.addEventListener("controllerchange", () => {
    if (!hadOne) return;
    update.waiting = undefined;
    update.ready.value = "in use elsewhere";
  });
  let asked = performance.now();
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState !== "visible" || performance.now() - asked < ASK_EVERY_MS) return;
    asked = performance.now();
    registration.update().catch(() => undefined);
  });
}

/** Goes over to the newer version once everything is saved; says so where it is not. */
export async function useUpdate(studio: Studio, update: Update): Promise<void> {
  await studio.flush();
  if (studio.isAtRisk) {
    studio.session.value?.tell(
      "refused",
      "The edition is not saved, so the page was not loaded anew. Save it as a file first, or wait until it is saved.",
    );
    return;
  }
  const { waiting } = update;
  if (!waiting) return location.reload();
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  waiting.postMessage("use now");
}
