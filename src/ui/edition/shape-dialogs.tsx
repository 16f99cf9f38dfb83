// What changes the shape of an edition: steps, columns and inputs of the maker's own, title and currency.
import { useState } from "preact/hooks";
import { addColumn, addInput } from "../../app/commands/own-commands";
import { addRouteStep, repeatRouteStep } from "../../app/commands/step-commands";
import type { Session } from "../../app/edition/session";
import { unitWords } from "../../app/edition/unit-words";
import { currencyDigits } from "../../core/currency";
import { columnOf, rowLabel } from "../../core/document/access";
import { editMeta } from "../../core/document/edits";
import { isStepKind, STEP_KIND_RULES, STEP_KINDS, type StepKind } from "../../core/sheets/step-kinds";
import { Actions, Dialog, Field, ProblemText } from "../controls/dialog";
import { ChoiceField, TextField } from "../controls/fields";
import { StepOptions } from "../controls/options";
import { closeDialog } from "../shell/open-dialog";

/** The step the selection stands in, or the last one. */
function selectedStep(session: Session): string {
  const selection = session.selection.value;
  const steps = session.book.value.sheets.route.rows;
  const step =
    selection?.sheet === "route"
      ? selection.anchor.row
      : selection && columnOf(session.book.value, selection.sheet, selection.anchor.column)?.step;
  return step ?? steps.at(-1)?.id ?? "";
}

export function StepDialog({ session }: { readonly session: Session }) {
  const steps = session.book.value.sheets.route.rows;
  const [after, setAfter] = useState(() => selectedStep(session));
  const [what, setWhat] = useState<"repeat" | StepKind>("repeat");
  const [title, setTitle] = useState("");
  const row = steps.find((step) => step.id === after);
  return (
    <Dialog title="Add a step" onClose={closeDialog}>
      <p class="quiet">
        A new step is blank for every piece, and a blank step costs nothing: fill it in for those that have it.
      </p>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          const done =
            what === "repeat"
              ? repeatRouteStep(session, after)
              : addRouteStep(
                  session,
                  { kind: what, title: title || STEP_KIND_RULES[what].title },
                  after === "" ? undefined : after,
                );
          if (done) closeDialog();
        }}
      >
        <Field label="After which step?">
          <select name="after" value={after} onChange={(event) => setAfter(event.currentTarget.value)}>
            <option value="">Before the first</option>
            <StepOptions steps={steps} />
          </select>
        </Field>
        <fieldset class="field" style={{ border: 0, padding: 0 }}>
          <legend>
            <b>What is done?</b>
          </legend>
          <div class="options">
            <label>
              <input
                type="radio"
                name="what"
                value="repeat"
                checked={what === "repeat"}
                disabled={!row}
                onChange={() => setWhat("repeat")}
              />
              <span>The same once more{row ? `: ${rowLabel("route", row)}` : ""}</span>
              <small>As for a refire, or one more coat.</small>
            </label>
            {STEP_KINDS.map((kind) => (
              <label key={kind}>
                <input
                  type="radio"
                  name="what"
                  value={kind}
                  checked={what === kind}
                  onChange={() => isStepKind(kind) && setWhat(kind)}
                />
                <span>{STEP_KIND_RULES[kind].title}</span>
                <small>{STEP_KIND_RULES[kind].summary}</small>
              </label>
            ))}
          </div>
        </fieldset>
        {what === "repeat" ? null : (
          <TextField
            label="What is it called?"
            name="title"
            maxLength={80}
            placeholder={STEP_KIND_RULES[what].title}
            value={title}
            onText={setTitle}
          />
        )}
        <Actions act="Add it" onClose={closeDialog} disabled={what === "repeat" && !row} />
      </form>
    </Dialog>
  );
}

/** What was refused last, to be said where it was asked for too. */
function lastRefusal(session: Session): string {
  return session.notices.value.findLast(({ tone }) => tone === "refused")?.text ?? "";
}

export function ColumnDialog({ session }: { readonly session: Session }) {
  const [title, setTitle] = useState("");
  const [unit, setUnit] = useState("");
  const [kind, setKind] = useState<"number" | "text" | "formula">("number");
  const [formula, setFormula] = useState("");
  const [wrong, setWrong] = useState("");
  return (
    <Dialog title="Add a column" onClose={closeDialog}>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          const type = kind === "text" ? "text" : "number";
          const column = { title, unit, type, formula: kind === "formula" ? formula : "" } as const;
          void addColumn(session, session.sheet.value, column).then((isAdded) => {
            if (isAdded) closeDialog();
            else setWrong(lastRefusal(session));
          });
        }}
      >
        <div class="row">
          <TextField label="Its title" name="title" required maxLength={80} value={title} onText={setTitle} />
          <TextField
            label="Its unit, if it has one"
            hint={unitWords(session, unit)}
            name="unit"
            maxLength={40}
            value={unit}
            onText={setUnit}
          />
        </div>
        <ChoiceField
          label="What does it hold?"
          name="kind"
          value={kind}
          choices={[
            ["number", "Numbers, entered"],
            ["text", "Text, entered"],
            ["formula", "What a formula gives"],
          ]}
          onChange={(is) => setKind(is as typeof kind)}
        />
        {kind === "formula" ? (
          <TextField
            label="The formula"
            hint="Name columns in braces by their titles, inputs by their names: ={own cost}*1.1, or =wage/60*{Fettle: time}. A bare number in a formula is in the unit of the value beside it."
            name="formula"
            class="mono"
            required
            value={formula}
            onText={setFormula}
          />
        ) : null}
        <ProblemText text={wrong} />
        <Actions act="Add it" onClose={closeDialog} />
      </form>
    </Dialog>
  );
}

export function InputDialog({ session }: { readonly session: Session }) {
  const [label, setLabel] = useState("");
  const [unit, setUnit] = useState("");
  const [wrong, setWrong] = useState("");
  return (
    <Dialog title="Add an input" onClose={closeDialog}>
      <p class="quiet">A number of your own that formulas can name.</p>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          if (addInput(session, label, unit)) closeDialog();
          else setWrong(lastRefusal(session));
        }}
      >
        <TextField label="What is it?" name="label" required maxLength={120} value={label} onText={setLabel} />
        <TextField
          label="Its unit, if it has one"
          hint={unitWords(session, unit)}
          name="unit"
          maxLength={40}
          value={unit}
          onText={setUnit}
        />
        <ProblemText text={wrong} />
        <Actions act="Add it" onClose={closeDialog} />
      </form>
    </Dialog>
  );
}

export function EditionDialog({ session }: { readonly session: Session }) {
  const { meta } = session.book.value;
  const [title, setTitle] = useState(meta.title);
  const [note, setNote] = useState(meta.note);
  const [currency, setCurrency] = useState(meta.currency);
  const [temperature, setTemperature] = useState(meta.temperature);
  const [units, setUnits] = useState(meta.units ?? "metric");
  const [wrong, setWrong] = useState("");
  return (
    <Dialog title="Title, currency, units" onClose={closeDialog}>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          const code = currency.trim().toUpperCase();
          const digits = currencyDigits(code);
          if (!digits.ok) return setWrong(digits.problems[0]?.message ?? "");
          if (title.trim() === "") return setWrong("The title: found nothing, but it takes a name.");
          const is = { title: title.trim(), note: note.trim(), currency: code, temperature, units };
          if (session.commit(editMeta(session.book.value, is, "Title, currency, units"))) closeDialog();
        }}
      >
        <TextField label="Title" name="title" required maxLength={200} value={title} onText={setTitle} />
        <TextField label="Note beside it" name="note" maxLength={500} value={note} onText={setNote} />
        <TextField
          label="Currency"
          hint="Amounts are not converted: only the code and its decimal places change."
          name="currency"
          required
          maxLength={3}
          value={currency}
          onText={setCurrency}
        />
        <Field
          label="Lengths, areas and weights in"
          hint="Kept in cm, g and kg; shown and typed as you choose. Any other unit can be typed with its name, as in 12 in or 2 lb 3 oz."
        >
          <select
            name="units"
            value={units}
            onChange={(event) => {
              const isUs = event.currentTarget.value === "US";
              setUnits(isUs ? "US" : "metric");
              setTemperature(isUs ? "F" : "C");
            }}
          >
            <option value="metric">Metric: cm, g, kg</option>
            <option value="US">US customary: in, oz, lb</option>
          </select>
        </Field>
        <Field label="Temperatures in" hint="Kept in °C; shown and typed as you choose.">
          <select
            name="temperature"
            value={temperature}
            onChange={(event) => setTemperature(event.currentTarget.value === "F" ? "F" : "C")}
          >
            <option value="C">°C</option>
            <option value="F">°F</option>
          </select>
        </Field>
        <ProblemText text={wrong} />
        <Actions act="Keep it" onClose={closeDialog} />
      </form>
    </Dialog>
  );
}
