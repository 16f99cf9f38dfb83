// A field for a cell of the sheets: what is typed is written while it is typed, by the grid's rules, as one step of the one
// undo stack. What can't be read stays in the field and is told of beneath it; the cell keeps what it had.
import { useEffect, useId, useRef, useState } from "preact/hooks";
import { editTextOf, unitOf } from "../../app/edition/display";
import type { Session } from "../../app/edition/session";
import type { PlanField } from "../../app/plan/plan-parts";
import { enterFormula, keep, typeInto } from "../../app/plan/plan-typing";
import { columnOf, rowOf, specOf } from "../../core/document/access";
import type { Change } from "../../core/document/change";
import { choicesOf } from "../../core/document/entry";
import { isExample } from "../../core/document/examples";
import { isCellError } from "../../engine/values";
import { goTo } from "../edition/go-to";
import { nextField } from "./next-field";

/** How long the hand may rest before what was typed so far is written, in milliseconds. */
const REST = 150;

/** What a field remembers of the typing in it. */
interface Typed {
  readonly text: string;
  /** What the cell held, as text, once the last of it was written: anything else came from elsewhere. */
  readonly held: string;
}

interface Props {
  readonly session: Session;
  readonly field: PlanField;
}

/** A labelled field with its unit; marked while it holds the template's amount, with a button to keep that. */
export function PlanInput({ session, field: { cell, title, of } }: Props) {
  const book = session.book.value;
  const [column, row] = [columnOf(book, cell.sheet, cell.column), rowOf(book, cell.sheet, cell.row)];
  const [typed, setTyped] = useState<Typed | undefined>(undefined);
  const [said, setSaid] = useState({ refused: "", told: "" });
  const step = useRef<Change | undefined>(undefined);
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const id = useId();
  useEffect(() => () => clearTimeout(timer.current), []);
  if (!column || !row) return null;
  const spec = specOf(column, row);
  const held = editTextOf(session, cell);
  const isOurs = typed !== undefined && typed.held === held;
  const text = isOurs ? typed.text : held;
  const example = isExample(book, cell);
  const isStart = spec.formula !== undefined && row.cells[column.key] === undefined && held !== "";
  const value = session.value(cell);
  const trouble = said.refused || (isCellError(value) ? value.message : "");
  const state = example ? "still the template’s" : isStart ? "not typed here" : "";
  const name = of === undefined ? title : `${of}: ${title}`;

  const write = (entry: string, isFinished: boolean) => {
    clearTimeout(timer.current);
    const isFormula = entry.trimStart().startsWith("=");
    if (isFormula && isFinished) void enterFormula(session, cell, entry);
    if (isFormula || (!isFinished && entry.trim() === "")) return;
    const came = typeInto(session, cell, entry, step.current);
    step.current = came.step;
    // Half a number may be no number yet: that is said once the field is left.
    if (isFinished || came.refused === "") setSaid(came);
    const isKept = isFinished && came.refused === "";
    setTyped(isKept ? undefined : { text: entry, held: editTextOf(session, cell) });
    if (!isKept) return;
    step.current = undefined;
    if (isExample(session.book.value, cell)) keep(session, [cell]);
  };
  const finish = () => {
    if (isOurs) write(typed.text, true);
  };
  const unit = spec.format === "percent" ? "%" : unitOf(session, cell);
  const common = {
    id,
    "data-cell": `${cell.sheet} ${cell.row} ${cell.column}`,
    "aria-label": unit === "" ? name : `${name}, ${unit}`,
    "aria-describedby": state || trouble || said.told ? `${id}-said` : undefined,
    "aria-invalid": trouble === "" ? undefined : true,
  };
  return (
    <div class={example ? "plan-field example" : isStart ? "plan-field start" : "plan-field"}>
      <label for={id}>{title}</label>
      {spec.type === "choice" ? (
        <select {...common} value={held} onChange={(event) => write(event.currentTarget.value, true)}>
          {spec.required ? null : <option value="">–</option>}
          {choicesOf(book, spec).map((choice) => (
            <option key={choice.value} value={choice.label}>
              {choice.label}
            </option>
          ))}
        </select>
      ) : (
        <span class={spec.type === "number" ? "amount" : "amount words"}>
          <input
            {...common}
            value={text}
            autocomplete="off"
            onFocus={(event) => event.currentTarget.select()}
            onMouseDown={(event) => {
              // The first press chooses all that stands there, as coming by key does; the next one places the cursor.
              if (document.activeElement === event.currentTarget) return;
              event.preventDefault();
              event.currentTarget.focus();
            }}
            onInput={(event) => {
              const entry = event.currentTarget.value;
              setTyped({ text: entry, held: editTextOf(session, cell) });
              setSaid({ refused: "", told: "" });
              clearTimeout(timer.current);
              if (spec.type === "number") timer.current = setTimeout(() => write(entry, false), REST);
            }}
            onBlur={finish}
            onKeyDown={(event) => {
              if (event.key === "Escape" && isOurs) {
                event.preventDefault();
                setTyped(undefined);
                setSaid({ refused: "", told: "" });
                clearTimeout(timer.current);
              }
              if (event.key !== "Enter") return;
              event.preventDefault();
              if (isOurs) write(typed.text, true);
              else if (example) keep(session, [cell]);
              nextField(event.currentTarget);
            }}
          />
          {unit === "" ? null : (
            <span class="unit" aria-hidden="true">
              {unit}
            </span>
          )}
        </span>
      )}
      <span class="beside">
        {example ? (
          <button
            type="button"
            aria-label={`Keep ${name}`}
            title="The template's amount is right: keep it"
            onClick={() => keep(session, [cell])}
          >
            Keep
          </button>
        ) : null}
        <button
          type="button"
          class="link"
          tabIndex={-1}
          aria-label={`${name}, on the sheet`}
          onClick={() => goTo(session, cell)}
        >
          Sheet
        </button>
      </span>
      {state && !trouble && !said.told ? (
        <span class="unseen" id={`${id}-said`}>
          {state}
        </span>
      ) : null}
      {trouble || said.told ? (
        <small id={`${id}-said`} class={trouble ? "refused" : "quiet"} role={trouble ? "alert" : "status"}>
          {trouble || said.told}
        </small>
      ) : null}
    </div>
  );
}
