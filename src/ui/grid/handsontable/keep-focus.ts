// The library moves the keyboard to its cell after it has drawn, some of it later than it decides to. Whoever is typing
// elsewhere on the page by then must not lose the keyboard: a focus that nobody asked for is given back.

/** How long after a key or a pointer the focus may still arrive in the grid. */
const ASKED_FOR_MS = 1000;

/** Watches over the focus of a host. */
export interface FocusGuard {
  /** The keyboard was asked for: what comes next is right. */
  ask(): void;
  stop(): void;
}

/** Gives back every focus of the host that no pointer, no Tab and no call asked for. */
export function guardFocus(host: HTMLElement): FocusGuard {
  const stopping = new AbortController();
  const { signal } = stopping;
  let askedAt = Number.NEGATIVE_INFINITY;
  const ask = () => {
    askedAt = performance.now();
  };
  host.addEventListener("pointerdown", ask, { capture: true, signal });
  document.addEventListener("keydown", (event) => event.key === "Tab" && ask(), { capture: true, signal });
  host.addEventListener(
    "focusin",
    (event) => {
      const before = event.relatedTarget;
      if (performance.now() - askedAt < ASKED_FOR_MS) return;
      if (!(before instanceof HTMLElement) || host.contains(before) || !before.isConnected) return;
      before.focus();
    },
    { signal },
  );
  return { ask, stop: () => stopping.abort() };
}
