// A part of the shelf that can be printed by itself.
import type { ComponentChildren } from "preact";
import { useRef } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import { dayText } from "../../app/edition/written-days";

interface Props {
  readonly session: Session;
  readonly title: string;
  readonly print: () => void;
  readonly children: ComponentChildren;
}

export function PrintSection({ session, title, print, children }: Props) {
  const section = useRef<HTMLElement>(null);
  const printIt = () => {
    const { current } = section;
    if (!current) return;
    current.dataset.printed = "";
    window.addEventListener("afterprint", () => delete current.dataset.printed, { once: true });
    print();
  };
  return (
    <section aria-label={title} ref={section}>
      <div class="head">
        <h3>{title}</h3>
        <button type="button" onClick={printIt}>
          Print<span class="unseen">: {title}</span>
        </button>
      </div>
      <p class="printed-day">The studio’s shelf, {dayText(session.today(), session.formats.locale)}</p>
      {children}
    </section>
  );
}
