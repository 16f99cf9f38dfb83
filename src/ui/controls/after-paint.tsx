// What takes a while to calculate on the page is said before it begins: the page is shown at once, and its numbers after that.
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";

/** Makes its children once the page without them has been painted. */
export function AfterPaint({ children }: { readonly children: () => ComponentChildren }) {
  const [isPainted, setPainted] = useState(false);
  useEffect(() => {
    // The first frame is drawn after its callbacks, so that the second begins with it on the screen.
    let frame = requestAnimationFrame(() => {
      frame = requestAnimationFrame(() => setPainted(true));
    });
    return () => cancelAnimationFrame(frame);
  }, []);
  return isPainted ? children() : <p role="status">Calculating…</p>;
}
