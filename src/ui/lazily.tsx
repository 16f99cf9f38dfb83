// Parts of the page whose code is fetched when they are first shown.
import type { ComponentType, JSX } from "preact";
import { useEffect, useState } from "preact/hooks";

/** A component that shows nothing until its code is there, and at once whenever it is shown again. */
export function lazily<Props extends object>(
  load: () => Promise<ComponentType<Props>>,
): (props: Props) => JSX.Element | null {
  let known: ComponentType<Props> | undefined;
  return function Lazy(props: Props) {
    const [Loaded, setLoaded] = useState(() => known);
    useEffect(() => {
      if (Loaded) return;
      void load().then((found) => {
        known = found;
        setLoaded(() => found);
      });
    }, []);
    return Loaded ? <Loaded {...props} /> : null;
  };
}
