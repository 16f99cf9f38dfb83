// Five questions make an edition: name, how many to deliver, which template, currency, first piece number.
import { useState } from "preact/hooks";
import { showNumber } from "../../app/edition/format";
import type { Session } from "../../app/edition/session";
import type { Studio } from "../../app/keeping/studio";
import { planOf, type StartForm, startFrom, templates, usualPerEuro } from "../../app/plan/start";
import { Actions, Dialog, Field, Wrong } from "../controls/dialog";
import { closeDialog } from "../shell/open-dialog";

const CURRENCIES = [
  "EUR",
  "GBP",
  "USD",
  "CAD",
  "AUD",
  "NZD",
  "CHF",
  "SEK",
  "NOK",
  "DKK",
  "PLN",
  "CZK",
  "JPY",
  "KRW",
  "ZAR",
  "INR",
  "BRL",
  "MXN",
];

export function StartDialog({ studio, session }: { readonly studio: Studio; readonly session: Session }) {
  const { good, broken } = templates();
  const [form, setForm] = useState<StartForm>({
    title: "",
    wanted: String(good[0]?.wanted ?? 50),
    template: good[0]?.id ?? "",
    currency: session.book.value.meta.currency,
    firstPiece: "001",
    perEuro: "",
  });
  const [wrong, setWrong] = useState("");
  const size = usualPerEuro(form.currency);
  const set = (part: Partial<StartForm>) => setForm({ ...form, ...part });
  return (
    <Dialog title="Start an edition" onClose={closeDialog}>
      <p class="quiet">Five questions. Everything can be changed later; nothing leaves this browser.</p>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          const started = startFrom(form, session.today());
          if (!started.ok) return setWrong(started.problems.map(({ message }) => message).join(" "));
          closeDialog();
          return void studio.openNew(started.value).then((isOpen) => {
            if (isOpen && studio.session.value) studio.session.value.page.value = "plan";
            return studio.askToKeep();
          });
        }}
      >
        <Field label="What is it called?">
          <input
            name="title"
            required
            maxLength={200}
            value={form.title}
            onInput={(e) => set({ title: e.currentTarget.value })}
          />
        </Field>
        <Field label="How many pieces are to be delivered?" hint="How many to start follows from the planned losses.">
          <input
            name="wanted"
            inputMode="numeric"
            required
            value={form.wanted}
            onInput={(e) => set({ wanted: e.currentTarget.value })}
          />
        </Field>
        <fieldset class="field" style={{ border: 0, padding: 0 }}>
          <legend>
            <b>Which way does a piece go?</b>
          </legend>
          <div class="options">
            {good.map((template) => (
              <label key={template.id}>
                <input
                  type="radio"
                  name="template"
                  value={template.id}
                  checked={form.template === template.id}
                  onChange={() => set({ template: template.id })}
                />
                <span>{template.title}</span>
                <small>{template.summary}</small>
              </label>
            ))}
          </div>
        </fieldset>
        {broken.map((problem) => (
          <p class="wrong" key={problem.message}>
            A template is broken and left out. {problem.message}
          </p>
        ))}
        <div class="row">
          <Field label="Which currency?" hint="A three-letter code.">
            <input
              name="currency"
              list="currencies"
              required
              maxLength={3}
              value={form.currency}
              onInput={(e) => set({ currency: e.currentTarget.value, perEuro: "" })}
            />
            <datalist id="currencies">
              {CURRENCIES.map((code) => (
                <option key={code} value={code} />
              ))}
            </datalist>
          </Field>
          {size === 1 || form.currency.trim().length !== 3 ? null : (
            <Field
              label={`About how many ${form.currency.trim().toUpperCase()} make one euro?`}
              hint="Wage, prices and materials of the template begin with amounts of that size."
            >
              <input
                name="per-euro"
                inputMode="decimal"
                placeholder={size === undefined ? "" : String(size)}
                value={form.perEuro ?? ""}
                onInput={(e) => set({ perEuro: e.currentTarget.value })}
              />
            </Field>
          )}
          <Field label="First piece number?" hint="Written as you want it: 001, or M-001.">
            <input
              name="first"
              required
              maxLength={30}
              value={form.firstPiece}
              onInput={(e) => set({ firstPiece: e.currentTarget.value })}
            />
          </Field>
        </div>
        <Planned form={form} locale={session.formats.locale} />
        <Wrong text={wrong} />
        <Actions act="Start it" onClose={closeDialog} />
      </form>
    </Dialog>
  );
}

/** What the answers come to, said before anything is made. */
function Planned({ form, locale }: { readonly form: StartForm; readonly locale: string }) {
  const plan = planOf(form);
  if (!plan) return null;
  const percent = (share: number) => `${showNumber(share * 100, 0, 0, locale)}\u202f%`;
  return (
    <div class="words" role="status">
      <p>
        <b>{showNumber(plan.starts, 0, 0, locale)} pieces will be started</b>, to be {percent(plan.confidence)} sure of
        delivering {form.wanted.trim()}: the planned losses leave {percent(plan.chainYield)}. {form.wanted.trim()} ÷{" "}
        {percent(plan.chainYield)} would be {showNumber(plan.naive, 0, 0, locale)}, and those deliver only{" "}
        {percent(plan.naiveChance)} of the time.
      </p>
      <p class="quiet">{plan.steps.join(" → ")}. Steps, losses, times and prices are a start: make them yours.</p>
    </div>
  );
}
