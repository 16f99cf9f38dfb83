// Edits that were set aside when the edition was opened: what, when and how many, to be put back or given up.

import { useState } from "preact/hooks";
import { momentText, withDaysWritten } from "../../app/edition/written-days";
import { applyAside, discardAside } from "../../app/keeping/aside-edits";
import type { KeptEdition } from "../../app/keeping/kept-edition";
import { counted } from "../../core/counted";
import type { AsideEdits } from "../../storage/last-edits";

/** More would push the copies out of sight. */
const LABELS_SHOWN = 5;

/** The list, where there is anything in it; `close` closes the dialog it stands in. */
export function AsideList({ open, close }: { readonly open: KeptEdition; readonly close: () => void }) {
  const aside = open.unsaved.aside.value;
  if (aside.length === 0) return null;
  return (
    <section aria-label="Edits set aside">
      <h3>Edits set aside</h3>
      <p class="quiet">
        Made in a page that was closed before they were saved, and not fitting the edition when it was opened again.
        Putting them back is one step that Undo takes back; what was entered since is never written over.
      </p>
      <ul class="list" data-testid="aside">
        {aside.map((one) => (
          <Aside key={one.id} one={one} open={open} close={close} />
        ))}
      </ul>
    </section>
  );
}

interface AsideProps {
  readonly one: AsideEdits;
  readonly open: KeptEdition;
  readonly close: () => void;
}

function Aside({ one, open, close }: AsideProps) {
  const [asks, setAsks] = useState(false);
  const when = one.at === undefined ? "an earlier visit" : momentText(one.at, open.session.formats.locale);
  const count = counted(one.edits.length, "edit");
  const labels = one.edits.map(({ change }) => withDaysWritten(change.label, open.session.formats.locale));
  const more = labels.length > LABELS_SHOWN ? ` and ${labels.length - LABELS_SHOWN} more` : "";
  return (
    <li>
      <div>
        <b>{count}</b>{" "}
        <span class="quiet">
          set aside {one.at === undefined ? `on ${when}` : when} · {labels.slice(0, LABELS_SHOWN).join(" · ")}
          {more}
        </span>
      </div>
      <button
        type="button"
        onClick={() => {
          close();
          applyAside(open, one);
        }}
      >
        Put back what fits
        <span class="unseen">
          {" "}
          of the {count} set aside {when}
        </span>
      </button>
      {asks ? (
        <button type="button" class="act" onClick={() => discardAside(open, one)}>
          Discard for good
        </button>
      ) : (
        <button type="button" class="plain" onClick={() => setAsks(true)}>
          Discard…
          <span class="unseen">
            {" "}
            the {count} set aside {when}
          </span>
        </button>
      )}
    </li>
  );
}
