// CSV out and in: the file is shown with what it would do before anything is touched, and is one undo step after.
import { useState } from "preact/hooks";
import type { Session } from "../../app/session";
import type { ImportOptions } from "../../csv/import-options";
import { type ImportPlan, planImport } from "../../csv/plan";
import { readSheetCsv, type SheetTable } from "../../csv/read";
import { type Delimiter, writeSheetCsv } from "../../csv/write";
import { isTrouble } from "../../engine/values";
import { CSV_FILE, fileNameFor, openTextFile, saveTextFile } from "../../storage/files";
import { closeDialog } from "../open-dialog";
import { Dialog, Field } from "./dialog";

const FORMS: Readonly<
  Record<string, { readonly title: string; readonly delimiter: Delimiter; readonly decimal: "." | "," }>
> = {
  comma: { title: "Commas, decimal point", delimiter: ",", decimal: "." },
  semicolon: { title: "Semicolons, decimal comma", delimiter: ";", decimal: "," },
  tab: { title: "Tabs, decimal point", delimiter: "\t", decimal: "." },
};

interface Opened {
  readonly name: string;
  readonly table: SheetTable;
  readonly options: ImportOptions;
}

/** The sheet in view, out as CSV and back in. */
export function CsvDialog({ session }: { readonly session: Session }) {
  const sheet = session.sheet.value;
  const title = session.book.value.sheets[sheet].title;
  const [opened, setOpened] = useState<Opened | undefined>(undefined);
  const read = async () => {
    const file = await openTextFile(CSV_FILE);
    if (!file.ok) session.refuse(file.problems);
    else if (file.value) {
      const { name, text } = file.value;
      setOpened({ name, table: readSheetCsv(text, { where: name }), options: {} });
    }
  };
  return (
    <Dialog title={`${title} as CSV`} onClose={closeDialog}>
      {opened ? (
        <Preview session={session} opened={opened} onOptions={(options) => setOpened({ ...opened, options })} />
      ) : (
        <>
          <Export session={session} />
          <h3>Bring a file in</h3>
          <p class="quiet">
            Rows are matched by their {sheet === "pieces" ? "piece number" : "name"}. You see what would change before
            anything does.
          </p>
          <div class="actions">
            <button type="button" onClick={closeDialog}>
              Close
            </button>
            <button type="button" class="act" onClick={() => void read()}>
              Choose a file…
            </button>
          </div>
        </>
      )}
    </Dialog>
  );
}

function Export({ session }: { readonly session: Session }) {
  const [form, setForm] = useState("comma");
  const [withComputed, setWithComputed] = useState(true);
  const save = async () => {
    const book = session.book.value;
    const sheet = session.sheet.value;
    const { delimiter, decimal } = FORMS[form] ?? { delimiter: ",", decimal: "." };
    const text = writeSheetCsv(
      book,
      sheet,
      (cell) => {
        const value = session.value(cell);
        return value === undefined || isTrouble(value) ? null : value;
      },
      { delimiter, decimal, withComputed },
    );
    const name = fileNameFor(`${book.meta.title} ${book.sheets[sheet].title}`, ".csv");
    const saved = await saveTextFile(name, text, CSV_FILE);
    if (!saved.ok) session.refuse(saved.problems);
    else if (saved.value) session.tell("done", `Saved as the file ${name}.`);
  };
  return (
    <>
      <h3>Save as a file</h3>
      <p class="quiet">
        UTF-8, every digit kept. Text that another program could run as a formula is made harmless, and restored when it
        comes back.
      </p>
      <div class="row">
        <Field label="Form">
          <select name="form" value={form} onChange={(event) => setForm(event.currentTarget.value)}>
            {Object.entries(FORMS).map(([id, { title }]) => (
              <option key={id} value={id}>
                {title}
              </option>
            ))}
          </select>
        </Field>
        <Field label="Columns">
          <select
            name="columns"
            value={withComputed ? "all" : "entered"}
            onChange={(event) => setWithComputed(event.currentTarget.value === "all")}
          >
            <option value="all">Entered and computed</option>
            <option value="entered">Entered only</option>
          </select>
        </Field>
      </div>
      <div class="actions">
        <button type="button" onClick={() => void save()}>
          Save as a file…
        </button>
      </div>
    </>
  );
}

interface PreviewProps {
  readonly session: Session;
  readonly opened: Opened;
  readonly onOptions: (options: ImportOptions) => void;
}

function Preview({ session, opened, onOptions }: PreviewProps) {
  const { name, table, options } = opened;
  const plan = planImport(session.book.value, session.sheet.value, table, { ...options, label: `Import ${name}` });
  const count = plan.change.operations.length;
  return (
    <>
      <p class="quiet">
        {name}: {table.rows.length} lines, parted by{" "}
        {table.delimiter === "\t" ? "tabs" : table.delimiter === ";" ? "semicolons" : "commas"}
        {plan.decimal ? `, decimal ${plan.decimal === "." ? "point" : "comma"}` : ""}.
      </p>
      {table.problems.map((problem) => (
        <p class="wrong" key={problem.message}>
          {problem.message}
        </p>
      ))}
      <Questions plan={plan} options={options} onOptions={onOptions} />
      <Report plan={plan} />
      <label>
        <input
          type="checkbox"
          checked={options.addMissing ?? false}
          onChange={(event) => onOptions({ ...options, addMissing: event.currentTarget.checked })}
        />{" "}
        Add rows the sheet does not have
      </label>
      <br />
      <label>
        <input
          type="checkbox"
          checked={options.blankClears ?? false}
          onChange={(event) => onOptions({ ...options, blankClears: event.currentTarget.checked })}
        />{" "}
        A blank in the file clears the cell
      </label>
      <div class="actions">
        <button type="button" onClick={closeDialog}>
          Leave everything as it is
        </button>
        <button
          type="button"
          class="act"
          disabled={plan.questions.length > 0 || count === 0}
          onClick={() => {
            session.commit(plan.change);
            session.tell(
              "done",
              `Imported ${name}: ${plan.added.length} added, ${plan.changed.length} changed, ${plan.rejected.length} refused.`,
            );
            closeDialog();
          }}
        >
          Bring it in
        </button>
      </div>
    </>
  );
}

function Questions({
  plan,
  options,
  onOptions,
}: {
  readonly plan: ImportPlan;
  readonly options: ImportOptions;
  readonly onOptions: (options: ImportOptions) => void;
}) {
  return (
    <>
      {plan.questions.map((question) => (
        <div class="wrong" key={question.text} role="alert">
          <p>{question.text}</p>
          {question.examples.slice(0, 3).map((example) => (
            <p class="quiet" key={`${example.line} ${example.column}`}>
              Line {example.line}, {example.column}: “{example.found}”
            </p>
          ))}
          <div class="row">
            {question.answers.map((answer) => (
              <button type="button" key={answer.label} onClick={() => onOptions({ ...options, ...answer.options })}>
                {answer.label}
              </button>
            ))}
          </div>
        </div>
      ))}
    </>
  );
}

const few = (names: readonly string[]) =>
  names.length > 8 ? `${names.slice(0, 8).join(", ")} … (${names.length})` : names.join(", ");

function Report({ plan }: { readonly plan: ImportPlan }) {
  return (
    <div data-testid="csv-report">
      <table class="plain-table">
        <tbody>
          <tr>
            <th scope="row">Added</th>
            <td>{plan.added.length}</td>
            <td>{few(plan.added)}</td>
          </tr>
          <tr>
            <th scope="row">Changed</th>
            <td>{plan.changed.length}</td>
            <td>{few(plan.changed)}</td>
          </tr>
          <tr>
            <th scope="row">As they are</th>
            <td>{plan.unchanged.length}</td>
            <td />
          </tr>
          <tr>
            <th scope="row">Refused</th>
            <td>{plan.rejected.length}</td>
            <td />
          </tr>
        </tbody>
      </table>
      {plan.rejected.length > 0 ? (
        <ul>
          {plan.rejected.slice(0, 30).map((one) => (
            <li key={`${one.line} ${one.column} ${one.code}`}>
              Line {one.line}, {one.column}: “{one.found}”. {one.reason}
            </li>
          ))}
        </ul>
      ) : null}
      {plan.ignored.length > 0 ? (
        <details>
          <summary>{plan.ignored.length} columns of the file are not brought in</summary>
          <ul>
            {plan.ignored.map((one) => (
              <li key={one.header}>
                {one.header}: {one.reason}
              </li>
            ))}
          </ul>
        </details>
      ) : null}
    </div>
  );
}
