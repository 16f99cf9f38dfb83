// Whether the window is as narrow as a phone, where what stands side by side elsewhere stands one below the other.
import { useEffect, useState } from "preact/hooks";

/** As in `widths.css`. */
const NARROW = "(max-width: 640px)";

/** Whether it is narrow now; the component is drawn anew when that changes. */
export function useNarrow(): boolean {
  const [isNarrow, setNarrow] = useState(() => matchMedia(NARROW).matches);
  useEffect(() => {
    const query = matchMedia(NARROW);
    const update = () => setNarrow(query.matches);
    query.addEventListener("change", update);
    update();
    return () => query.removeEventListener("change", update);
  }, []);
  return isNarrow;
}
