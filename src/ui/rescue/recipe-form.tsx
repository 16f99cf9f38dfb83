// One recipe being made or changed: its steps, and what is known of how it goes.
import { useState } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import { type TypedAmountRules as AmountOf, amountTitle } from "../../app/edition/typed-amount";
import { pricesTyped } from "../../app/settle/price-words";
import { columnOf, rowLabel } from "../../core/document/access";
import { choicesOf } from "../../core/document/entry";
import type { Column, Raw } from "../../core/document/workbook";
import type { NewRecipe } from "../../core/record/recipes";
import { isStepKind, kindsWhere, routeColumns, STEP_KIND_RULES } from "../../core/sheets/step-kinds";
import { type ExtraStep, repeatOf } from "../../core/steps/extra-steps";
import { AmountEntry } from "../controls/amount-field";

type Draft = NewRecipe & { readonly id?: string };

interface Props {
  readonly session: Session;
  readonly recipe: Draft;
  readonly onKeep: (recipe: Draft) => void;
  readonly onClose: () => void;
}

/** The form of a recipe. */
export function RecipeForm({ session, recipe, onKeep, onClose }: Props) {
  const [draft, setDraft] = useState<Draft>(recipe);
  const change = (to: Partial<Draft>) => setDraft({ ...draft, ...to });
  const setStep = (at: number, step: ExtraStep | undefined) =>
    change({ steps: step ? draft.steps.with(at, step) : draft.steps.toSpliced(at, 1) });
  return (
    <form
      class="recipe-form"
      aria-label={recipe.id === undefined ? "A new recipe" : `Change ${recipe.title}`}
      onSubmit={(event) => {
        event.preventDefault();
        onKeep(draft);
      }}
    >
      <Knowledge session={session} draft={draft} change={change} replace={setDraft} />
      {draft.steps.map((step, at) => (
        <StepFields key={`${at} of ${draft.steps.length}`} session={session} step={step} at={at} setStep={setStep} />
      ))}
      <AddStep session={session} onAdd={(step) => change({ steps: [...draft.steps, step] })} />
      <div class="each">
        <button type="submit" class="act">
          Keep this recipe
        </button>
        <button type="button" onClick={onClose}>
          Close
        </button>
      </div>
    </form>
  );
}

const SHARE: AmountOf = { unit: "", isPercent: true };
const MONEY: AmountOf = { unit: "¤" };
const DAYS: AmountOf = { unit: "" };

interface KnowledgeProps {
  readonly session: Session;
  readonly draft: Draft;
  readonly change: (to: Partial<Draft>) => void;
  readonly replace: (draft: Draft) => void;
}

function Knowledge({ session, draft, change, replace }: KnowledgeProps) {
  const setFetches = (value: number | undefined) => {
    const { fetches: _, ...others } = draft;
    replace(value === undefined ? others : { ...others, fetches: value });
  };
  return (
    <>
      <div class="row">
        <label class="field">
          <span>What is it called?</span>
          <input maxLength={80} value={draft.title} onInput={(event) => change({ title: event.currentTarget.value })} />
        </label>
        <label class="field">
          <span>Note</span>
          <input
            maxLength={500}
            value={draft.note ?? ""}
            onInput={(event) => change({ note: event.currentTarget.value })}
          />
        </label>
      </div>
      <div class="row">
        <AmountEntry
          session={session}
          title="It comes out well, in percent"
          of={SHARE}
          value={draft.chance}
          onValue={(chance = Number.NaN) => change({ chance })}
        />
        <label class="field">
          <span>Then it is passed as</span>
          <select
            value={draft.grade}
            onChange={(event) => change({ grade: event.currentTarget.value === "second" ? "second" : "good" })}
          >
            <option value="good">good</option>
            <option value="second">second</option>
          </select>
        </label>
        <AmountEntry
          session={session}
          title="Then sold for"
          of={MONEY}
          value={draft.fetches}
          hint={`${pricesTyped(session)}; blank is the price of its tier`}
          onValue={setFetches}
        />
        <AmountEntry
          session={session}
          title="If it fails, sold for"
          of={MONEY}
          value={draft.failed}
          hint={`${pricesTyped(session)}; 0 where it is thrown away`}
          onValue={(failed = Number.NaN) => change({ failed })}
        />
        <AmountEntry
          session={session}
          title="Days it takes"
          of={DAYS}
          value={draft.days}
          onValue={(days = Number.NaN) => change({ days })}
        />
      </div>
    </>
  );
}

/** The Route columns that say how a step of a recipe is done. */
const NOT_ASKED = ["title", "loss", "rest", "seen_entered", "seen_lost"];

interface StepProps {
  readonly session: Session;
  readonly step: ExtraStep;
  readonly at: number;
  readonly setStep: (at: number, step: ExtraStep | undefined) => void;
}

function StepFields({ session, step, at, setStep }: StepProps) {
  const keys = routeColumns(step.kind).filter((key) => !NOT_ASKED.includes(key));
  const setCell = (key: string, raw: Raw | undefined) => {
    const { [key]: _, ...others } = step.cells;
    setStep(at, { ...step, cells: raw === undefined ? others : { ...others, [key]: raw } });
  };
  return (
    <fieldset class="recipe-step">
      <legend>
        Step {at + 1}: {STEP_KIND_RULES[step.kind].title.toLowerCase()}
      </legend>
      <div class="row">
        <label class="field">
          <span>What is it called?</span>
          <input
            maxLength={70}
            value={step.title}
            onInput={(event) => setStep(at, { ...step, title: event.currentTarget.value })}
          />
        </label>
        {keys.map((key) => {
          const column = columnOf(session.book.value, "route", key);
          return column ? (
            <CellField
              key={key}
              session={session}
              column={column}
              raw={step.cells[key]}
              onRaw={(raw) => setCell(key, raw)}
            />
          ) : null;
        })}
        <button type="button" onClick={() => setStep(at, undefined)}>
          Remove step {at + 1}
        </button>
      </div>
    </fieldset>
  );
}

interface CellProps {
  readonly session: Session;
  readonly column: Column;
  readonly raw: Raw | undefined;
  readonly onRaw: (raw: Raw | undefined) => void;
}

function CellField({ session, column, raw, onRaw }: CellProps) {
  const of = { unit: column.unit, isPercent: column.format === "percent" };
  const title = amountTitle(session, column.title, of);
  if (column.type === "choice")
    return (
      <label class="field">
        <span>{title}</span>
        <select
          value={typeof raw === "string" ? raw : ""}
          onChange={(event) => onRaw(event.currentTarget.value || undefined)}
        >
          <option value="">–</option>
          {choicesOf(session.book.value, column).map(({ value, label }) => (
            <option key={value} value={value}>
              {label}
            </option>
          ))}
        </select>
      </label>
    );
  const value = typeof raw === "number" ? raw : undefined;
  return <AmountEntry session={session} title={title} of={of} value={value} onValue={onRaw} />;
}

/** One more step: as one of the route, or of a kind. */
function AddStep({ session, onAdd }: { readonly session: Session; readonly onAdd: (step: ExtraStep) => void }) {
  const book = session.book.value;
  const add = (value: string) => {
    const [what, id = ""] = value.split(":");
    const like = what === "like" ? repeatOf(book, id) : undefined;
    if (like) onAdd(like);
    else if (what === "kind" && isStepKind(id)) onAdd({ kind: id, title: STEP_KIND_RULES[id].title, cells: {} });
  };
  return (
    <label class="field">
      <span>Add a step</span>
      <select value="" onChange={(event) => add(event.currentTarget.value)}>
        <option value="">Choose one</option>
        <optgroup label="As on the route">
          {book.sheets.route.rows.map((row) => (
            <option key={row.id} value={`like:${row.id}`}>
              {rowLabel("route", row)}
            </option>
          ))}
        </optgroup>
        <optgroup label="A new one">
          {kindsWhere(({ isMaking }) => !isMaking).map((kind) => (
            <option key={kind} value={`kind:${kind}`}>
              {STEP_KIND_RULES[kind].title}
            </option>
          ))}
        </optgroup>
      </select>
    </label>
  );
}
