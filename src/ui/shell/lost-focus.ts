// A control that was pressed by key may be gone or out of use a moment later. The keyboard then goes to what stands next to
// it, so that it is never nowhere. Whoever works with a pointer is left alone: a field would call up a tablet's keyboard.

const CONTROLS = "button, summary, select, input, textarea, a[href], [tabindex='0']";

/** An element around a control, and which of its children led to it. */
interface Around {
  readonly element: Element;
  readonly at: number;
}

function around(control: Element): readonly Around[] {
  const found: Around[] = [];
  for (let child = control; child.parentElement; child = child.parentElement)
    found.push({ element: child.parentElement, at: [...child.parentElement.children].indexOf(child) });
  return found;
}

function isOfUse(element: Element): element is HTMLElement {
  return (
    element instanceof HTMLElement && element.isConnected && !element.matches(":disabled") && element.checkVisibility()
  );
}

function controlsIn(element: Element): HTMLElement[] {
  return [element, ...element.querySelectorAll(CONTROLS)].filter((one) => one.matches(CONTROLS)).filter(isOfUse);
}

/**
 * The control nearest to where one was, in the same element before further out. What is gone gives way to what follows; what
 * is only out of use, to what comes before, so that a key held down does not press on through a row of buttons.
 */
function nearestControl(around: readonly Around[], isGone: boolean): HTMLElement | undefined {
  for (const { element, at } of around) {
    if (!element.isConnected) continue;
    const children = [...element.children];
    const after = children.slice(at).flatMap(controlsIn)[0];
    const before = children.slice(0, at).flatMap(controlsIn).at(-1);
    const found = isGone ? (after ?? before) : (before ?? after);
    if (found) return found;
  }
  return undefined;
}

/** Watches the keyboard's place in an element until it is stopped. */
export function guardLostFocus(root: Element): () => void {
  const stopping = new AbortController();
  const { signal } = stopping;
  let held: Element | undefined;
  let lastAround: readonly Around[] = [];
  let isByKey = false;
  const onFocus = ({ target }: Event) => {
    if (!(target instanceof Element)) return;
    held = target;
    lastAround = around(target);
  };
  const check = () => {
    const active = document.activeElement;
    if (held === undefined || (active !== null && active !== document.body && active !== held) || isOfUse(held)) return;
    nearestControl(lastAround, !held.isConnected)?.focus();
  };
  const observer = new MutationObserver(() => {
    if (!isByKey || held === undefined) return;
    // Whether it is hidden is asked just before the page is laid out: asked at once, that would be done twice.
    if (held.isConnected && !held.matches(":disabled")) requestAnimationFrame(check);
    else check();
  });
  root.addEventListener("focusin", onFocus, { signal });
  document.addEventListener("keydown", () => (isByKey = true), { capture: true, signal });
  document.addEventListener("pointerdown", () => (isByKey = false), { capture: true, signal });
  observer.observe(root, { childList: true, subtree: true, attributeFilter: ["disabled"] });
  return () => {
    stopping.abort();
    observer.disconnect();
  };
}
