// A flawed piece: ways forward side by side, from now on only, and the choice of one.
import { counted, listed, plural } from "../../core/counted";
import "../shell/pages.css";
import "../record/record.css";
import "./rescue.css";
import { useState } from "preact/hooks";
import { moneyText } from "../../app/edition/money-text";
import type { Session } from "../../app/edition/session";
import { type RescueTable, type RescueTerms, rescueTable, usualTerms } from "../../app/rescue/rescue";
import { sayWaits } from "../../app/rescue/rescue-choose";
import { recommendation } from "../../app/rescue/rescue-words";
import { otherWay, pricesTyped } from "../../app/settle/price-words";
import { namePieces } from "../../core/record/choose-pieces";
import { AmountEntry } from "../controls/amount-field";
import { PageWords } from "../controls/page-words";
import { namedInBox } from "../edition/chosen";
import { RecipeList } from "./recipe-list";
import { RescueWays } from "./rescue-ways";

const MONEY = { unit: "¤", least: 0 };

/** The page “Rescue”. */
export function RescuePage({ session }: { readonly session: Session }) {
  session.valuesVersion.value;
  session.book.value;
  const [changed, setChanged] = useState<Partial<RescueTerms>>({});
  const [chosen, setChosen] = useState<Chosen>();
  const choice = namedInBox(session);
  const terms = { ...usualTerms(session), ...changed };
  const table = choice?.ok ? rescueTable(session, choice.value, terms) : choice;
  const change = (to: Partial<RescueTerms>) => setChanged({ ...changed, ...to });
  return (
    <article class="bench rescue" id="sheet" tabIndex={-1} aria-label="Rescue" data-testid="rescue">
      <h2>Rescue</h2>
      <PageWords page="rescue" />
      <div class="row">
        <label class="field">
          <span>Which flawed piece, or several alike?</span>
          <input
            id="choose-pieces"
            class="choose"
            autocomplete="off"
            placeholder="95"
            value={session.chosen.value}
            onInput={(event) => {
              session.chosen.value = event.currentTarget.value;
            }}
          />
        </label>
      </div>
      {chosen ? <Waits session={session} chosen={chosen} /> : null}
      {table === undefined ? (
        <p class="quiet">Type the number of a flawed piece. What it could become is then weighed, from now on only.</p>
      ) : null}
      {table?.ok === false ? (
        <ul class="plan-words wrong" role="status">
          {table.problems.map(({ message }) => (
            <li key={message}>{message}</li>
          ))}
        </ul>
      ) : null}
      {table?.ok ? (
        <>
          <Terms session={session} table={table.value} terms={terms} change={change} />
          <p class="plan-words" role="status" data-testid="recommendation">
            <b>Recommended</b> {recommendation(session, table.value)}
          </p>
          <RescueWays
            key={table.value.pieces.join(" ")}
            session={session}
            table={table.value}
            terms={terms}
            change={change}
            onChosen={({ title }) => setChosen({ title, pieces: table.value.pieces })}
          />
          <Refused table={table.value} />
        </>
      ) : null}
      <RecipeList session={session} />
    </article>
  );
}

/** A way that was chosen for some pieces. */
interface Chosen {
  readonly title: string;
  readonly pieces: readonly string[];
}

/** What the pieces wait for now that a way was chosen. */
function Waits({ session, chosen }: { readonly session: Session; readonly chosen: Chosen }) {
  const book = session.book.value;
  return (
    <p class="plan-words" role="status" data-testid="rescued">
      <b>Chosen: {chosen.title}.</b>{" "}
      {chosen.pieces.map((id) => `${namePieces(book, [id])} ${sayWaits(session, id)}`).join("; ")}.
    </p>
  );
}

function Refused({ table }: { readonly table: RescueTable }) {
  if (table.refused.length === 0) return null;
  return (
    <ul class="plan-words wrong">
      {table.refused.map(({ message }) => (
        <li key={message}>{message}</li>
      ))}
    </ul>
  );
}

interface TermsProps {
  readonly session: Session;
  readonly table: RescueTable;
  readonly terms: RescueTerms;
  readonly change: (to: Partial<RescueTerms>) => void;
}

/** How the question is put. */
function Terms({ session, table, terms, change }: TermsProps) {
  const count = table.pieces.length;
  return (
    <>
      <p>
        {count === 1 ? "Piece" : counted(count, "piece")} {namePieces(session.book.value, table.pieces)}.{" "}
        {table.toComeTitles.length === 0
          ? "It has had all its steps."
          : `If it were sound, it would still need ${listed(table.toComeTitles)}.`}{" "}
        {count > 1 ? "Amounts are for one of them." : ""} <s>{moneyText(session, table.spent)}</s>{" "}
        <span class="quiet">was spent on it already: the same whichever way is chosen, so not counted.</span>
      </p>
      <div class="row terms">
        <fieldset class="field">
          <legend>Its firings</legend>
          <div class="each">
            <button type="button" aria-pressed={terms.rides} onClick={() => change({ rides: true })}>
              ride in loads that are fired anyway
            </button>
            <button type="button" aria-pressed={!terms.rides} onClick={() => change({ rides: false })}>
              are for {plural(count, "it", "them")} alone
            </button>
          </div>
        </fieldset>
        <fieldset class="field">
          <legend>Its work is counted at</legend>
          <div class="each">
            <button
              type="button"
              aria-pressed={terms.countsLabour}
              onClick={() => change({ countsLabour: !terms.countsLabour })}
            >
              the wage
            </button>
            <button
              type="button"
              aria-pressed={terms.countsOverhead}
              onClick={() => change({ countsOverhead: !terms.countsOverhead })}
            >
              overhead besides
            </button>
          </div>
          <small class="quiet">
            Rent and insurance are the same with or without a rescue: leave overhead out unless the hours are short.
          </small>
        </fieldset>
        <AmountEntry
          session={session}
          of={MONEY}
          title="A place in the kiln would have earned"
          hint="0 while there is room to spare; a kiln fired for it alone takes every place."
          value={terms.roomEach}
          onValue={(roomEach = 0) => !Number.isNaN(roomEach) && change({ roomEach })}
        />
        <AmountEntry
          session={session}
          of={MONEY}
          title="A buyer would pay for it as it is"
          hint={`${pricesTyped(session)}; ${otherWay(session, "second", terms.asIsPrice)}; fees and packing are taken off`}
          value={terms.asIsPrice}
          onValue={(asIsPrice = 0) => !Number.isNaN(asIsPrice) && change({ asIsPrice })}
        />
      </div>
    </>
  );
}
