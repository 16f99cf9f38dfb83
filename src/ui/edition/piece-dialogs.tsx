// What is done to chosen pieces: into a firing, lost here, passed as; and more pieces.

import { useState } from "preact/hooks";
import { addMorePieces } from "../../app/commands/row-commands";
import type { Session } from "../../app/edition/session";
import { nextStep } from "../../app/edition/view";
import { type Asked, lossReasons, planAsked, recordPieces } from "../../app/record/record";
import { counted } from "../../core/counted";
import { rowLabel, rowOf } from "../../core/document/access";
import type { Row } from "../../core/document/workbook";
import { namePieces } from "../../core/record/choose-pieces";
import { nextFiringName } from "../../core/record/piece-edits";
import { DateInput } from "../controls/date-input";
import { Actions, Dialog, Field } from "../controls/dialog";
import { TextField } from "../controls/fields";
import { KilnOptions, StepOptions } from "../controls/options";
import { PlanWords } from "../record/plan-words";
import { closeDialog } from "../shell/open-dialog";
import { chosenPieces } from "./chosen";

/** The chosen pieces as they were when the dialog opened. */
function useChosen(session: Session): readonly string[] {
  const [ids] = useState(() => {
    const chosen = chosenPieces(session);
    return chosen.ok ? chosen.value : [];
  });
  return ids;
}

function finish(session: Session, done: boolean): void {
  if (!done) return;
  session.chosen.value = "";
  closeDialog();
}

/** The step most of the pieces are to have next, among those that fit. */
function likelyStep(session: Session, ids: readonly string[], fits: (step: Row) => boolean): string {
  const book = session.book.value;
  const votes = new Map<string, number>();
  for (const id of ids) {
    const row = rowOf(book, "pieces", id);
    const step = row && nextStep(book, row, (_, column) => session.value({ sheet: "pieces", row: id, column }));
    if (step !== undefined) votes.set(step, (votes.get(step) ?? 0) + 1);
  }
  const steps = book.sheets.route.rows.filter(fits);
  const best = [...votes].sort((a, b) => b[1] - a[1]).find(([id]) => steps.some((step) => step.id === id));
  return best?.[0] ?? steps[0]?.id ?? "";
}

const isFiring = (step: Row) => step.cells.kind === "firing";

export function FiringDialog({ session }: { readonly session: Session }) {
  const ids = useChosen(session);
  const book = session.book.value;
  const steps = book.sheets.route.rows.filter(isFiring);
  const [step, setStep] = useState(() => likelyStep(session, ids, isFiring));
  const kilnOfStep = (id: string) =>
    String(rowOf(book, "route", id)?.cells.kiln ?? book.sheets.kilns.rows[0]?.cells.id ?? "");
  const [firing, setFiring] = useState("");
  const [name, setName] = useState(() => nextFiringName(book));
  const [kiln, setKiln] = useState(() => kilnOfStep(step));
  const [date, setDate] = useState(() => session.today());
  const asked: Asked = {
    kind: "firing",
    step,
    firing: firing === "" ? { kind: "new", name, kiln, date } : { kind: "there", name: firing },
  };
  return (
    <Dialog title="Into a firing" onClose={closeDialog}>
      <p class="quiet">
        {counted(ids.length, "piece")}: {namePieces(book, ids)}
      </p>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          finish(session, recordPieces(session, ids, asked));
        }}
      >
        <Field label="For which step?">
          <select
            name="step"
            value={step}
            onChange={(event) => {
              setStep(event.currentTarget.value);
              setKiln(kilnOfStep(event.currentTarget.value));
            }}
          >
            <StepOptions steps={steps} />
          </select>
        </Field>
        <Field label="Into which firing?">
          <select name="firing" value={firing} onChange={(event) => setFiring(event.currentTarget.value)}>
            <option value="">A new one</option>
            {book.sheets.firings.rows.map((row) => (
              <option key={row.id} value={String(row.cells.id)}>
                {rowLabel("firings", row)} · {String(row.cells.kiln)} {String(row.cells.date ?? "")}
              </option>
            ))}
          </select>
        </Field>
        {firing === "" ? (
          <div class="row">
            <TextField label="Its name" name="name" required maxLength={40} value={name} onText={setName} />
            <Field label="Kiln">
              <select name="kiln" value={kiln} onChange={(event) => setKiln(event.currentTarget.value)}>
                <KilnOptions book={book} />
              </select>
            </Field>
            <Field label="Date">
              <DateInput name="date" value={date} onInput={(event) => setDate(event.currentTarget.value)} />
            </Field>
          </div>
        ) : null}
        <PlanWords session={session} plan={planAsked(session, ids, asked)} />
        <Actions act="Put them in" onClose={closeDialog} disabled={step === ""} />
      </form>
    </Dialog>
  );
}

export function LostDialog({ session }: { readonly session: Session }) {
  const ids = useChosen(session);
  const book = session.book.value;
  const [step, setStep] = useState(() => likelyStep(session, ids, () => true));
  const [reason, setReason] = useState("");
  const asked: Asked = step === "" ? { kind: "not lost" } : { kind: "lost", step, reason };
  return (
    <Dialog title="Lost here" onClose={closeDialog}>
      <p class="quiet">
        {counted(ids.length, "piece")}: {namePieces(book, ids)}. A lost piece carries its cost through the step it was
        lost at, and nothing after.
      </p>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          finish(session, recordPieces(session, ids, asked));
        }}
      >
        <Field label="At which step?">
          <select name="step" value={step} onChange={(event) => setStep(event.currentTarget.value)}>
            <StepOptions steps={book.sheets.route.rows} />
            <option value="">Not lost after all</option>
          </select>
        </Field>
        <Field label="Why?" hint="In your own words; the ones on your list are offered.">
          <input
            name="reason"
            list="reasons"
            maxLength={200}
            value={reason}
            onInput={(event) => setReason(event.currentTarget.value)}
          />
          <datalist id="reasons">
            {lossReasons(book).map((text) => (
              <option key={text} value={text} />
            ))}
          </datalist>
        </Field>
        <PlanWords session={session} plan={planAsked(session, ids, asked)} />
        <Actions act={step === "" ? "Not lost" : "Lost here"} onClose={closeDialog} />
      </form>
    </Dialog>
  );
}

export function PassedDialog({ session }: { readonly session: Session }) {
  const ids = useChosen(session);
  const pass = (grade: "good" | "second" | undefined) =>
    finish(session, recordPieces(session, ids, { kind: "passed", grade }));
  return (
    <Dialog title="Passed as" onClose={closeDialog}>
      <p class="quiet">
        {counted(ids.length, "piece")}: {namePieces(session.book.value, ids)}
      </p>
      <div class="actions" style={{ justifyContent: "flex-start" }}>
        <button type="button" class="act" onClick={() => pass("good")}>
          Good
        </button>
        <button type="button" onClick={() => pass("second")}>
          Second
        </button>
        <button type="button" onClick={() => pass(undefined)}>
          Not passed yet
        </button>
        <button type="button" onClick={closeDialog}>
          Close
        </button>
      </div>
    </Dialog>
  );
}

export function PiecesDialog({ session }: { readonly session: Session }) {
  const there = session.book.value.sheets.pieces.rows.length;
  const starts = session.result("starts", "edition");
  const short = typeof starts === "number" ? Math.max(0, starts - there) : 0;
  const [count, setCount] = useState(String(short || 1));
  return (
    <Dialog title="Add pieces" onClose={closeDialog}>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          finish(session, addMorePieces(session, Number(count)));
        }}
      >
        <TextField
          label="How many?"
          hint={`${typeof starts === "number" ? `The plan starts ${starts}, and ${there} are here${short > 0 ? `: ${short} more` : ""}. ` : ""}They are numbered on from the last piece.`}
          name="count"
          inputMode="numeric"
          required
          value={count}
          onText={setCount}
        />
        <Actions act="Add them" onClose={closeDialog} />
      </form>
    </Dialog>
  );
}
