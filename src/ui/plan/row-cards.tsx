// The rows of a short sheet as cards: the one that is selected stands open beneath the grid, its cells as fields in groups.
// In one column the cards stand in the grid's place, one under the other.
import "./plan.css";
import "./row-cards.css";
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { removeSheetRows } from "../../app/commands/row-commands";
import { displayOf, unitOf } from "../../app/edition/display";
import type { Session } from "../../app/edition/session";
import type { CardSheet } from "../../app/edition/sheet-ways";
import { textWithUnit } from "../../app/edition/text-with-unit";
import { copyRow } from "../../app/plan/card-commands";
import type { PlanField } from "../../app/plan/plan-parts";
import { cardParts, cardSummary, cardsOf, type RowCard } from "../../app/plan/row-cards";
import { LABEL_COLUMNS } from "../../core/document/access";
import { LinkedNumber } from "../controls/linked-number";
import { focusWish, goTo, wantedCellOf } from "../edition/go-to";
import { shownRows } from "../edition/rows-shown";
import { CommonKilns } from "./common-kilns";
import { KilnPicture } from "./kiln-picture";
import { PlanInput } from "./plan-input";

/** Whether the cards stand in the grid's place. */
const isOneColumn = () => matchMedia("(max-width: 820px)").matches;

interface Props {
  readonly session: Session;
  readonly sheet: CardSheet;
}

export function RowCards({ session, sheet }: Props) {
  session.valuesVersion.value;
  const book = session.book.value;
  const [opened, setOpened] = useState("");
  const host = useRef<HTMLElement>(null);
  const cards = cardsOf(book, sheet, shownRows(session));
  const selected = session.selection.value?.sheet === sheet ? session.selection.value.anchor : undefined;
  const has = (row: string | undefined) => (card: RowCard) => row !== undefined && card.rows.includes(row);
  const open = cards.find(has(selected?.row)) ?? cards.find(has(opened)) ?? cards[0];
  useFocusWish(host, selected);
  return (
    <section class="plan row-cards" aria-label={`${book.sheets[sheet].title}, one by one`} ref={host}>
      {cards.map((card) => (
        <article key={card.id} class={card === open ? "row-card open" : "row-card"}>
          <h2>
            <button
              type="button"
              class="row-title"
              aria-expanded={card === open}
              onClick={() => {
                setOpened(card.id);
                session.selection.value = undefined;
              }}
            >
              {card.title}
            </button>
            <small class="quiet">{cardSummary(session, sheet, card.id)}</small>
          </h2>
          {card === open ? <OpenCard session={session} sheet={sheet} card={card} /> : null}
        </article>
      ))}
    </section>
  );
}

/** Where there is no grid in sight, a wish for the sheet, or for a cell of it, is answered here; a cell also on arrival. */
function useFocusWish(
  host: { readonly current: HTMLElement | null },
  cell: { readonly row: string; readonly column: string } | undefined,
): void {
  const answered = useRef(cell ? -1 : focusWish.peek());
  useLayoutEffect(() => {
    if (answered.current === focusWish.peek()) return;
    answered.current = focusWish.peek();
    if (!isOneColumn()) return;
    const at = cell ? `[data-of="${cell.row} ${cell.column}"] :is(input, select, button)` : ".row-title";
    host.current?.querySelector<HTMLElement>(at)?.focus();
  }, [focusWish.value]);
}

interface OpenProps extends Props {
  readonly card: RowCard;
}

function OpenCard({ session, sheet, card }: OpenProps) {
  const isKiln = sheet === "kilns";
  const parts = cardParts(session.book.value, sheet, card.rows);
  return (
    <div class={isKiln ? "row-body drawn" : "row-body"}>
      {isKiln ? (
        <div class="row-picture">
          <KilnPicture session={session} row={card.id} />
          <CommonKilns session={session} row={card.id} />
        </div>
      ) : null}
      <div>
        {parts.map(({ title, fields, answers }) => (
          <fieldset key={title} class="fields-of">
            <legend>{title}</legend>
            <div class="fields">
              {fields.map((field) => (
                <CardField key={field.cell.column} session={session} field={{ ...field, of: card.title }} />
              ))}
              {answers.map((field) => (
                <CardAnswer key={field.cell.column} session={session} field={field} />
              ))}
            </div>
          </fieldset>
        ))}
        <CardActs session={session} sheet={sheet} card={card} />
      </div>
    </div>
  );
}

interface FieldProps {
  readonly session: Session;
  readonly field: PlanField;
}

const ofCell = ({ cell }: PlanField) => ({
  class: cell.column === "note" ? "wide" : undefined,
  "data-of": `${cell.row} ${cell.column}`,
});

/** A field; while the keyboard is in it, the card at the side is about its cell, and the grid shows where it stands. */
function CardField({ session, field }: FieldProps) {
  const { sheet, row, column } = field.cell;
  const about = () => {
    if (isOneColumn()) return;
    const at = session.selection.value?.anchor;
    if (session.selection.value?.sheet === sheet && at?.row === row && at.column === column) return;
    session.selection.value = { sheet, anchor: { row, column }, rows: [row], columns: [column] };
    wantedCellOf(session).value = { cell: field.cell, how: "reveal" };
  };
  return (
    <div {...ofCell(field)} onFocusCapture={about}>
      <PlanInput session={session} field={field} />
    </div>
  );
}

/** A computed value, which leads to where it comes from. */
function CardAnswer({ session, field }: FieldProps) {
  const shown = displayOf(session, field.cell);
  const unit = shown.isError || shown.text.endsWith("%") ? "" : unitOf(session, field.cell);
  const text = `${shown.isError ? "! " : shown.isOverride ? "◂ " : ""}${textWithUnit(session, shown.text, unit)}`;
  return (
    <div {...ofCell(field)}>
      <dl class="row-answer">
        <dt>{field.title}</dt>
        <dd class={shown.isError ? "refused" : undefined}>
          {shown.text === "" ? (
            <span class="quiet">–</span>
          ) : (
            <LinkedNumber session={session} number={{ cell: field.cell, text }} />
          )}
          {shown.isOverride ? <small class="quiet"> given by hand</small> : null}
          {shown.isError ? <small> {shown.description}</small> : null}
        </dd>
      </dl>
    </div>
  );
}

const COPIED: readonly CardSheet[] = ["materials", "kilns", "tariffs", "channels"];

function CardActs({ session, sheet, card }: OpenProps) {
  const isOne = card.rows.length === 1;
  return (
    <div class="row-acts">
      {COPIED.includes(sheet) ? (
        <button
          type="button"
          onClick={() => {
            const row = copyRow(session, sheet, card.id);
            if (row) goTo(session, { sheet, row, column: LABEL_COLUMNS[sheet] });
          }}
        >
          Make a copy of {card.title}
        </button>
      ) : null}
      {isOne ? (
        <button type="button" onClick={() => removeSheetRows(session, sheet, card.rows)}>
          Remove {card.title}
        </button>
      ) : null}
    </div>
  );
}
