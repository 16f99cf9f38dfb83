// The messages: in a row of their own below the page, so that they cover nothing, and one at a time.
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import { undo } from "../../app/commands/commands";
import type { Notice } from "../../app/edition/notices";
import type { Session } from "../../app/edition/session";
import { withDaysWritten } from "../../app/edition/written-days";
import { cellKeyOf, describeCell } from "../../core/document/access";
import { goTo } from "../edition/go-to";

const DONE_FOR_MS = 6000;
/** A file may hold thousands of faults of one kind. */
const DETAILS_SHOWN = 20;

/** The newest message, and a way to those before it. What was done goes by itself; what was refused stays until it is mended. */
export function Notices({ session }: { readonly session: Session }) {
  const selection = session.selection.value;
  const selected = selection && cellKeyOf({ sheet: selection.sheet, ...selection.anchor });
  // What was refused of the selected cell stands with its field, on the card.
  const notices = session.notices.value.filter(({ about }) => !about || cellKeyOf(about) !== selected);
  const newest = notices.at(-1);
  const [asked, setAsked] = useState<number | undefined>(undefined);
  useEffect(() => setAsked(undefined), [newest?.id]);
  const shown = notices.find(({ id }) => id === asked) ?? newest;
  const before = shown && (notices[notices.indexOf(shown) - 1] ?? newest);
  if (!shown || !before) return null;
  return (
    <NoticeRow key={shown.id} notice={shown} session={session}>
      {notices.length > 1 ? (
        <button type="button" onClick={() => setAsked(before.id)}>
          Next
          <span class="quiet">
            {" "}
            {notices.length - notices.indexOf(shown)} of {notices.length}
          </span>
        </button>
      ) : null}
    </NoticeRow>
  );
}

interface RowProps {
  readonly notice: Notice;
  readonly session: Session;
  readonly children: ComponentChildren;
}

function NoticeRow({ notice, session, children }: RowProps) {
  const { id, tone, text, details, about, of, leads } = notice;
  useEffect(() => {
    if (tone !== "done" || leads) return;
    const timer = setTimeout(() => session.dismiss(id), DONE_FOR_MS);
    return () => clearTimeout(timer);
  }, [id]);
  // Only while what it reports is the last step: anything else would take back something else.
  const canUndo = of !== undefined && session.history.value.done.at(-1) === of;
  // What was refused may show how a day is to be typed.
  const written = (words: string) => (tone === "done" ? withDaysWritten(words, session.formats.locale) : words);
  return (
    <div class={`notice ${tone}`} data-testid={`notice-${tone}`}>
      <div>
        {written(text)}
        {details.length > 0 ? (
          <ul>
            {details.slice(0, DETAILS_SHOWN).map((detail) => (
              <li key={detail}>{written(detail)}</li>
            ))}
            {details.length > DETAILS_SHOWN ? <li>and {details.length - DETAILS_SHOWN} more</li> : null}
          </ul>
        ) : null}
      </div>
      {about ? (
        <button type="button" onClick={() => goTo(session, about)}>
          Back to {describeCell(session.book.value, about)}
        </button>
      ) : null}
      {leads ? (
        <button
          type="button"
          onClick={() => {
            session.dismiss(id);
            leads.go();
          }}
        >
          {leads.title}
        </button>
      ) : null}
      {canUndo ? (
        <button
          type="button"
          onClick={() => {
            session.dismiss(id);
            undo(session);
          }}
        >
          Undo
        </button>
      ) : null}
      {children}
      <button type="button" class="plain" aria-label="Close this message" onClick={() => session.dismiss(id)}>
        Close
      </button>
    </div>
  );
}
