// Papers on the screen and on the printer are the same elements. On the screen a long paper shows its beginning; while the
// browser prints, all of it is there.
import { type ComponentChild, render } from "preact";
import { useEffect, useLayoutEffect, useRef } from "preact/hooks";

/** Shows what `draw` gives; it is asked for the whole when the browser is about to print. */
export function Printed({ draw }: { readonly draw: (isWhole: boolean) => ComponentChild }) {
  const host = useRef<HTMLDivElement>(null);
  const latest = useRef(draw);
  latest.current = draw;
  // A root of its own is drawn at once; the browser takes the page as it is when `beforeprint` returns.
  const show = (isWhole: boolean) => {
    const { current } = host;
    if (!current) return;
    render(latest.current(isWhole), current);
    // For the style sheet, which numbers the papers.
    current.style.setProperty("--papers", `"${current.querySelectorAll(".leaf").length}"`);
  };
  useLayoutEffect(() => show(false), [draw]);
  useEffect(() => {
    const onBefore = () => show(true);
    const onAfter = () => show(false);
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
