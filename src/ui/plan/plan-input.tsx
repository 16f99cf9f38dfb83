// A field for a cell of the sheets: what is typed is written while it is typed, by the grid's rules, as one step of the one
// undo stack. What can't be read stays in the field and is named beneath it; the cell keeps what it had.
import { useId } from "preact/hooks";
import { unitOf } from "../../app/edition/display";
import type { Session } from "../../app/edition/session";
import type { PlanField } from "../../app/plan/plan-parts";
import { keep } from "../../app/plan/plan-typing";
import { otherWay } from "../../app/settle/price-words";
import { resolveCell } from "../../core/document/access";
import { choicesOf } from "../../core/document/entry";
import { isExample } from "../../core/document/examples";
import { isCellError } from "../../engine/values";
import { goTo } from "../edition/go-to";
import { nextField } from "./next-field";
import { type TypedField, useTyping } from "./use-typing";

interface Props {
  readonly session: Session;
  readonly field: PlanField;
}

/** A labelled field with its unit; marked while it holds the template's amount, with a button to keep that. */
export function PlanInput({ session, field: { cell, title, of, tier } }: Props) {
  const book = session.book.value;
  const found = resolveCell(book, cell);
  const typing = useTyping(session, cell);
  const id = useId();
  if (!found) return null;
  const { column, row, spec } = found;
  const example = isExample(book, cell);
  const isStart = spec.formula !== undefined && row.cells[column.key] === undefined && typing.held !== "";
  const value = session.value(cell);
  const problem = typing.message.refused || (isCellError(value) ? value.message : "");
  const state = example ? "still the template’s" : isStart ? "not typed here" : "";
  const name = of === undefined ? title : `${of}: ${title}`;
  const unit = spec.format === "percent" ? "%" : unitOf(session, cell);
  const common = {
    id,
    "data-cell": `${cell.sheet} ${cell.row} ${cell.column}`,
    "aria-label": unit === "" ? name : `${name}, ${unit}`,
    "aria-describedby": state || problem || typing.message.notice ? `${id}-message` : undefined,
    "aria-invalid": problem === "" ? undefined : true,
  };
  const keepIt = example ? () => keep(session, [cell]) : undefined;
  return (
    <div class={example ? "plan-field example" : isStart ? "plan-field start" : "plan-field"}>
      <label for={id}>
        {title}
        {tier && typeof value === "number" ? <small class="quiet"> {otherWay(session, tier, value)}</small> : null}
      </label>
      {spec.type === "choice" ? (
        <select {...common} value={typing.held} onChange={(event) => typing.write(event.currentTarget.value)}>
          {spec.required ? null : <option value="">–</option>}
          {choicesOf(book, spec).map((choice) => (
            <option key={choice.value} value={choice.label}>
              {choice.label}
            </option>
          ))}
        </select>
      ) : (
        <Amount common={common} typing={typing} unit={unit} isNumber={spec.type === "number"} onKeep={keepIt} />
      )}
      <Beside name={name} onKeep={keepIt} onSheet={() => goTo(session, cell)} />
      <FieldMessage id={`${id}-message`} state={state} problem={problem} notice={typing.message.notice} />
    </div>
  );
}

interface AmountProps {
  /** What any field of a cell has: id, name, description. */
  readonly common: Readonly<Record<string, string | boolean | undefined>>;
  readonly typing: TypedField;
  readonly unit: string;
  readonly isNumber: boolean;
  /** Keeps the template's amount, where that is what stands there. */
  readonly onKeep: (() => void) | undefined;
}

function Amount({ common, typing, unit, isNumber, onKeep }: AmountProps) {
  return (
    <span class={isNumber ? "amount" : "amount words"}>
      <input
        {...common}
        value={typing.text}
        autocomplete="off"
        onFocus={(event) => event.currentTarget.select()}
        onMouseDown={(event) => {
          // The first press chooses all that stands there, as coming by key does; the next one places the cursor.
          if (document.activeElement === event.currentTarget) return;
          event.preventDefault();
          event.currentTarget.focus();
        }}
        onInput={(event) => typing.take(event.currentTarget.value, isNumber)}
        onBlur={typing.finish}
        onKeyDown={(event) => {
          if (event.key === "Escape" && typing.isOpen) {
            event.preventDefault();
            typing.drop();
          }
          if (event.key !== "Enter") return;
          event.preventDefault();
          if (typing.isOpen) typing.finish();
          else onKeep?.();
          nextField(event.currentTarget);
        }}
      />
      {unit === "" ? null : (
        <span class="unit" aria-hidden="true">
          {unit}
        </span>
      )}
    </span>
  );
}

interface BesideProps {
  readonly name: string;
  readonly onKeep: (() => void) | undefined;
  readonly onSheet: () => void;
}

function Beside({ name, onKeep, onSheet }: BesideProps) {
  return (
    <span class="beside">
      {onKeep ? (
        <button
          type="button"
          aria-label={`Keep ${name}`}
          title="The template's amount is right: keep it"
          onClick={onKeep}
        >
          Keep
        </button>
      ) : null}
      <button type="button" class="link" tabIndex={-1} aria-label={`${name}, on the sheet`} onClick={onSheet}>
        Sheet
      </button>
    </span>
  );
}

interface FieldMessageProps {
  readonly id: string;
  readonly state: string;
  readonly problem: string;
  readonly notice: string;
}

/** What is wrong, else what was done, else where the amount is from, which only a screen reader says. */
function FieldMessage({ id, state, problem, notice }: FieldMessageProps) {
  if (problem || notice)
    return (
      <small id={id} class={problem ? "refused" : "quiet"} role={problem ? "alert" : "status"}>
        {problem || notice}
      </small>
    );
  if (!state) return null;
  return (
    <span class="unseen" id={id}>
      {state}
    </span>
  );
}
