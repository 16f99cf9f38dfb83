import { useEffect } from "preact/hooks";
import { undo } from "../../app/commands/commands";
import type { Notice, Session } from "../../app/edition/session";

const DONE_FOR_MS = 6000;
/** A file may hold thousands of faults of one kind. */
const DETAILS_SHOWN = 20;

/** The messages: done things go by themselves, refusals stay until they are put away. */
export function Notices({ session }: { readonly session: Session }) {
  const notices = session.notices.value.slice(-3);
  return (
    <div class="notices" role="log" aria-live="polite" aria-label="Messages">
      {notices.map((notice) => (
        <NoticeBox key={notice.id} notice={notice} session={session} />
      ))}
    </div>
  );
}

function NoticeBox({ notice, session }: { readonly notice: Notice; readonly session: Session }) {
  useEffect(() => {
    if (notice.tone !== "done") return;
    const timer = setTimeout(() => session.dismiss(notice.id), DONE_FOR_MS);
    return () => clearTimeout(timer);
  }, [notice.id]);
  // Only while what it reports is the last step: anything else would take back something else.
  const canUndo = notice.of !== undefined && session.history.value.done.at(-1) === notice.of;
  return (
    <div class={`notice ${notice.tone}`} data-testid={`notice-${notice.tone}`}>
      <div>
        {notice.text}
        {notice.details.length > 0 ? (
          <ul>
            {notice.details.slice(0, DETAILS_SHOWN).map((detail) => (
              <li key={detail}>{detail}</li>
            ))}
            {notice.details.length > DETAILS_SHOWN ? <li>and {notice.details.length - DETAILS_SHOWN} more</li> : null}
          </ul>
        ) : null}
      </div>
      {canUndo ? (
        <button
          type="button"
          onClick={() => {
            session.dismiss(notice.id);
            undo(session);
          }}
        >
          Undo
        </button>
      ) : null}
      <button type="button" class="plain" aria-label="Put this message away" onClick={() => session.dismiss(notice.id)}>
        Close
      </button>
    </div>
  );
}
