// Papers on the screen and on the printer are the same elements. On the screen a long paper shows its beginning; while the
// browser prints, all of it is there.
import { type ComponentChild, render } from "preact";
import { useEffect, useLayoutEffect, useRef } from "preact/hooks";

/** How much of a paper is drawn. */
export type PrintedPart = "beginning" | "whole";

/** Shows what `draw` gives; it is asked for the whole when the browser is about to print. */
export function Printed({ draw }: { readonly draw: (part: PrintedPart) => ComponentChild }) {
  const host = useRef<HTMLDivElement>(null);
  const latest = useRef(draw);
  latest.current = draw;
  // A root of its own is drawn at once; the browser takes the page as it is when `beforeprint` returns.
  const show = (part: PrintedPart) => {
    const { current } = host;
    if (!current) return;
    render(latest.current(part), current);
    // For the style sheet, which numbers the papers.
    current.style.setProperty("--papers", `"${current.querySelectorAll(".leaf").length}"`);
  };
  useLayoutEffect(() => show("beginning"), [draw]);
  useEffect(() => {
    const onBefore = () => show("whole");
    const onAfter = () => show("beginning");
    window.addEventListener("beforeprint", onBefore);
    window.addEventListener("afterprint", onAfter);
    const drawn = host.current;
    return () => {
      window.removeEventListener("beforeprint", onBefore);
      window.removeEventListener("afterprint", onAfter);
      if (drawn) render(null, drawn);
    };
  }, []);
  return <div class="leaves" ref={host} />;
}
