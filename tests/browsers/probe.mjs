/**
 * @typedef {object} Walk What the probe keeps, as `walk` of the window.
 * @property {string[]} said Errors, warnings and what the policy forbade.
 * @property {{ name: string, text: string }} [saved] What was saved as a file last.
 * @property {{ name: string, type: string, text: string }} [give] What who asks for a file is given.
 */

/** Runs in the page before anything else; its text is what is served. Files come and go as where there is no file dialog. */
export function probe() {
  /** @type {Walk} */
  const walk = { said: [] };
  Object.assign(window, { walk });
  /** @param {string} kind @param {unknown} text */
  const say = (kind, text) => walk.said.push(`${kind}: ${String(text).slice(0, 400)}`);
  addEventListener(
    "error",
    ({ message, filename, lineno, target }) =>
      say("error", message ? `${message} ${filename}:${lineno}` : target instanceof Element ? target.outerHTML : ""),
    true,
  );
  addEventListener("unhandledrejection", ({ reason }) => say("rejection", reason?.stack ?? reason));
  document.addEventListener("securitypolicyviolation", (event) =>
    say("policy", `${event.violatedDirective} ${event.blockedURI} ${event.sourceFile}:${event.lineNumber}`),
  );
  for (const kind of /** @type {const} */ (["error", "warn"])) {
    const was = console[kind];
    console[kind] = (/** @type {any[]} */ ...words) => {
      say(kind, words.map((word) => word?.stack ?? word).join(" "));
      was.apply(console, words);
    };
  }
  for (const name of ["showOpenFilePicker", "showSaveFilePicker"]) Reflect.deleteProperty(window, name);
  /** @type {Map<string, Blob>} */
  const blobs = new Map();
  const urlOf = URL.createObjectURL;
  URL.createObjectURL = (/** @type {Blob} */ blob) => {
    const url = urlOf.call(URL, blob);
    blobs.set(url, blob);
    return url;
  };
  const follow = HTMLAnchorElement.prototype.click;
  HTMLAnchorElement.prototype.click = function () {
    if (!this.download) return follow.call(this);
    void blobs
      .get(this.href)
      ?.text()
      .then((text) => {
        walk.saved = { name: this.download, text };
      });
  };
  const press = HTMLInputElement.prototype.click;
  /** @this {HTMLInputElement} */
  function choose() {
    if (this.type !== "file" || !walk.give) return press.call(this);
    const files = new DataTransfer();
    files.items.add(new File([walk.give.text], walk.give.name, { type: walk.give.type }));
    this.files = files.files;
    this.dispatchEvent(new Event("change", { bubbles: true }));
  }
  HTMLInputElement.prototype.click = choose;
  HTMLInputElement.prototype.showPicker = choose;
}
