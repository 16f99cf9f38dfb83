// Says so where the program can't be loaded, and tries again. By itself in its file, because then nothing else runs; in words
// that old browsers read too.
(() => {
  const TRY_AGAIN_MS = 30000;
  const MEND_WAIT_MS = 20000;
  let isTold = false;

  /** What the program can't do without; all of it came to Safari with 17.4, to Firefox with 125, to Chrome and Edge with 114. */
  const isTooOld = !("showPopover" in HTMLElement.prototype && "checkVisibility" in Element.prototype);
  // The program looks for this, and leaves the page alone.
  if (isTooOld) document.documentElement.dataset.tooOld = "";

  /** A frame without an origin of its own may load this file, but no modules, no workers and no storage. */
  const isShutIn = window.origin === "null" && location.protocol.startsWith("http");

  function tell() {
    const app = document.querySelector("#app");
    if (!app) addEventListener("DOMContentLoaded", tell);
    // Once something is open, the program tells of its troubles itself.
    if (isTold || !app || (app.childElementCount > 0 && !app.querySelector("[data-opening]"))) return;
    isTold = true;
    const text = document.createElement("p");
    const place = document.createElement("div");
    if (isTooOld) {
      text.textContent =
        "This browser is too old for Saggar, which needs Safari or iPadOS 17.4 (March 2024), Firefox 125 (April 2024), Chrome or Edge 114 (June 2023), or a later one. Your editions are not touched.";
      place.append(text);
    } else if (isShutIn) {
      const press = document.createElement("a");
      text.textContent =
        "Saggar is shown inside another page here, which shuts it off from its own files and from the browser's storage. It can't work like that. Open it in a tab of its own:";
      press.textContent = location.href;
      press.href = location.href;
      press.target = "_blank";
      press.rel = "noopener";
      place.append(text, press);
    } else {
      const press = document.createElement("button");
      text.textContent =
        "Saggar could not be loaded: a file of the program is missing or damaged where this page comes from, or this browser can't run it. Your editions are not touched. It is tried again every half minute.";
      press.textContent = "Try again now";
      press.type = "button";
      press.addEventListener("click", () => void again());
      place.append(text, press);
      setTimeout(again, TRY_AGAIN_MS);
    }
    place.setAttribute("role", "alert");
    place.dataset.testid = "not-loaded";
    place.style.cssText = "padding: 24px; font: 15px system-ui, sans-serif; max-width: 40em";
    app.textContent = "";
    app.append(place);
  }

  /** Has what is kept for the time without a network compared and fetched anew, then loads the page again. */
  async function again() {
    try {
      const registration = await navigator.serviceWorker.getRegistration();
      const { waiting, active: keeper } = registration || {};
      if (waiting) waiting.postMessage("use now");
      if (keeper) {
        const { port1, port2 } = new MessageChannel();
        await Promise.race([
          new Promise((done) => {
            port1.onmessage = done;
            keeper.postMessage("mend", [port2]);
          }),
          new Promise((done) => setTimeout(done, MEND_WAIT_MS)),
        ]);
      }
    } catch {
      // Without a service worker there is nothing to mend.
    }
    location.reload();
  }

  addEventListener(
    "error",
    ({ target }) => {
      if (target === window || target instanceof HTMLScriptElement) tell();
    },
    true,
  );
  addEventListener("unhandledrejection", tell);
  if (isTooOld) tell();
})();
