// The papers for the accountant: a period, a reference, and a zip that adds up or is not made.
import { useState } from "preact/hooks";
import { CSV_FORMS, type CsvForm, save } from "../../app/csv/csv-export";
import type { Session } from "../../app/edition/session";
import { goesOn } from "../../app/settle/dated-books";
import { giveOut, makePack } from "../../app/settle/give-out";
import { ok, type Problem } from "../../core/problem";
import { fileNameFor, ZIP_FILE } from "../../storage/files";
import { DateInput } from "../controls/date-input";
import { Actions, Dialog, Field } from "../controls/dialog";
import { TextField } from "../controls/fields";
import { closeDialog } from "../shell/open-dialog";
import { periodInView, periodWishOf } from "./books-now";

/** Asks for the period and makes the pack, or says what stands in its way. */
export function PackDialog({ session }: { readonly session: Session }) {
  const book = session.book.value;
  const inView = periodInView(session);
  const [from, setFrom] = useState(inView.from);
  const [to, setTo] = useState(inView.to);
  const [reference, setReference] = useState(inView.reference);
  const [isGiven, setGiven] = useState(false);
  const [form, setForm] = useState<CsvForm>("standard");
  const [hasMark, setHasMark] = useState(false);
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const make = async () => {
    const { delimiter, decimal } = CSV_FORMS[form];
    const asked = { from, to, reference, isDetailed: inView.isDetailed };
    const made = makePack(session, asked, { delimiter, decimal, hasMark });
    setProblems(made.ok ? [] : made.problems);
    if (!made.ok) return;
    const name = `${book.meta.title} ${from} to ${to} for the accountant`;
    const isSaved = await save(session, fileNameFor(name, ".zip"), made.value.bytes, ZIP_FILE);
    // What nobody has is not given out.
    const given = isSaved && isGiven && goesOn(book, from) ? giveOut(session, made.value) : ok(undefined);
    if (!given.ok) setProblems(given.problems);
    if (!isSaved || !given.ok) return;
    periodWishOf(session).value = { isDetailed: inView.isDetailed };
    closeDialog();
  };
  return (
    <Dialog title="For the accountant" onClose={closeDialog}>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void make();
        }}
      >
        <p class="quiet">
          What moved in the period, in one zip: journal, trial balance, stock, cost statement, losses, sales, firings,
          hours, the trail of every posting, the checks, and the rules in words. Postings are{" "}
          {inView.isDetailed ? "made day by day" : "rolled up and dated on the last day"}.
        </p>
        <div class="row">
          <Field label="First day">
            <DateInput required value={from} onInput={({ currentTarget }) => setFrom(currentTarget.value)} />
          </Field>
          <Field label="Last day">
            <DateInput required value={to} onInput={({ currentTarget }) => setTo(currentTarget.value)} />
          </Field>
          <TextField label="References begin with" required maxLength={60} value={reference} onText={setReference} />
        </div>
        <Field label="Form">
          <select name="form" value={form} onChange={({ currentTarget }) => setForm(currentTarget.value as CsvForm)}>
            {Object.entries(CSV_FORMS).map(([id, { title }]) => (
              <option key={id} value={id}>
                {title}
              </option>
            ))}
          </select>
        </Field>
        <p>
          <label>
            <input
              type="checkbox"
              checked={hasMark}
              onChange={({ currentTarget }) => setHasMark(currentTarget.checked)}
            />{" "}
            Begin the tables with a byte-order mark, by which some programs know UTF-8
          </label>
        </p>
        <p>
          <label>
            <input
              type="checkbox"
              checked={isGiven && goesOn(book, from)}
              disabled={!goesOn(book, from)}
              onChange={({ currentTarget }) => setGiven(currentTarget.checked)}
            />{" "}
            Give it out: it is listed here, and the next period goes on from it
          </label>
        </p>
        {problems.length > 0 ? (
          <div class="wrong" role="alert">
            <p>No papers were made.</p>
            {problems.slice(0, 6).map((problem) => (
              <p key={problem.message}>{problem.message}</p>
            ))}
          </div>
        ) : null}
        <Actions act="Save as a zip…" onClose={closeDialog} />
      </form>
    </Dialog>
  );
}
