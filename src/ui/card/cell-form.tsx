// Editing the selected cell in the card: the same rules as in the grid, and the only place where a formula is overridden.
import { useEffect, useRef, useState } from "preact/hooks";
import { giveBack, writeChecked } from "../../app/commands/commands";
import { editTextOf } from "../../app/edition/display";
import type { Session } from "../../app/edition/session";
import { type CellName, cellKeyOf, describeCell, specOf } from "../../core/document/access";
import { choicesOf, takesEntry } from "../../core/document/entry";
import type { Column, Row } from "../../core/document/workbook";
import { keepText } from "../edition/kept-text";

interface FormProps {
  readonly session: Session;
  readonly cell: CellName;
  readonly column: Column;
  readonly row: Row;
}

/** What can be done to the value of a cell. */
export function CellForm({ session, cell, column, row }: FormProps) {
  const spec = specOf(column, row);
  const [wantsOverride, setWantsOverride] = useState(false);
  const isTyped = row.cells[column.key] !== undefined;
  if (spec.kind === "input" && !takesEntry(cell.sheet, row, column)) return null;
  if (spec.kind === "input")
    return (
      <>
        <ValueForm session={session} cell={cell} column={column} row={row} />
        {isTyped && spec.formula !== undefined ? (
          <button type="button" onClick={() => giveBack(session, [cell])}>
            Back to what it starts from
          </button>
        ) : null}
      </>
    );
  if (isTyped)
    return (
      <>
        <ValueForm session={session} cell={cell} column={column} row={row} override />
        <button type="button" onClick={() => giveBack(session, [cell])}>
          Give it back to its formula
        </button>
      </>
    );
  if (wantsOverride)
    return (
      <ValueForm
        session={session}
        cell={cell}
        column={column}
        row={row}
        override
        onDone={() => setWantsOverride(false)}
      />
    );
  return (
    <>
      <button type="button" onClick={() => setWantsOverride(true)}>
        Give it another value
      </button>
      {column.own ? <FormulaForm session={session} cell={cell} column={column} /> : null}
    </>
  );
}

interface ValueProps extends FormProps {
  readonly override?: boolean;
  readonly onDone?: () => void;
}

/** The field that a button has just opened takes the keyboard. */
function takeKeyboard(element: HTMLInputElement | null): void {
  element?.focus();
}

function ValueForm({ session, cell, column, row, override = false, onDone }: ValueProps) {
  const start = editTextOf(session, cell);
  const [typed, setTyped] = useState<string | undefined>(undefined);
  const unsaved = useRef<string | undefined>(undefined);
  unsaved.current = typed === start ? undefined : typed;
  // The card goes on to another cell, or this one is gone: what was typed into the field is not dropped.
  const words = describeCell(session.book.value, cell);
  useEffect(() => () => keepText(session, unsaved.current ?? "", words), []);
  const spec = specOf(column, row);
  const choices = spec.type === "choice" ? choicesOf(session.book.value, spec) : [];
  const write = async (text: string) => {
    if (await writeChecked(session, [{ cell, typed: text }], text === "" ? "cleared" : "typed", { override })) {
      unsaved.current = undefined;
      setTyped(undefined);
      onDone?.();
    }
  };
  const refused = session.notices.value.findLast(({ about }) => about && cellKeyOf(about) === cellKeyOf(cell));
  if (spec.type === "choice")
    return (
      <form>
        <select aria-label="Its value" value={start} onChange={(event) => void write(event.currentTarget.value)}>
          <option value="">(blank)</option>
          {choices.map((choice) => (
            <option key={choice.value} value={choice.label}>
              {choice.label}
            </option>
          ))}
        </select>
      </form>
    );
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        void write(typed ?? start);
      }}
    >
      <input
        aria-label={override ? "The value to give it" : "Its value"}
        aria-invalid={refused !== undefined}
        aria-describedby={refused ? "refused" : undefined}
        value={typed ?? start}
        onInput={(event) => setTyped(event.currentTarget.value)}
        ref={override && onDone ? takeKeyboard : null}
      />
      <button type="submit">{override ? "Give it this value" : "Enter"}</button>
      {refused ? (
        <p class="problem" id="refused" role="alert" data-testid="notice-refused">
          {refused.text}
        </p>
      ) : null}
    </form>
  );
}

function FormulaForm({ session, cell, column }: Pick<FormProps, "session" | "cell" | "column">) {
  const [typed, setTyped] = useState(column.formula ?? "");
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        void import("../../app/commands/own-commands").then((own) =>
          own.setColumnFormula(session, cell.sheet, column.key, typed),
        );
      }}
    >
      <input
        class="mono"
        aria-label="Formula of the whole column"
        value={typed}
        onInput={(event) => setTyped(event.currentTarget.value)}
      />
      <button type="submit">Change for all rows</button>
    </form>
  );
}
