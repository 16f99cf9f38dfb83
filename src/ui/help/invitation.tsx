// What the invented edition invites to: four things to try, each one press away. Hidden, it stays hidden.
import { useEffect, useState } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import type { Studio } from "../../app/keeping/studio";
import { askWishOf } from "../edition/go-to";
import { showExplained } from "../shell/open-dialog";

interface Props {
  readonly session: Session;
  readonly studio: Studio;
}

/** A line above the invented edition. */
export function Invitation({ session, studio }: Props) {
  const [isShown, setShown] = useState(false);
  const { preferences } = studio.printPlatform;
  useEffect(() => {
    void preferences.get("invitationSeen").then((seen) => setShown(!(seen.ok && seen.value === true)));
  }, []);
  if (!isShown) return null;
  const putAway = () => {
    setShown(false);
    void preferences.set("invitationSeen", true);
  };
  const open = (page: NonNullable<Session["page"]["value"]>) => {
    session.selection.value = undefined;
    session.page.value = page;
  };
  return (
    <section class="invitation" aria-label="To try">
      <span class="quiet">Try:</span>
      <button
        type="button"
        onClick={() => {
          askWishOf(session).value = "losses";
          open("whatif");
        }}
      >
        Change the scrap rate and watch
      </button>
      <button
        type="button"
        onClick={() => showExplained(session, { sheet: "results", row: "per_good", column: "value" })}
      >
        Where a cost comes from
      </button>
      <button type="button" onClick={() => open("record")}>
        Record forty pieces
      </button>
      <button type="button" onClick={() => open("calendar")}>
        When is it ready?
      </button>
      <button type="button" class="quiet" onClick={putAway}>
        Hide these
      </button>
    </section>
  );
}
