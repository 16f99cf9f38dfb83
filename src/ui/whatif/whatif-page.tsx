// The page of what-if: a question at a time, its answer as a picture and a table, and the case that is tried.
import "../shell/pages.css";
import "./whatif.css";
import { useEffect } from "preact/hooks";
import { perSession } from "../../app/edition/per-session";
import type { Session } from "../../app/edition/session";
import type { Answer } from "../../app/whatif/whatif-answers";
import { WhatIfDesk } from "../../app/whatif/whatif-desk";
import { QUESTIONS } from "../../app/whatif/whatif-settings";
import { tablesOf } from "../../app/whatif/whatif-tables";
import { sameCell } from "../../whatif/run/case-matrix";
import { PageWords } from "../controls/page-words";
import { askWishOf } from "../edition/go-to";
import { AnswerOutcome, AnswerPicture, AnswerTables, NumbersTable } from "./answer-view";
import { Controls } from "./controls";
import { BreakEvenFound, CasesFound, ChanceFound, RankingFound, TableFound } from "./found";
import { startClient } from "./start-client";
import { TryingBar } from "./trying-bar";

/** The desk of an edition; what was asked and tried stays while other pages are looked at. */
const deskOf = perSession((session) => {
  const breathe = () => new Promise<void>((resolve) => setTimeout(resolve, 0));
  return new WhatIfDesk(session, { startClient, breathe });
});

/** The what-if page of the open edition. */
export function WhatIfPage({ session }: { readonly session: Session }) {
  const desk = deskOf(session);
  useEffect(() => {
    desk.open();
    return () => desk.close();
  }, [desk]);
  const askWish = askWishOf(session);
  const wish = askWish.value;
  useEffect(() => {
    if (wish === undefined) return;
    askWish.value = undefined;
    desk.change({ question: wish });
  }, [wish]);
  const { question } = desk.settings.value;
  const asked = QUESTIONS.find(({ id }) => id === question);
  const found = desk.answer.value?.kind === question ? desk.answer.value : undefined;
  return (
    <article class="what-if" id="sheet" tabIndex={-1} aria-label="What if" data-testid="what-if">
      <PageWords page="whatif" />
      <nav class="questions" aria-label="Questions">
        {QUESTIONS.map(({ id, title }) => (
          <button
            type="button"
            key={id}
            aria-current={id === question ? "true" : undefined}
            onClick={() => id !== question && desk.change({ question: id })}
          >
            {title}
          </button>
        ))}
      </nav>
      <div class="asking">
        <section class="controls" aria-label="The question">
          <h2>{asked?.asks}</h2>
          <Controls desk={desk} />
        </section>
        <section class="found" aria-label="The answer" aria-busy={desk.state.value.kind === "working"}>
          <Standing desk={desk} hasAnswer={found !== undefined} />
          {found ? <Found desk={desk} found={found} /> : null}
        </section>
      </div>
      <TryingBar desk={desk} />
    </article>
  );
}

/** How far the answer is, and how it was come by. */
function Standing({ desk, hasAnswer }: { readonly desk: WhatIfDesk; readonly hasAnswer: boolean }) {
  const state = desk.state.value;
  switch (state.kind) {
    case "working":
      return (
        <div class={`standing${hasAnswer ? " late" : ""}`} role="status">
          <span>{state.total > 0 ? `Working: ${state.done} of ${state.total} cases` : "Working…"}</span>
          {state.total > 0 ? <progress value={state.done} max={state.total} /> : null}
          <button type="button" onClick={() => desk.stop()}>
            Stop
          </button>
        </div>
      );
    case "stopped":
      return (
        <div class="standing" role="status">
          <span>Stopped. {hasAnswer ? "What is shown is the answer before." : ""}</span>
          <button type="button" onClick={() => desk.again()}>
            Ask again
          </button>
        </div>
      );
    case "failed":
      return (
        <div class="standing problem" role="alert">
          <span>No answer: {state.message}</span>
          <button type="button" onClick={() => desk.again()}>
            Ask again
          </button>
        </div>
      );
    case "resting":
      return null;
  }
}

function Found({ desk, found }: { readonly desk: WhatIfDesk; readonly found: Answer }) {
  const { session } = desk;
  const isTried = desk.tried.value.length > 0;
  return (
    <>
      {found.kind === "cases" || found.kind === "chance" ? null : (
        <AnswerOutcome session={session} found={found} isTried={isTried} />
      )}
      {found.kind === "breakEven" ? <BreakEvenFound desk={desk} found={found} /> : null}
      {found.kind === "table" ? <TableFound desk={desk} found={found} /> : null}
      {found.kind === "chance" ? <ChanceFound desk={desk} found={found} /> : null}
      {found.kind === "cases" ? <CasesFound desk={desk} found={found} /> : null}
      {found.kind === "cases" && found.cases.length === 0 ? null : <AnswerPicture session={session} found={found} />}
      {found.kind === "ranking" ? <RankingFound desk={desk} found={found} /> : null}
      <Notes found={found} />
      {found.kind === "table" ? (
        <details class="numbers">
          <summary>The same as a table; press a number to try it</summary>
          <TableToTry desk={desk} found={found} />
        </details>
      ) : found.kind === "ranking" || found.kind === "cases" ? null : (
        <AnswerTables session={session} found={found} />
      )}
    </>
  );
}

function TableToTry({
  desk,
  found,
}: {
  readonly desk: WhatIfDesk;
  readonly found: Extract<Answer, { kind: "table" }>;
}) {
  const [table] = tablesOf(desk.session, found);
  const { across, down } = found.table;
  if (!table) return null;
  return (
    <NumbersTable
      table={table}
      onCell={(row, column) => {
        const others = desk.tried.value.filter(
          ({ cell }) => !sameCell(cell, across.input) && !sameCell(cell, down.input),
        );
        desk.tryAll([
          ...others,
          { cell: across.input, value: across.values[column] ?? Number.NaN },
          { cell: down.input, value: down.values[row] ?? Number.NaN },
        ]);
      }}
    />
  );
}

/** What is left out of an answer, and why it took its time. */
function Notes({ found }: { readonly found: Answer }) {
  return (
    <>
      {found.gaps.length > 0 ? (
        <div class="caution" data-testid="gaps">
          <p>Some of it is left out:</p>
          <ul>
            {found.gaps.map((gap) => (
              <li key={gap}>{gap}</li>
            ))}
          </ul>
        </div>
      ) : null}
      {found.how.kind === "engine" ? (
        <p class="quiet" data-testid="how">
          Answered by the calculation itself, one case at a time: {found.how.notes.join("; ")}.
        </p>
      ) : null}
    </>
  );
}
