// The papers for the accountant: a period, a reference, and a zip that adds up or is not made.
import { useState } from "preact/hooks";
import { CSV_FORMS, type CsvForm, save } from "../../app/csv/csv-export";
import type { Session } from "../../app/edition/session";
import { accountantZip } from "../../app/settle/accountant-pack";
import { readerOf } from "../../app/settle/cell-reader";
import { journalHeadOf } from "../../app/settle/settle";
import type { Problem } from "../../core/problem";
import { fileNameFor, ZIP_FILE } from "../../storage/files";
import { DateInput } from "../controls/date-input";
import { Actions, Dialog, Field } from "../controls/dialog";
import { closeDialog } from "../shell/open-dialog";

/** Asks for the period and makes the pack, or says what stands in its way. */
export function PackDialog({ session }: { readonly session: Session }) {
  const book = session.book.value;
  const head = journalHeadOf(book, session.today());
  const [from, setFrom] = useState(book.meta.started);
  const [to, setTo] = useState(head.date);
  const [reference, setReference] = useState(head.reference);
  const [form, setForm] = useState<CsvForm>("standard");
  const [hasMark, setHasMark] = useState(false);
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const make = async () => {
    const { delimiter, decimal } = CSV_FORMS[form];
    const zip = accountantZip(book, readerOf(session), { from, to, reference }, { delimiter, decimal, hasMark });
    setProblems(zip.ok ? [] : zip.problems);
    if (!zip.ok) return;
    await save(session, fileNameFor(`${book.meta.title} for the accountant`, ".zip"), zip.value, ZIP_FILE);
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
          Journal, stock list, cost statement, losses, metal and materials, and the rules in words, in one zip. Amounts
          are rounded once, and everything adds up to Results. Every entry is dated on the last day.
        </p>
        <div class="row">
          <Field label="First day">
            <DateInput required value={from} onInput={({ currentTarget }) => setFrom(currentTarget.value)} />
          </Field>
          <Field label="Last day">
            <DateInput required value={to} onInput={({ currentTarget }) => setTo(currentTarget.value)} />
          </Field>
          <Field label="References begin with">
            <input
              required
              maxLength={60}
              value={reference}
              onInput={({ currentTarget }) => setReference(currentTarget.value)}
            />
          </Field>
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
        <label>
          <input
            type="checkbox"
            checked={hasMark}
            onChange={({ currentTarget }) => setHasMark(currentTarget.checked)}
          />{" "}
          Begin the tables with a byte-order mark, by which some programs know UTF-8
        </label>
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
