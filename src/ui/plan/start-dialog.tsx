// A few questions make an edition: name, how many to deliver, which template or edition to go by, currency, first piece number.

import { useEffect, useState } from "preact/hooks";
import { showNumber } from "../../app/edition/format";
import type { Session } from "../../app/edition/session";
import type { Studio } from "../../app/keeping/studio";
import { bookOfEdition } from "../../app/keeping/studio-editions";
import { planOf, type StartForm, startFrom, startNext, templates, usualPerEuro } from "../../app/plan/start";
import { counted } from "../../core/counted";
import { rowOf } from "../../core/document/access";
import type { NextEdition } from "../../core/document/next-edition";
import type { Workbook } from "../../core/document/workbook";
import type { Problem } from "../../core/problem";
import type { EditionSummary } from "../../storage/edition-store";
import { Actions, Dialog, Field, ProblemText } from "../controls/dialog";
import { TextField } from "../controls/fields";
import { closeDialog, startFromWish } from "../shell/open-dialog";

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
  const [from, setFrom] = useState<Workbook | undefined>(undefined);
  const [wish] = useState(startFromWish.value);
  const choose = async (id: string) => {
    const book = await bookOfEdition(studio, id);
    if (!book) return;
    const wanted = rowOf(book, "edition", "wanted")?.cells.value;
    setFrom(book);
    setForm((now) => ({ ...now, template: id, wanted: typeof wanted === "number" ? String(wanted) : now.wanted }));
  };
  useEffect(() => {
    startFromWish.value = undefined;
    void studio.refreshList();
    if (wish !== undefined) void choose(wish);
  }, []);
  const set = (part: Partial<StartForm>) => setForm({ ...form, ...part });
  return (
    <Dialog title="Start an edition" onClose={closeDialog}>
      <p class="quiet">A few questions. Everything can be changed later; nothing leaves this browser.</p>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          const made = start(form, session, from);
          if (typeof made === "string") return setWrong(made);
          return void openStarted(studio, made);
        }}
      >
        <Named form={form} set={set} />
        <Way
          form={form}
          sources={sourcesOf(studio, wish)}
          onSource={(id) => void choose(id)}
          onTemplate={(template) => {
            setFrom(undefined);
            set({ template });
          }}
        />
        {broken.map((problem) => (
          <p class="wrong" key={problem.message}>
            A template is broken and left out. {problem.message}
          </p>
        ))}
        <div class="row">
          {from ? null : <Currency form={form} set={set} />}
          <TextField
            label="First piece number?"
            hint="Written as you want it: 001, or M-001."
            name="first"
            required
            maxLength={30}
            value={form.firstPiece}
            onText={(firstPiece) => set({ firstPiece })}
          />
        </div>
        <Planned form={form} from={from} locale={session.formats.locale} />
        <ProblemText text={wrong} />
        <Actions act="Start it" onClose={closeDialog} />
      </form>
    </Dialog>
  );
}

const LEFT_BEHIND = "These were given by hand where a formula stands, for the edition before, and were left there:";

/** Opens what was started on its plan. */
async function openStarted(studio: Studio, made: NextEdition): Promise<void> {
  closeDialog();
  const isOpen = await studio.openNew(made.book);
  const opened = isOpen ? studio.session.value : undefined;
  if (opened) opened.page.value = "plan";
  if (opened && made.leftBehind.length > 0) opened.notify("done", LEFT_BEHIND, made.leftBehind);
  await studio.askToKeep();
}

/** The edition that the form makes, or what is wrong with the form. */
function start(form: StartForm, session: Session, from: Workbook | undefined): NextEdition | string {
  const words = (problems: readonly Problem[]) => problems.map(({ message }) => message).join(" ");
  if (from) {
    const next = startNext(form, session.today(), from);
    return next.ok ? next.value : words(next.problems);
  }
  const started = startFrom(form, session.today());
  return started.ok ? { book: started.value, leftBehind: [] } : words(started.problems);
}

/** Editions that one can be started from: the open one, the one that was asked for, and templates of the maker's own. */
function sourcesOf(studio: Studio, wish: string | undefined): readonly EditionSummary[] {
  const isSource = ({ id, mark, problem }: EditionSummary) =>
    !problem && mark?.as !== "shelf" && (mark?.as === "template" || id === studio.editionId.value || id === wish);
  return studio.editions.value.filter(isSource);
}

interface WayProps {
  readonly form: StartForm;
  readonly sources: readonly EditionSummary[];
  readonly onSource: (id: string) => void;
  readonly onTemplate: (id: string) => void;
}

/** What the edition is started from: another edition, a template of the maker's own, or one of ours. */
function Way({ form, sources, onSource, onTemplate }: WayProps) {
  return (
    <fieldset class="field" style={{ border: 0, padding: 0 }}>
      <legend>
        <b>Which way does a piece go?</b>
      </legend>
      <div class="options">
        {sources.map(({ id, title, mark }) => {
          const isTemplate = mark?.as === "template";
          return (
            <Option
              key={id}
              id={id}
              isChosen={form.template === id}
              onChoose={() => onSource(id)}
              title={isTemplate ? title : `As ${title}: the next one from it`}
              words={`${isTemplate ? "Your own template. " : ""}Its way, prices, kilns, recipes and your own columns and inputs come along, and what was seen in it.`}
            />
          );
        })}
        {templates().good.map(({ id, title, summary }) => (
          <Option
            key={id}
            id={id}
            isChosen={form.template === id}
            onChoose={() => onTemplate(id)}
            title={title}
            words={summary}
          />
        ))}
      </div>
    </fieldset>
  );
}

interface OptionProps {
  readonly id: string;
  readonly isChosen: boolean;
  readonly onChoose: () => void;
  readonly title: string;
  readonly words: string;
}

function Option({ id, isChosen, onChoose, title, words }: OptionProps) {
  return (
    <label>
      <input type="radio" name="template" value={id} checked={isChosen} onChange={onChoose} />
      <span>{title}</span>
      <small>{words}</small>
    </label>
  );
}

interface PartProps {
  readonly form: StartForm;
  readonly set: (part: Partial<StartForm>) => void;
}

/** What it is called, and how many pieces it is to give. */
function Named({ form, set }: PartProps) {
  return (
    <>
      <TextField
        label="What is it called?"
        name="title"
        required
        maxLength={200}
        value={form.title}
        onText={(title) => set({ title })}
      />
      <TextField
        label="How many pieces are to be delivered?"
        hint="How many to start follows from the planned losses."
        name="wanted"
        inputMode="numeric"
        required
        value={form.wanted}
        onText={(wanted) => set({ wanted })}
      />
    </>
  );
}

/** The currency, and its size where that is not the euro's. */
function Currency({ form, set }: PartProps) {
  const size = usualPerEuro(form.currency);
  return (
    <>
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
        <TextField
          label={`About how many ${form.currency.trim().toUpperCase()} make one euro?`}
          hint="Wage, prices and materials of the template begin with amounts of that size."
          name="per-euro"
          inputMode="decimal"
          placeholder={size === undefined ? "" : String(size)}
          value={form.perEuro ?? ""}
          onText={(perEuro) => set({ perEuro })}
        />
      )}
    </>
  );
}

interface PlannedProps {
  readonly form: StartForm;
  readonly from: Workbook | undefined;
  readonly locale: string;
}

/** What the answers come to, said before anything is made. */
function Planned({ form, from, locale }: PlannedProps) {
  const plan = planOf(form, from);
  if (!plan) return null;
  const percent = (share: number) => `${showNumber(share * 100, 0, 0, locale)}\u202f%`;
  return (
    <div class="words" role="status">
      <p>
        <b>{counted(plan.starts, "piece")} will be started</b>, to be {percent(plan.confidence)} sure of delivering{" "}
        {form.wanted.trim()}: the planned losses leave {percent(plan.chainYield)}. {form.wanted.trim()} ÷{" "}
        {percent(plan.chainYield)} would be {showNumber(plan.naive, 0, 0, locale)}, and those deliver only{" "}
        {percent(plan.naiveChance)} of the time.
      </p>
      <p class="quiet">{plan.steps.join(" → ")}. Steps, losses, times and prices are a start: make them yours.</p>
    </div>
  );
}
