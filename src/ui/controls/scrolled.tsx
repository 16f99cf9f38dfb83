import type { ComponentChildren } from "preact";

interface Props {
  readonly label: string;
  readonly class?: string;
  readonly children: ComponentChildren;
}

/** What may be larger than its place, such as a wide table on a phone: it is reached and scrolled by keyboard too. */
export function Scrolled({ label, class: name = "scroll", children }: Props) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls has to be reached by keyboard
    <section class={name} tabIndex={0} aria-label={label}>
      {children}
    </section>
  );
}
