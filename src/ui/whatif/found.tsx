// What an answer says in words, and what can be tried from it.

import type { ComponentChildren } from "preact";
import { withCurrency } from "../../app/edition/money-text";
import type { Session } from "../../app/edition/session";
import { pointAbove } from "../../app/settle/price-words";
import type { Answer, AnswerOf } from "../../app/whatif/whatif-answers";
import { dropCase, setRange, useCase } from "../../app/whatif/whatif-apply";
import { type AskCell, bareText, differenceText, lineCell, valueText } from "../../app/whatif/whatif-cells";
import type { WhatIfDesk } from "../../app/whatif/whatif-desk";
import { plausibleRange } from "../../app/whatif/whatif-ranges";
import { countText, crossingText, moneyOf, preciseText, shareText } from "../../app/whatif/whatif-tables";
import { counted, listed } from "../../core/counted";
import { cellKeyOf } from "../../core/document/access";
import type { Ranked } from "../../whatif/questions/ranking";
import { sameCell } from "../../whatif/run/case-matrix";
import { TableHead } from "../controls/table-head";
import { NumberField } from "./number-field";

interface FoundProps<K extends Answer["kind"]> {
  readonly desk: WhatIfDesk;
  readonly found: AnswerOf<K>;
}

/** The values that were found, each of which can be tried. */
export function BreakEvenFound({ desk, found }: FoundProps<"breakEven">) {
  const { session } = desk;
  const { of, aim, target } = found;
  const { crossings, nearest, hasMore } = found.found;
  const wanted = `${aim.title} is ${valueText(session, aim, target)}`;
  const offer = (x: number) => (
    <button type="button" onClick={() => desk.try(of.cell, x)}>
      Try {preciseText(session, of, x)}
    </button>
  );
  if (crossings.length === 0)
    return (
      <div class="words" data-testid="break-even">
        <p>
          <b>No answer.</b> Nowhere in this range of {of.title} is it so that {wanted}.
        </p>
        {nearest ? (
          <p>
            It comes nearest at {preciseText(session, of, nearest.x)}, with {valueText(session, aim, nearest.y)}.{" "}
            {offer(nearest.x)}
          </p>
        ) : (
          <p>It is no number anywhere in this range.</p>
        )}
      </div>
    );
  return (
    <div class="words" data-testid="break-even">
      <p>
        <b>
          {wanted} {crossings.length === 1 ? "once" : counted(crossings.length, "time")}
        </b>
        {hasMore ? ", and more often than are listed" : ""}:
      </p>
      <ul>
        {crossings.map((one) => (
          <li key={crossingText(session, found, one)}>
            {crossingText(session, found, one)}{" "}
            {one.kind === "met"
              ? [offer(one.at.x), <PricePoint key="point" desk={desk} of={of} price={one.at.x} offer={offer} />]
              : one.kind === "stretch"
                ? offer(one.from.x)
                : [offer(one.before.x), offer(one.after.x)]}
          </li>
        ))}
      </ul>
    </div>
  );
}

interface PointProps {
  readonly desk: WhatIfDesk;
  readonly of: AskCell;
  readonly price: number;
  readonly offer: (price: number) => ComponentChildren;
}

/** A price that was found, up to the maker's next price point. */
function PricePoint({ desk, of, price, offer }: PointProps) {
  const point = pointAbove(desk.session, of.cell, price);
  return point === undefined ? null : <> or, as your price points go, {offer(point)}</>;
}

/** Where the line of a table runs, or that there is none. */
export function TableFound({ desk, found }: FoundProps<"table">) {
  const { session } = desk;
  const { aim, level, line, table } = found;
  const is = valueText(session, aim, level);
  const below = table.cells.some((value) => value < level);
  return (
    <p class="words" data-testid="table-line">
      {line.length > 0
        ? `On the line ${aim.title} is ${is}; the brown side is below, the blue side above.`
        : `Everywhere in this range ${aim.title} is ${below ? "below" : "at or above"} ${is}: there is no line to draw.`}
    </p>
  );
}

const FROM = { given: "yours", counts: "from the counts", usual: "± a tenth" } as const;

/** Every ranked input with the ends of its range, to be changed and tried. */
export function RankingFound({ desk, found }: FoundProps<"ranking">) {
  return (
    <div class="scroll">
      <table class="plain-table ranked" data-testid="ranking">
        <TableHead titles={["Input", "low", "high", "range", "at low", "at high", "moves it by", "leave out"]} />
        <tbody>
          {found.ranking.ranked.map((ranked) => {
            const of = found.inputs.get(cellKeyOf(ranked.input));
            return of ? <RankedRow key={cellKeyOf(ranked.input)} {...{ desk, of, ranked, aim: found.aim }} /> : null;
          })}
        </tbody>
      </table>
    </div>
  );
}

interface RankedRowProps {
  readonly desk: WhatIfDesk;
  readonly of: AskCell;
  readonly ranked: Ranked;
  readonly aim: AskCell;
}

function RankedRow({ desk, of, ranked, aim }: RankedRowProps) {
  const { session } = desk;
  const { low, high, atLow, atHigh, effect } = ranked;
  const range = plausibleRange(session, of);
  const take = (value: number, result: number) => (
    <button
      type="button"
      class="linked"
      title={`Try ${of.title} ${valueText(session, of, value)}`}
      onClick={() => desk.try(of.cell, value)}
    >
      {bareText(session, aim, result)}
    </button>
  );
  return (
    <tr>
      <th scope="row">
        {of.title} <small>{of.spec.format === "percent" ? "%" : of.unit}</small>
      </th>
      <td>
        <NumberField
          session={session}
          of={of}
          isLabelUnseen
          label={`${of.title}, low`}
          value={low}
          onChange={(moved) => setRange(session, of, { low: moved, high })}
        />
      </td>
      <td>
        <NumberField
          session={session}
          of={of}
          isLabelUnseen
          label={`${of.title}, high`}
          value={high}
          onChange={(moved) => setRange(session, of, { low, high: moved })}
        />
      </td>
      <td>
        {range.from === "given" ? (
          <button
            type="button"
            class="linked"
            title="Back to the usual range"
            onClick={() => setRange(session, of, undefined)}
          >
            {FROM.given}
          </button>
        ) : (
          <span class="quiet">{FROM[range.from]}</span>
        )}
      </td>
      <td>{take(low, atLow)}</td>
      <td>{take(high, atHigh)}</td>
      <td>{differenceText(session, aim, effect).replace("+", "")}</td>
      <td>
        <button
          type="button"
          class="plain"
          aria-label={`Leave out ${of.title}`}
          onClick={() => desk.change({ ranked: desk.settings.value.ranked.filter((one) => !sameCell(one, of.cell)) })}
        >
          ×
        </button>
      </td>
    </tr>
  );
}

/** Cases side by side, differences to today beneath each number. */
export function CasesFound({ desk, found }: FoundProps<"cases">) {
  const { session } = desk;
  const { cases, results, today } = found;
  if (cases.length === 0)
    return (
      <p class="words">
        No case is kept yet. Change an input on the left, or try something in another question, and keep it as a case.
      </p>
    );
  const kept = session.book.value.lists.cases;
  return (
    <div class="scroll">
      <table class="plain-table cases" data-testid="cases">
        <TableHead titles={["Result", "today", ...cases.map(({ title }) => title)]} />
        <tbody>
          {results.map((of, at) => (
            <tr key={of.title}>
              <th scope="row">{of.title}</th>
              <td>{valueText(session, of, today[at] ?? Number.NaN)}</td>
              {cases.map(({ id, values }) => (
                <td key={id}>
                  <b>{valueText(session, of, values[at] ?? Number.NaN)}</b>
                  <small>{differenceText(session, of, (values[at] ?? Number.NaN) - (today[at] ?? Number.NaN))}</small>
                </td>
              ))}
            </tr>
          ))}
          <tr>
            <th scope="row">It changes</th>
            <td />
            {cases.map(({ id, settings }) => (
              <td key={id} class="changes">
                <Changes session={session} settings={settings} found={found} />
              </td>
            ))}
          </tr>
          <tr>
            <th scope="row">
              <span class="unseen">What to do with it</span>
            </th>
            <td />
            {cases.map(({ id, settings, title }) => {
              const entry = kept.find((one) => one.id === id);
              return (
                <td key={id}>
                  <div class="doing">
                    <button type="button" aria-label={`Use ${title}`} onClick={() => useCase(session, settings)}>
                      Use this case
                    </button>
                    {entry ? (
                      <>
                        <button type="button" aria-label={`Try ${title}`} onClick={() => desk.tryAll(settings)}>
                          Try it
                        </button>
                        <button type="button" aria-label={`Remove ${title}`} onClick={() => dropCase(session, entry)}>
                          Remove
                        </button>
                      </>
                    ) : null}
                  </div>
                </td>
              );
            })}
          </tr>
        </tbody>
      </table>
    </div>
  );
}

interface ChangesProps {
  readonly session: Session;
  readonly settings: AnswerOf<"cases">["cases"][number]["settings"];
  readonly found: AnswerOf<"cases">;
}

function Changes({ session, settings, found }: ChangesProps) {
  return (
    <ul>
      {settings.map(({ cell, value }) => {
        const of = found.inputs.get(cellKeyOf(cell));
        return of ? (
          <li key={cellKeyOf(cell)}>
            {of.title} {valueText(session, of, value)}
          </li>
        ) : null;
      })}
    </ul>
  );
}

/** Chance in sentences. */
export function ChanceFound({ desk, found }: FoundProps<"chance">) {
  const { session } = desk;
  const { chance, starts, wanted, best, sure, unsureChance, draws, seed, drawn, isBestAtEnd } = found.chance;
  const money = (value: number) => withCurrency(session.formats, moneyOf(session, value));
  const count = (value: number) => countText(session, value);
  const share = (value: number) => shareText(session, value);
  return (
    <div class="words" data-testid="chance">
      <p>
        <b>
          {count(starts)} started give {count(chance.good.median)} good pieces
        </b>{" "}
        in the middle, {count(chance.good.low)} to {count(chance.good.high)} in four runs of five; {count(wanted)} are
        wanted. The chance of falling short is <b>{share(chance.short)}</b>, with{" "}
        {countText(session, chance.expectedShort, 2)} missing on average over all runs. This is exact.
        {chance.shortOf.standard !== undefined && chance.shortOf.special !== undefined
          ? ` Each piece is for one tier from the start: standard pieces fall short with ${share(chance.shortOf.standard)}, special ones with ${share(chance.shortOf.special)}; counted together, whichever they are for, with ${share(chance.shortTogether)}.`
          : ""}
        {Number.isNaN(unsureChance)
          ? ""
          : ` If the losses are known only from the pieces counted so far, the chance of falling short is ${share(1 - unsureChance)}.`}
      </p>
      <p>
        The run leaves <b>{money(chance.profit.median)}</b> in the middle, {money(chance.profit.low)} to{" "}
        {money(chance.profit.high)} in four runs of five, and loses money in <b>{share(chance.losing)}</b> of them
        {chance.losing > 0 ? ` (give or take ${share(chance.losingError)})` : ""}. Drawn {counted(draws, "time")} from
        seed {seed}
        {drawn.length > 0
          ? `, with ${listed(drawn)} drawn within their ranges`
          : "; no price was drawn, since none has a range of its own"}
        .
        {chance.left > 0
          ? ` ${counted(chance.left, "draw had no cost and is", "draws had no cost and are")} left out.`
          : ""}
      </p>
      {best ? (
        <p>
          <b>Starting {count(best.starts)} is expected to leave most</b>: {money(best.profit)}, and it delivers with a
          chance of {share(best.chance)}
          {isBestAtEnd ? "; more than that was not weighed" : ""}.
          {Number.isNaN(sure)
            ? ""
            : ` Weighing a piece short against a piece too many, it pays to be about ${share(sure)} sure.`}{" "}
          <button type="button" onClick={() => desk.try(lineCell("edition", "starts"), best.starts)}>
            Try {count(best.starts)} to start
          </button>
        </p>
      ) : (
        <p>No number of starts could be weighed: the planned cost is no number.</p>
      )}
    </div>
  );
}
