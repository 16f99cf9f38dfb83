// The answer beside the plan: what a piece costs, how many to start, the price, what it leaves, when it is ready.
import { counted } from "../../core/counted";
import "./answer.css";
import { addMorePieces, removePieces } from "../../app/commands/row-commands";
import { phaseOf } from "../../app/edition/figures";
import type { Session } from "../../app/edition/session";
import {
  averageWords,
  editionNumber,
  gapOf,
  type PieceGap,
  planLine,
  startWords,
  type TierAnswer,
  tierAnswers,
} from "../../app/plan/plan-answer";
import { pricesTyped } from "../../app/settle/price-words";
import { numberAt, storyMoney } from "../../app/settle/story";
import { LinkedNumber, SentenceText } from "../controls/linked-number";
import { useReadyOn } from "./use-ready-on";

export function PlanAnswer({ session }: { readonly session: Session }) {
  session.valuesVersion.value;
  session.book.value;
  const tiers = tierAnswers(session);
  const gap = gapOf(session);
  const left = numberAt(session, planLine("plan_pays")) ?? 0;
  const hasTiers = tiers.length > 1;
  return (
    <div class="answer" data-testid="answer">
      <h2 class="unseen">What the plan comes to</h2>
      {tiers.map((tier) => (
        <Tier key={tier.tier} session={session} tier={tier} hasTiers={hasTiers} />
      ))}
      {phaseOf(session) === "before" ? null : (
        <section class="average">
          <p class="quiet" data-testid="answer-average">
            <SentenceText session={session} parts={averageWords(session, hasTiers)} />
          </p>
        </section>
      )}
      <section>
        <h3>Start</h3>
        <p class="figure" data-testid="answer-starts">
          <LinkedNumber session={session} number={editionNumber(session, "starts")} /> <small>pieces</small>
        </p>
        <p class="quiet">
          <SentenceText session={session} parts={startWords(session)} />
        </p>
        {gap ? <Mend session={session} gap={gap} /> : null}
      </section>
      <section>
        <h3>
          Price {pricesTyped(session)} for a margin of{" "}
          <LinkedNumber session={session} number={editionNumber(session, "wanted_margin")} />
        </h3>
        {tiers.map(({ tier, price, asked, margin, isBelow }) => (
          <p key={tier} class="price" data-testid={`answer-price-${tier}`}>
            {hasTiers ? <span>{tier}</span> : null}
            <b>
              <LinkedNumber session={session} number={price} />
            </b>
            <span class={isBelow ? "below" : "quiet"}>
              {isBelow ? "▾ yours is below: " : "yours: "}
              <LinkedNumber session={session} number={asked} />
            </span>
            {margin ? (
              <span class="quiet">
                leaves <LinkedNumber session={session} number={margin} />
              </span>
            ) : null}
          </p>
        ))}
      </section>
      <section>
        <h3>{left < 0 ? "The plan falls short by" : "The plan leaves"}</h3>
        <p class={left < 0 ? "figure minus" : "figure"} data-testid="answer-leaves">
          <LinkedNumber session={session} number={storyMoney(session, planLine("plan_pays"))} />
        </p>
      </section>
      <Ready session={session} />
    </div>
  );
}

interface TierProps {
  readonly session: Session;
  readonly tier: TierAnswer;
  readonly hasTiers: boolean;
}

function Tier({ session, tier: { tier, cost, parts }, hasTiers }: TierProps) {
  return (
    <section data-testid={`answer-${tier}`}>
      <h3>{hasTiers ? `A ${tier} piece costs` : "One piece costs"}</h3>
      <p class="figure" data-testid={`answer-cost-${tier}`}>
        <LinkedNumber session={session} number={cost} />
      </p>
      <div class="cost-bar" aria-hidden="true">
        {parts.map(({ part, share }) => (
          <i key={part} class={`part-${part}`} style={{ width: `${share * 100}%` }} />
        ))}
      </div>
      <dl class="cost-parts">
        {parts.map(({ part, title, cost }) => (
          <div key={part}>
            <dt>
              <i class={`part-${part}`} aria-hidden="true" />
              {title}
            </dt>
            <dd>
              <LinkedNumber session={session} number={cost} />
            </dd>
          </div>
        ))}
      </dl>
    </section>
  );
}

/** Rows that are missing on Pieces, or are too many, with one press to mend it. */
function Mend({ session, gap: { words, add, rows } }: { readonly session: Session; readonly gap: PieceGap }) {
  const count = Math.abs(add);
  const pieces = counted(count, "piece");
  const mend = () => {
    const last = session.book.value.sheets.pieces.rows.slice(rows - count).map(({ id }) => id);
    if (add > 0) addMorePieces(session, add);
    else removePieces(session, last);
  };
  return (
    <p class="gap" role="status" data-testid="gap">
      <span>{words}</span>
      <button type="button" onClick={mend}>
        {add > 0 ? `Add ${pieces}` : `Take ${pieces} away`}
      </button>
    </p>
  );
}

function Ready({ session }: { readonly session: Session }) {
  const ready = useReadyOn(session);
  return (
    <section>
      <h3>Ready</h3>
      <p class={ready?.isLate ? "figure late" : "figure"} data-testid="answer-ready">
        <button
          type="button"
          class="linked"
          title="From the calendar"
          onClick={() => {
            session.page.value = "calendar";
          }}
        >
          {ready?.isLate ? "⚠ " : ""}
          {ready?.text ?? "…"}
        </button>
      </p>
      {ready?.isLate ? <p class="quiet">After it is due.</p> : null}
    </section>
  );
}
