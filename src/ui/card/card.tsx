// The card beside the sheet: what the selected cell is, where its value comes from, and how to change it.

import { displayText, formulaAt, scaleAt, shownNumber, shownText, takesUnits, unitOf } from "../../app/edition/display";
import { moneyText } from "../../app/edition/money-text";
import type { Session } from "../../app/edition/session";
import { textWithUnit } from "../../app/edition/text-with-unit";
import { loadOf } from "../../app/help/trace";
import { counted, listed } from "../../core/counted";
import { type CellName, cellKeyOf, describeCell, isOverride, resolveCell, specOf } from "../../core/document/access";
import { allowedFor } from "../../core/document/entry";
import type { Column, Row } from "../../core/document/workbook";
import { readableFormula } from "../../core/formula/typed-formula";
import { isCellError } from "../../engine/values";
import { goTo } from "../edition/go-to";
import { keptTextsOf } from "../edition/kept-text";
import { lazily } from "../shell/lazily";
import { CellForm } from "./cell-form";
import { KeptNotes } from "./kept-notes";
import { Origins } from "./origins";

/** Whether there is a card: a page has the whole width, but what was typed and landed nowhere is offered there too. */
export function hasCard(session: Session): boolean {
  const page = session.page.value;
  return page === undefined || page === "plan" || keptTextsOf(session).value.length > 0;
}

/** The card for whatever is selected. */
export function Card({ session }: { readonly session: Session }) {
  session.valuesVersion.value;
  const selection = session.selection.value;
  const sheet = session.sheet.value;
  const book = session.book.value;
  const cell =
    session.page.value === undefined && selection?.sheet === sheet ? { sheet, ...selection.anchor } : undefined;
  const { column, row } = (cell && resolveCell(book, cell)) ?? {};
  const page = session.page.value;
  const isAnswer = page === "plan";
  const hasKept = keptTextsOf(session).value.length > 0;
  return (
    <aside
      class={cell || isAnswer || hasKept ? "card" : "card idle"}
      id="card"
      // biome-ignore lint/a11y/noNoninteractiveTabindex: the card can be gone to by key, and scrolls
      tabIndex={0}
      aria-label={isAnswer ? "What the plan comes to" : "The selected cell"}
    >
      {cell ? (
        <button
          type="button"
          class="narrow-only put-by"
          onClick={() => {
            session.selection.value = undefined;
          }}
        >
          Close
        </button>
      ) : null}
      <KeptNotes session={session} cell={column && row ? cell : undefined} />
      {cell && column && row ? (
        <CellCard session={session} cell={cell} column={column} row={row} />
      ) : isAnswer ? (
        <LazyAnswer session={session} />
      ) : page === undefined ? (
        <LazySheetCard session={session} />
      ) : null}
    </aside>
  );
}

/** The answer of the plan stands where the card does: beside it, always in sight. */
const LazyAnswer = lazily(() => import("../plan/answer").then(({ PlanAnswer }) => PlanAnswer));

const LazySheetCard = lazily(() => import("./sheet-card").then(({ SheetCard }) => SheetCard));

interface CellProps {
  readonly session: Session;
  readonly cell: CellName;
  readonly column: Column;
  readonly row: Row;
}

function CellCard({ session, cell, column, row }: CellProps) {
  const book = session.book.value;
  const spec = specOf(column, row);
  const value = session.value(cell);
  const formula = formulaAt(session, cell);
  const unit = column.format === "percent" || spec.format === "percent" ? "" : unitOf(session, cell);
  const kind = isOverride(column, row)
    ? "given by hand, in place of its formula"
    : spec.kind === "computed"
      ? "computed"
      : row.cells[column.key] === undefined && spec.formula !== undefined
        ? "entry, not typed here: it starts from"
        : "entry";
  return (
    <>
      <h2>{describeCell(book, cell)}</h2>
      <p class="quiet">{kind}</p>
      {isCellError(value) ? (
        <div class="problem" role="alert">
          <b>{value.title}</b>
          <p>{value.message}</p>
          {value.from && (value.from.row !== cell.row || value.from.column !== cell.column) ? (
            <button type="button" onClick={() => value.from && goTo(session, value.from)}>
              Go to where it began: {describeCell(book, value.from)}
            </button>
          ) : null}
        </div>
      ) : (
        <p class="value" data-testid="card-value">
          {value === undefined ? "…" : shownText(session, cell) || "blank"}{" "}
          <small>{typeof value === "number" ? unit : ""}</small>
        </p>
      )}
      {formula === undefined ? null : (
        <>
          <p class="words">
            {(isOverride(column, row) ? undefined : spec.words) ?? readableFormula(book, cell.sheet, formula)}
          </p>
          <details>
            <summary>The formula as it is written</summary>
            <code>{formula}</code>
            {spec.words ? <p class="quiet">{readableFormula(book, cell.sheet, formula)}</p> : null}
          </details>
        </>
      )}
      {formula === undefined && spec.words ? <p class="words">{spec.words}</p> : null}
      <CellForm session={session} cell={cell} column={column} row={row} key={cellKeyOf(cell)} />
      {spec.kind === "input" ? (
        <p class="quiet">
          It takes {allowedFor(book, spec, scaleAt(session, column, row))}
          {takesUnits(column, row) ? ", also with a unit beside it" : ""}.
        </p>
      ) : null}
      {cell.sheet === "kilns" || cell.sheet === "firings" || cell.sheet === "programmes" ? (
        <LazyHeatNotes session={session} row={cell.row} of={cell.sheet} />
      ) : null}
      <LoadNote session={session} cell={cell} />
      <Origins session={session} cell={cell} />
      <SelectionSum session={session} />
      {cell.sheet === "route" || cell.sheet === "firings" || column.step ? (
        <LazyCautions session={session} cell={cell} />
      ) : null}
    </>
  );
}

/** Notes on a kiln or a firing; the heat model they need is loaded when they are first shown. */
const LazyHeatNotes = lazily(() => import("./kiln-notes").then(({ HeatNotes }) => HeatNotes));
/** Cautions are loaded when a cell of a step is first selected. */
const LazyCautions = lazily(() => import("./caution-notes").then(({ CautionNotes }) => CautionNotes));

/** For a share of a firing: what it would have been in a full load. */
function LoadNote({ session, cell }: { readonly session: Session; readonly cell: CellName }) {
  const load = loadOf(session, cell);
  if (!load) return null;
  const { count, capacity, share, full } = load;
  const money = (amount: number) => moneyText(session, amount);
  return (
    <p class="words" data-testid="load-note">
      {count === 1
        ? "It was fired alone and bears the whole firing."
        : `${counted(count, "piece was", "pieces were")} in this load; there is room for ${capacity}.`}{" "}
      {count < capacity
        ? `In a full load of ${capacity} a piece would have borne about ${money(full)}; this one bears ${money(share)}.`
        : ""}
    </p>
  );
}

/** Count, sums and mean of a selected block; what is in different units is not added up, and shares never are. */
function SelectionSum({ session }: { readonly session: Session }) {
  const selection = session.selection.value;
  if (!selection || selection.rows.length * selection.columns.length < 2) return null;
  const byUnit = new Map<string, number[]>();
  for (const row of selection.rows)
    for (const column of selection.columns) {
      const cell = { sheet: selection.sheet, row, column };
      const value = shownNumber(session, cell);
      const spec = resolveCell(session.book.value, cell)?.spec;
      if (value === undefined || spec?.type !== "number") continue;
      const unit = spec.format === "percent" ? "%" : unitOf(session, cell);
      byUnit.set(unit, [...(byUnit.get(unit) ?? []), value]);
    }
  const [only, ...others] = [...byUnit];
  if (!only) return null;
  const count = [...byUnit.values()].flat().length;
  const show = (value: number, unit: string) => {
    const format = unit === "%" ? ({ format: "percent" } as const) : { decimals: 2 };
    const text = displayText(session, { kind: "input", type: "number", ...format }, value);
    return textWithUnit(session, text, unit === "%" ? "" : unit);
  };
  const sum = (numbers: readonly number[]) => numbers.reduce((total, value) => total + value, 0);
  const sums = [...byUnit].filter(([unit]) => unit !== "%").map(([unit, numbers]) => show(sum(numbers), unit));
  const mean = others.length > 0 ? [] : [`on average ${show(sum(only[1]) / count, only[0])}`];
  const said = [...(sums.length > 0 && sums.length < 4 ? [`together ${listed(sums)}`] : []), ...mean].join(", ");
  return (
    <p class="words" data-testid="selection-sum">
      {counted(count, "number")} selected{said && `: ${said}`}.
    </p>
  );
}
