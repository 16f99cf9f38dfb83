// Firings that editions kept here share: “is this the same load?”, answered by one press, and whose parts make a whole.
import "./shared-firings.css";
import { useEffect } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import { dayText } from "../../app/edition/written-days";
import type { Studio } from "../../app/keeping/studio";
import {
  heldText,
  partText,
  readShared,
  type SharedFiring,
  sharedFirings,
  takeAsAlone,
  takeAsSame,
} from "../../app/shelf/shared-firings";
import { listed } from "../../core/counted";
import { heldByOthers, type LoadSide } from "../../core/record/shared-load";
import { CloseActions, Dialog } from "../controls/dialog";
import { closeDialog } from "../shell/open-dialog";

interface Props {
  readonly session: Session;
  readonly studio: Studio;
}

/** The dialog: every firing that is shared or may be. */
export function SharedDialog({ session, studio }: Props) {
  useEffect(() => void readShared(studio, session), [session]);
  const found = sharedFirings(studio, session);
  return (
    <Dialog title="One kiln, several editions" onClose={closeDialog} isWide>
      <p class="quiet">
        Firings of the same kiln on the same day in other editions kept here. What they hold is counted in this
        edition’s own document, so that it gives the same numbers alone; each edition bears its part.
      </p>
      {found === undefined ? <p role="status">Looking…</p> : null}
      {found?.length === 0 ? (
        <p data-testid="none-shared">
          No other edition kept here has a firing of the same kiln on the same day. Ware that belongs to no edition is
          entered under “other ware” on Firings.
        </p>
      ) : null}
      {found?.map((one) => (
        <Firing key={one.side.row} session={session} one={one} />
      ))}
      <CloseActions onClose={closeDialog} />
    </Dialog>
  );
}

/** Beside what is recorded: only the questions not answered yet, and firings whose parts make no whole. */
export function SharedNotice({ session, studio }: Props) {
  const shared = sharedFirings(studio, session);
  // The other editions are read once; the dialog reads them anew.
  useEffect(() => {
    if (shared === undefined) void readShared(studio, session);
  }, [session]);
  const found = shared?.filter(({ asked, isStale }) => asked.length > 0 || isStale) ?? [];
  if (found.length === 0) return null;
  return (
    <section class="shared-notice" aria-label="Firings that other editions may share">
      {found.map((one) => (
        <Firing key={one.side.row} session={session} one={one} />
      ))}
    </section>
  );
}

function Firing({ session, one }: { readonly session: Session; readonly one: SharedFiring }) {
  const { side, asked, tied } = one;
  const sum = one.parts.reduce((total, { part }) => total + part, 0);
  return (
    <section class="shared-firing" aria-label={`Firing ${side.name}`} data-testid={`shared-${side.name}`}>
      <h3>
        {side.name}{" "}
        <small>
          {side.kiln}
          {side.day === "" ? "" : `, ${dayText(side.day, session.formats.locale)}`}; {heldText(session, side.own)} here
        </small>
      </h3>
      {asked.map((load) => (
        <Question key={load[0]?.load} session={session} one={one} load={load} />
      ))}
      {tied.length === 0 ? null : (
        <p data-testid="shared-parts">
          {one.parts.map(({ title, part }) => `${title} ${partText(session, part)}`).join(" + ")} ={" "}
          <b>{partText(session, sum)}</b>
          {one.says.length === 0 ? " ✓ Every part is borne once." : ""}
        </p>
      )}
      {one.says.length === 0 ? null : (
        <ul class="says">
          {one.says.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      )}
      {tied.length === 0 && one.says.length === 0 ? null : (
        <div class="row">
          {one.isStale ? (
            <button type="button" class="act" onClick={() => takeAsSame(session, one, tied)}>
              Count {heldText(session, heldByOthers(tied))} of {namesOf(tied)}
            </button>
          ) : null}
          <button type="button" class="plain" onClick={() => takeAsAlone(session, one)}>
            {side.name} holds no other edition
          </button>
        </div>
      )}
    </section>
  );
}

const namesOf = (sides: readonly LoadSide[]) => listed([...new Set(sides.map(({ title }) => title))]);

interface QuestionProps {
  readonly session: Session;
  readonly one: SharedFiring;
  readonly load: readonly LoadSide[];
}

function Question({ session, one, load }: QuestionProps) {
  const { side } = one;
  return (
    <div class="question">
      <p>
        {listed(load.map(({ title, name, own }) => `${title} has firing ${name} with ${heldText(session, own)}`))} in
        that kiln that day. <b>Is this the same load?</b>
      </p>
      <div class="row">
        <button type="button" class="act" onClick={() => takeAsSame(session, one, load)}>
          Yes, count theirs in {side.name}
        </button>
        <button type="button" class="plain" onClick={() => takeAsAlone(session, one)}>
          No, {side.name} was fired without them
        </button>
      </div>
    </div>
  );
}
