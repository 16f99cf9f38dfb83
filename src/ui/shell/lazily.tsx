// Parts of the page whose code is fetched when they are first shown.
import type { ComponentType, JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { PART_MISSING } from "../../app/keeping/parts";

/** What there is of a part: its code, nothing yet, or the news that it can't be had. */
type Found<Props> = { readonly part: ComponentType<Props> } | "absent" | undefined;

/** A component that shows nothing until its code is there, and at once whenever it is shown again. */
export function lazily<Props extends object>(
  load: () => Promise<ComponentType<Props>>,
): (props: Props) => JSX.Element | null {
  let known: Found<Props>;
  return function Lazy(props: Props) {
    const [found, setFound] = useState<Found<Props>>(known);
    useEffect(() => {
      if (found) return;
      load().then(
        (part) => {
          known = { part };
          setFound(known);
        },
        // The server may have been given a newer version meanwhile, or the network is gone.
        () => setFound("absent"),
      );
    }, []);
    if (found === "absent") return <Absent />;
    return found ? <found.part {...props} /> : null;
  };
}

function Absent() {
  return (
    <p class="problem" role="alert">
      {PART_MISSING}
    </p>
  );
}
