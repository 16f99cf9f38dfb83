// The bench: wet hands, two minutes, forty pieces. Choose pieces, do one thing to all, read what will happen, record it.
import "../shell/pages.css";
import "./record.css";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import { endTimer } from "../../app/keeping/bench-timer";
import type { Studio } from "../../app/keeping/studio";
import { waitingGroups } from "../../app/record/record";
import { piecesAsText } from "../../core/record/choose-pieces";
import { isAmount } from "../../core/sheets/step-kinds";
import { PageWords } from "../controls/page-words";
import { namedInBox, recordWishOf } from "../edition/chosen";
import { SharedNotice } from "../shelf/shared-firings";
import { newFiringWish } from "./firing-field";
import { RecordFields } from "./record-fields";
import { RecordFoot } from "./record-foot";
import { ACTS, askedOf, type BenchForm, BLANK_FORM, likelyStep, needsFiring } from "./record-form";
import { RecordPieces } from "./record-pieces";
import { TimerStart } from "./timer-start";
import { useRecording } from "./use-recording";

/** What stands in a field is typed over at once; piece numbers are typed on. */
function selectContent({ target }: FocusEvent): void {
  if (target instanceof HTMLInputElement && target.id !== "choose-pieces") target.select();
}

/** The page “Record”. */
export function RecordPage({ session, studio }: { readonly session: Session; readonly studio: Studio }) {
  session.valuesVersion.value;
  const book = session.book.value;
  const [typed, setForm] = useState<BenchForm>(BLANK_FORM);
  const [last, setLast] = useState<readonly string[]>([]);
  const wish = recordWishOf(session);
  useEffect(() => {
    if (wish.value) setForm({ ...BLANK_FORM, ...wish.value });
    wish.value = undefined;
  }, [wish.value]);
  const page = useRef<HTMLElement>(null);
  const named = namedInBox(session);
  const chosen = named?.ok ? named.value : [];
  const groups = waitingGroups(session);
  const step = typed.step === "" ? likelyStep(book, typed.act, chosen, groups) : typed.step;
  const form = needsFiring(book, typed, step)
    ? { ...typed, firings: { ...typed.firings, [step]: newFiringWish(session, step) } }
    : typed;
  const asked = askedOf(session, form, step);
  const recording = useRecording(session, chosen, asked, () => {
    setLast(chosen);
    if (form.isTimed) void endTimer(studio);
    setForm({ ...BLANK_FORM, act: form.act });
    // The next thing to do is to choose again, at the top.
    page.current?.focus({ preventScroll: true });
  });
  return (
    <article
      class="bench"
      id="sheet"
      tabIndex={-1}
      aria-label="Record"
      data-testid="record"
      ref={page}
      onFocusIn={selectContent}
    >
      <h2>Record</h2>
      <PageWords page="record" />
      <div class="bench-columns">
        <div>
          <RecordPieces
            session={session}
            groups={groups}
            named={named}
            none="No piece is waiting for anything. Lost and passed pieces can be chosen by number."
          />
          {last.length > 0 && !named ? (
            <button
              type="button"
              onClick={() => {
                session.chosen.value = piecesAsText(book, last);
              }}
            >
              The same {last.length} again
            </button>
          ) : null}
        </div>
        <section class="what" aria-labelledby="what-was-done">
          <h3 id="what-was-done">What was done?</h3>
          <fieldset class="each" aria-labelledby="what-was-done">
            {ACTS.map(([act, title]) => (
              <button
                type="button"
                key={act}
                aria-pressed={form.act === act}
                onClick={() => setForm({ ...BLANK_FORM, act })}
              >
                {title}
              </button>
            ))}
          </fieldset>
          <RecordFields
            session={session}
            form={form}
            step={step}
            chosen={chosen}
            change={(to) => setForm({ ...form, ...to })}
          />
          {step in form.firings ? <SharedNotice session={session} studio={studio} /> : null}
          {isAmount(form.act) || form.act === "done" ? (
            <TimerStart studio={studio} session={session} step={step} chosen={chosen} />
          ) : null}
        </section>
      </div>
      <RecordFoot session={session} recording={recording} />
    </article>
  );
}
