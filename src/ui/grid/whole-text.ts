/** Gives a cell or header under the pointer its whole text as a tooltip where it is too narrow for it. */
export function showWholeText(target: EventTarget | null): void {
  const cell = target instanceof Element ? target.closest<HTMLElement>("td, th") : null;
  if (cell === null || (cell.tagName === "TD" && cell.hasAttribute("aria-label"))) return;
  const box = cell.querySelector(":scope .sheet-head") ?? cell;
  if (box.scrollWidth > box.clientWidth) cell.title = cell.getAttribute("aria-label") ?? cell.textContent ?? "";
  else cell.removeAttribute("title");
}
