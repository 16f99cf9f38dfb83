// The plan in one view, in the order a maker thinks. The answer stands beside it, in the place of the card.
import { counted, plural } from "../../core/counted";
import "./plan.css";
import type { ComponentChildren } from "preact";
import { useRef, useState } from "preact/hooks";
import { setDue } from "../../app/calendar/calendar-commands";
import type { Session } from "../../app/edition/session";
import type { Studio } from "../../app/keeping/studio";
import {
  allFields,
  examplesIn,
  fieldsIn,
  type PlanField,
  type PlanParts,
  type PlanRow,
  planParts,
} from "../../app/plan/plan-parts";
import { keep } from "../../app/plan/plan-typing";
import type { SheetKey } from "../../core/document/workbook";
import { DateInput } from "../controls/date-input";
import { goTo } from "../edition/go-to";
import { toExample } from "./next-field";
import { PlanInput } from "./plan-input";
import { SeenPart } from "./seen-part";
import { Way } from "./way";

/** The page “Plan”. */
export function PlanPage({ session, studio }: { readonly session: Session; readonly studio: Studio }) {
  session.valuesVersion.value;
  const book = session.book.value;
  const parts = planParts(book);
  const [open, setOpen] = useState<string | undefined>(undefined);
  const page = useRef<HTMLElement>(null);
  const left = examplesIn(book, allFields(parts));
  const toNext = () => {
    if (toExample(page.current)) return;
    // What is left is in a step that is not open.
    setOpen(left.find(({ sheet }) => sheet === "route")?.row);
    requestAnimationFrame(() => toExample(page.current));
  };
  const part = { session, parts };
  return (
    <article class="plan" id="sheet" tabIndex={-1} aria-label="Plan" data-testid="plan-page" ref={page}>
      <header>
        <h2>Plan</h2>
        <Examples count={left.length} isStarted={book.meta.examples !== undefined} onNext={toNext} />
      </header>
      <SeenPart session={session} studio={studio} />
      <Part {...part} name="piece" title="The piece" to={["edition", "piece_kg"]} />
      <Part {...part} name="studio" title="The studio" to={["edition", "wage"]} />
      <Part {...part} name="materials" title="What is bought" to={["materials"]}>
        <Rows session={session} rows={parts.materials} />
      </Part>
      <Part {...part} name="way" title="The way" to={["route"]}>
        <Way session={session} steps={parts.way} open={open} onOpen={setOpen} />
      </Part>
      <Part {...part} name="kilns" title="The kilns" to={["kilns"]}>
        <Rows session={session} rows={parts.kilns} />
      </Part>
      <Part {...part} name="promise" title="The promise" to={["edition", "wanted"]}>
        <Fields session={session} fields={parts.promise}>
          <div class="plan-field">
            <label for="plan-due">Due</label>
            <span class="amount words">
              <DateInput
                id="plan-due"
                value={book.meta.calendar?.due ?? ""}
                onChange={(event) => setDue(session, event.currentTarget.value)}
              />
            </span>
          </div>
        </Fields>
      </Part>
    </article>
  );
}

interface ExamplesProps {
  readonly count: number;
  readonly isStarted: boolean;
  readonly onNext: () => void;
}

/** What is still the template's, and the way to the next of it. */
function Examples({ count, isStarted, onNext }: ExamplesProps) {
  if (count === 0)
    return isStarted ? null : (
      <p class="quiet">What is typed here is on the sheets at once, and one Undo takes it back.</p>
    );
  return (
    <p class="examples" role="status" data-testid="examples">
      <span>
        <b>{counted(count, "amount is", "amounts are")} the template’s</b>: make {plural(count, "it", "them")} yours, or
        keep what is right.
      </span>
      <button type="button" onClick={onNext}>
        To the next one
      </button>
    </p>
  );
}

interface PartProps {
  readonly session: Session;
  readonly parts: PlanParts;
  readonly name: keyof PlanParts;
  readonly title: string;
  /** Where its numbers stand: a sheet, and a line of it. */
  readonly to: readonly [SheetKey, string?];
  readonly children?: ComponentChildren;
}

/** A part of the plan with its heading; without children its fields one beside the other. */
function Part({ session, parts, name, title, to: [sheet, row], children }: PartProps) {
  const book = session.book.value;
  const left = examplesIn(book, fieldsIn(parts, name));
  const { title: sheetTitle, rows, columns } = book.sheets[sheet];
  const first = row ?? rows[0]?.id;
  const column = sheet === "edition" ? "value" : columns.find(({ hidden }) => !hidden)?.key;
  return (
    <section class="part" aria-label={title} data-testid={`plan-${name}`}>
      <div class="part-head">
        <h3>{title}</h3>
        {left.length > 0 ? (
          <button type="button" class="keep-all" onClick={() => keep(session, left)}>
            {`Keep the template’s ${counted(left.length, "amount")}`}
          </button>
        ) : null}
        {first !== undefined && column !== undefined ? (
          <button type="button" class="link" onClick={() => goTo(session, { sheet, row: first, column })}>
            {sheetTitle} sheet
          </button>
        ) : null}
      </div>
      {children ?? <Fields session={session} fields={fieldsIn(parts, name)} />}
    </section>
  );
}

interface FieldsProps {
  readonly session: Session;
  readonly fields: readonly PlanField[];
  readonly children?: ComponentChildren;
}

/** Fields one beside the other; those of a step say of which. */
function Fields({ session, fields, children }: FieldsProps) {
  return (
    <div class="fields">
      {fields.map(({ title, of, ...field }) => (
        <PlanInput
          key={`${field.cell.row} ${field.cell.column}`}
          session={session}
          field={{ ...field, title: of === undefined ? title : `${title}, ${of}` }}
        />
      ))}
      {children}
    </div>
  );
}

/** Rows of a sheet, each with its name and its fields. */
function Rows({ session, rows }: { readonly session: Session; readonly rows: readonly PlanRow[] }) {
  return (
    <>
      {rows.map(({ id, title, fields }) => (
        <fieldset key={id} class="fields-of">
          <legend>{title}</legend>
          <div class="fields">
            {fields.map((field) => (
              <PlanInput key={field.cell.column} session={session} field={field} />
            ))}
          </div>
        </fieldset>
      ))}
    </>
  );
}
