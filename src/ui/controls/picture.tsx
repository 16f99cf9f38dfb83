// A picture drawn into the page: made anew when what it shows changes, with words for those who do not see it.
import { useEffect, useRef } from "preact/hooks";

interface PictureProps {
  readonly label: string;
  /** What the picture depends on; it is drawn anew when one of these changes. */
  readonly of: readonly unknown[];
  readonly draw: (width: number) => Promise<Element>;
}

/** A picture that is as wide as its place. */
export function Picture({ label, of, draw }: PictureProps) {
  const host = useRef<HTMLDivElement>(null);
  useEffect(() => {
    let isStale = false;
    const width = host.current?.clientWidth || 560;
    void draw(width).then((picture) => {
      if (isStale) return;
      // The label says it all; what is within would be read out mark by mark.
      picture.setAttribute("aria-hidden", "true");
      host.current?.replaceChildren(picture);
    });
    return () => {
      isStale = true;
    };
  }, of);
  return <div class="picture" ref={host} role="img" aria-label={label} />;
}
