// Above the Results sheet: the edition's story in three sentences and three pictures, each with its numbers as a table.

import { showNumber } from "../../app/edition/format";
import { moneyText } from "../../app/edition/money-text";
import type { Session } from "../../app/edition/session";
import { pricesTyped } from "../../app/settle/price-words";
import {
  COST_KINDS,
  cautionsOf,
  KIND_FILLS,
  type LossOfStep,
  lineOfKind,
  lossesOf,
  sentencesOf,
  storyMoney,
  storyNumber,
  type TierBuild,
  tiersOf,
} from "../../app/settle/story";
import { LinkedNumber, SentenceText } from "../controls/linked-number";
import { Picture } from "../controls/picture";
import { TableHead } from "../controls/table-head";

/** The panel above the Results sheet. */
export function ResultsPanel({ session }: { readonly session: Session }) {
  session.valuesVersion.value;
  const { currency } = session.formats;
  // Nothing is shown before every number is there: half a story is a wrong one.
  if (session.value({ sheet: "results", row: "pays", column: "value" }) === undefined)
    return (
      <section class="story" aria-label="What it came to">
        <p class="quiet">The numbers are being calculated…</p>
      </section>
    );
  const losses = lossesOf(session);
  const tiers = tiersOf(session);
  return (
    <section class="story" aria-label="What it came to" data-testid="story">
      <div class="answers">
        {sentencesOf(session).map(({ question, parts }) => (
          <div key={question} class="sentence">
            <h2>{question}</h2>
            <p>
              <SentenceText session={session} parts={parts} />
            </p>
          </div>
        ))}
      </div>
      {cautionsOf(session).map(({ parts }, at) => (
        <p class="caution" key={`${at}`}>
          <SentenceText session={session} parts={parts} />
        </p>
      ))}
      <div class="pictures">
        {losses.length > 0 ? <Losses session={session} losses={losses} currency={currency} /> : null}
        {tiers.length > 0 ? (
          <div>
            <Build session={session} tiers={tiers} currency={currency} />
            <Leaves session={session} tiers={tiers} currency={currency} />
          </div>
        ) : null}
      </div>
    </section>
  );
}

interface LossesProps {
  readonly session: Session;
  readonly losses: readonly LossOfStep[];
  readonly currency: string;
}

function Losses({ session, losses, currency }: LossesProps) {
  const { locale } = session.formats;
  const bars = losses.map(({ title, money, plannedMoney, lost, entered }) => ({
    ...{ title, money, plannedMoney },
    label: `${lost} of ${entered}`,
  }));
  const cell = (step: string, column: string) => ({ sheet: "route", row: step, column }) as const;
  return (
    <figure>
      <figcaption>
        Where pieces and money were lost <small>{currency} · bar: lost · tick: what the plan allowed</small>
      </figcaption>
      <Picture
        label={`Money lost by step: ${losses.map(({ title, money }) => `${title} ${moneyText(session, money)}`).join(", ")}`}
        of={[session.valuesVersion.value, currency]}
        draw={async (width) => (await import("../../charts/loss-plots")).drawLosses(bars, width)}
      />
      <details>
        <summary>The same as a table</summary>
        <table class="plain-table">
          <TableHead titles={["Step", "entered", "lost", "planned", "money lost", "planned"]} />
          <tbody>
            {losses.map((step) => (
              <tr key={step.step}>
                <th scope="row">{step.title}</th>
                <td>
                  <LinkedNumber
                    session={session}
                    number={{ text: `${step.entered}`, cell: cell(step.step, "entered") }}
                  />
                </td>
                <td>
                  <LinkedNumber session={session} number={{ text: `${step.lost}`, cell: cell(step.step, "lost") }} />
                </td>
                <td>{showNumber(step.plannedLost, 1, 1, locale)}</td>
                <td>
                  <LinkedNumber
                    session={session}
                    number={{ text: moneyText(session, step.money), cell: cell(step.step, "lost_cost") }}
                  />
                </td>
                <td>
                  <LinkedNumber
                    session={session}
                    number={{ text: moneyText(session, step.plannedMoney), cell: cell(step.step, "loss_costs") }}
                  />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </figure>
  );
}

interface TiersProps {
  readonly session: Session;
  readonly tiers: readonly TierBuild[];
  readonly currency: string;
}

function Build({ session, tiers, currency }: TiersProps) {
  const parts = tiers.flatMap(({ tier, parts: of }) =>
    COST_KINDS.map((kind) => ({ tier, kind, value: of[kind], fill: KIND_FILLS[kind] })),
  );
  return (
    <figure>
      <figcaption>
        What a finished piece is made of <small>{currency}</small>
      </figcaption>
      <Picture
        label={`Cost of a piece by kind: ${tiers.map(({ tier, cost }) => `${tier} ${moneyText(session, cost)}`).join(", ")}`}
        of={[session.valuesVersion.value, currency]}
        draw={async (width) => (await import("../../charts/loss-plots")).drawBuild(parts, width)}
      />
      <p class="legend" aria-hidden="true">
        {COST_KINDS.map((kind) => (
          <span key={kind}>
            <i style={{ background: KIND_FILLS[kind] }} />
            {kind.toLowerCase()}
          </span>
        ))}
      </p>
      <details>
        <summary>The same as a table</summary>
        <table class="plain-table">
          <TableHead
            titles={[`${currency} a piece`, ...tiers.map(({ tier, count }) => `${tier} (${count})`), "whole edition"]}
          />
          <tbody>
            {COST_KINDS.map((kind) => (
              <tr key={kind}>
                <th scope="row">{kind}</th>
                {tiers.map(({ tier, parts: of }) => (
                  <td key={tier}>{moneyText(session, of[kind])}</td>
                ))}
                <td>
                  <LinkedNumber session={session} number={storyMoney(session, lineOfKind(session, kind))} />
                </td>
              </tr>
            ))}
            <tr>
              <th scope="row">Together</th>
              {tiers.map(({ tier }) => (
                <td key={tier}>
                  <LinkedNumber
                    session={session}
                    number={storyMoney(session, { sheet: "results", row: `cost_${tier}`, column: "value" })}
                  />
                </td>
              ))}
              <td />
            </tr>
          </tbody>
        </table>
      </details>
    </figure>
  );
}

function Leaves({ session, tiers, currency }: TiersProps) {
  const bars = tiers.map(({ tier, leaves }) => ({ tier, leaves, label: moneyText(session, leaves, 0) }));
  const cell = (name: string) => ({ sheet: "results", row: name, column: "value" }) as const;
  return (
    <figure>
      <figcaption>
        What each tier leaves <small>once all is sold, after tax, fees, packing and cost</small>
      </figcaption>
      <Picture
        label={`What each tier leaves once all is sold: ${bars.map(({ tier, label }) => `${tier} ${label}`).join(", ")}`}
        of={[session.valuesVersion.value, currency]}
        draw={async (width) => (await import("../../charts/loss-plots")).drawTiers(bars, width)}
      />
      <details>
        <summary>The same as a table</summary>
        <table class="plain-table">
          <TableHead
            titles={[
              "Tier",
              "pieces",
              "cost each",
              "leave together",
              `price ${pricesTyped(session)} for the wanted margin`,
              "that leaves",
            ]}
          />
          <tbody>
            {tiers.map(({ tier, count }) => (
              <tr key={tier}>
                <th scope="row">{tier}</th>
                <td>
                  <LinkedNumber session={session} number={{ text: `${count}`, cell: cell(`sold_${tier}`) }} />
                </td>
                {[`cost_${tier}`, `leaves_${tier}`, `price_for_${tier}`].map((row) => (
                  <td key={row}>
                    <LinkedNumber session={session} number={storyMoney(session, cell(row))} />
                  </td>
                ))}
                <td>
                  <LinkedNumber session={session} number={storyNumber(session, cell(`margin_at_${tier}`))} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </figure>
  );
}
