// What goes out: for whom, which columns, how exact; one sheet or all of them.
import { useState } from "preact/hooks";
import { CSV_FORMS, type CsvForm, type ExportChoice, saveSheet, saveWorkbook } from "../../app/csv/csv-export";
import type { Session } from "../../app/edition/session";
import { ChoiceField } from "../controls/fields";
import { showDialog } from "../shell/open-dialog";

const USUAL: ExportChoice = {
  form: "standard",
  withComputed: true,
  isRounded: false,
  formulas: "kept",
  hasMark: false,
  isDescribed: false,
};

/** Saving as CSV. */
export function CsvExport({ session }: { readonly session: Session }) {
  const [choice, setChoice] = useState(USUAL);
  const set = (part: Partial<ExportChoice>) => setChoice({ ...choice, ...part });
  return (
    <>
      <h3>Save as a file</h3>
      <p class="quiet">
        Text that another program could run as a formula is made harmless, and restored when it comes back.
      </p>
      <div class="row">
        <ChoiceField
          label="Form"
          name="form"
          value={choice.form}
          choices={Object.entries(CSV_FORMS).map(([id, form]) => [id, form.title])}
          onChange={(form) => set({ form: form as CsvForm })}
        />
        <ChoiceField
          label="Columns"
          name="columns"
          value={choice.withComputed ? "all" : "entered"}
          choices={[
            ["all", "Entered and computed"],
            ["entered", "Entered only"],
          ]}
          onChange={(columns) => set({ withComputed: columns === "all" })}
        />
        <ChoiceField
          label="Computed money"
          name="money"
          value={choice.isRounded ? "rounded" : "full"}
          choices={[
            ["full", "Every digit"],
            ["rounded", `Rounded to ${session.digits} places`],
          ]}
          onChange={(money) => set({ isRounded: money === "rounded" })}
        />
        <ChoiceField
          label="Formulas typed by hand"
          name="formulas"
          value={choice.formulas}
          choices={[
            ["kept", "As formulas"],
            ["values", "As what they come to"],
          ]}
          onChange={(formulas) => set({ formulas: formulas === "values" ? "values" : "kept" })}
        />
      </div>
      {session.book.value.meta.units === "US" || session.book.value.meta.temperature === "F" ? (
        <p class="quiet" data-testid="csv-units">
          Files carry what is kept: metric units and °C, as their column titles say, whatever is shown here.
        </p>
      ) : null}
      <p class="ticks">
        <label>
          <input
            type="checkbox"
            checked={choice.hasMark}
            onChange={({ currentTarget }) => set({ hasMark: currentTarget.checked })}
          />{" "}
          Begin with a byte-order mark, by which some programs know UTF-8
        </label>
        <label>
          <input
            type="checkbox"
            checked={choice.isDescribed}
            onChange={({ currentTarget }) => set({ isDescribed: currentTarget.checked })}
          />{" "}
          With a description of its columns: types and units, in a zip
        </label>
      </p>
      <div class="actions">
        <button type="button" onClick={() => showDialog("pack")}>
          For the accountant…
        </button>
        <button type="button" onClick={() => void saveWorkbook(session, choice)}>
          Save all sheets as a zip…
        </button>
        <button type="button" onClick={() => void saveSheet(session, choice)}>
          Save as a file…
        </button>
      </div>
    </>
  );
}
