// The bench: wet hands, two minutes, forty pieces. Choose pieces, do one thing to all, read what will happen, record it.
import "../shell/pages.css";
import "./record.css";
import { useRef, useState } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import { planAsked, recordPieces, waitingGroups } from "../../app/record/record";
import { choosePieces, piecesAsText } from "../../core/record/choose-pieces";
import { PageWords } from "../controls/page-words";
import { recordWishOf } from "../edition/chosen";
import { newFiringWish } from "./firing-field";
import { PlanWords } from "./plan-words";
import { RecordButton } from "./record-button";
import { RecordFields } from "./record-fields";
import { ACTS, askedOf, type BenchForm, BLANK_FORM, likelyStep, needsFiring } from "./record-form";
import { RecordPieces } from "./record-pieces";

/** What stands in a field is typed over at once; piece numbers are typed on. */
function selectContent({ target }: FocusEvent): void {
  if (target instanceof HTMLInputElement && target.id !== "choose-pieces") target.select();
}

/** The page “Record”. */
export function RecordPage({ session }: { readonly session: Session }) {
  session.valuesVersion.value;
  const book = session.book.value;
  const [typed, setForm] = useState<BenchForm>(() => ({ ...BLANK_FORM, act: recordWishOf(session).peek() ?? "done" }));
  const [last, setLast] = useState<readonly string[]>([]);
  const [agreed, setAgreed] = useState("");
  const page = useRef<HTMLElement>(null);
  const text = session.chosen.value.trim();
  const choice = text === "" ? undefined : choosePieces(book, text);
  const chosen = choice?.ok ? choice.value : [];
  const wrong = choice?.ok === false ? (choice.problems[0]?.message ?? "") : "";
  const groups = waitingGroups(session);
  const step = typed.step === "" ? likelyStep(book, typed.act, chosen, groups) : typed.step;
  const form = needsFiring(book, typed, step)
    ? { ...typed, firings: { ...typed.firings, [step]: newFiringWish(session, step) } }
    : typed;
  const asked = askedOf(session, form, step);
  const plan = asked && chosen.length > 0 ? planAsked(session, chosen, asked) : undefined;
  const key = JSON.stringify([asked, chosen]);
  const record = () => {
    if (!asked || !plan) return;
    if (plan.ok && plan.value.warnings.length > 0 && agreed !== key) setAgreed(key);
    else if (recordPieces(session, chosen, asked)) {
      setLast(chosen);
      setForm({ ...BLANK_FORM, act: form.act });
      session.chosen.value = "";
      // The next thing to do is to choose again, at the top.
      page.current?.focus({ preventScroll: true });
    }
  };
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
            chosen={chosen}
            wrong={wrong}
            none="No piece is waiting for anything. Lost and passed ones can be typed."
          />
          {last.length > 0 && text === "" ? (
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
        </section>
      </div>
      <div class="bench-foot">
        <PlanWords session={session} plan={plan} />
        <RecordButton plan={plan} isAgreed={agreed === key} onRecord={record} />
      </div>
    </article>
  );
}
