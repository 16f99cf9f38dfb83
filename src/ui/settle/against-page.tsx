// Against the plan: the margin that was planned, the one that came of it, and every cause between them.
import "../shell/pages.css";
import "./against.css";
import { signal } from "@preact/signals";
import type { MarginEnd } from "../../accounts/plan-records";
import type { RoundedVariances } from "../../accounts/variance-rounding";
import { CSV_FORMS, type CsvForm } from "../../app/csv/csv-export";
import { showNumber } from "../../app/edition/format";
import { moneyText } from "../../app/edition/money-text";
import { perSession } from "../../app/edition/per-session";
import type { Session } from "../../app/edition/session";
import { dayText } from "../../app/edition/written-days";
import type { PrintPlatform } from "../../app/keeping/studio-platform";
import { bridgeBars, bridgeWords } from "../../app/settle/against-bridge";
import { saveAgainst } from "../../app/settle/against-file";
import { againstPlan, END_LINES, largestCauses, notMadeYet, plansKept } from "../../app/settle/against-plan";
import { causeSentence, signedMoney, verdictOf } from "../../app/settle/cause-sentences";
import { fromMinorUnits } from "../../core/money";
import type { KeptPlan } from "../../core/record/kept-plan";
import { LinkedNumber, SentenceText } from "../controls/linked-number";
import { PageWords } from "../controls/page-words";
import { Picture } from "../controls/picture";
import { AgainstTable } from "./against-table";
import { KeepPlan, NoPlan } from "./keep-plan";
import { settledOf, Unsettled } from "./settled";

interface PageProps {
  readonly session: Session;
  readonly platform: PrintPlatform;
}

/** What the page is asked: up to which margin, and against which plan. */
const askedOf = perSession(() =>
  signal<{ readonly end: MarginEnd; readonly isFirst: boolean }>({ end: "once sold", isFirst: false }),
);

const END_TITLES: Readonly<Record<MarginEnd, string>> = {
  "once sold": "Once the stock is sold",
  "so far": "Made so far",
};

/** The page of that name. */
export function AgainstPage({ session, platform }: PageProps) {
  session.valuesVersion.value;
  const book = session.book.value;
  const { hasBegun, plan, first } = plansKept(book);
  const asked = askedOf(session);
  const held = asked.value.isFirst && first ? first : plan;
  return (
    <article class="paper against" id="sheet" tabIndex={-1} aria-label="Against the plan" data-testid="against">
      <header>
        <h2>{book.meta.title}, against the plan</h2>
        <PageWords page="against" />
      </header>
      {held ? (
        <Against session={session} platform={platform} plan={held} first={first} />
      ) : (
        <NoPlan session={session} hasBegun={hasBegun} />
      )}
    </article>
  );
}

interface AgainstProps extends PageProps {
  readonly plan: KeptPlan;
  readonly first: KeptPlan | undefined;
}

function Against({ session, platform, plan, first }: AgainstProps) {
  const settled = settledOf(session);
  const asked = askedOf(session);
  const { end } = asked.value;
  if (!settled.ok) return <Unsettled session={session} result={settled} />;
  const read = (sheet: Parameters<Session["valueIn"]>[0], row: string, column: string) =>
    session.value({ sheet, row, column });
  const found = againstPlan(session.book.value, read, settled.value, plan, end);
  return (
    <>
      <div class="paper-tools">
        <label>
          <span>Up to</span>
          <select
            value={end}
            onChange={({ currentTarget }) => {
              asked.value = { ...asked.value, end: currentTarget.value as MarginEnd };
            }}
          >
            {Object.entries(END_TITLES).map(([id, title]) => (
              <option key={id} value={id}>
                {title}
              </option>
            ))}
          </select>
        </label>
        {first ? (
          <label>
            <span>Against</span>
            <select
              value={asked.value.isFirst ? "first" : "last"}
              onChange={({ currentTarget }) => {
                asked.value = { ...asked.value, isFirst: currentTarget.value === "first" };
              }}
            >
              <option value="last">the plan that holds</option>
              <option value="first">the first plan, of {dayText(first.at, session.formats.locale)}</option>
            </select>
          </label>
        ) : null}
        {found.ok ? <SaveTable session={session} found={found.value} endTitle={END_TITLES[end]} /> : null}
        <button type="button" onClick={() => platform.print()}>
          Print
        </button>
        <KeepPlan session={session} />
      </div>
      {found.ok ? (
        <Found session={session} found={found.value} plan={plan} end={end} />
      ) : (
        <div class="problem" role="alert">
          {found.problems.map(({ message }) => (
            <p key={message}>{message}</p>
          ))}
        </div>
      )}
    </>
  );
}

interface SaveProps {
  readonly session: Session;
  readonly found: RoundedVariances;
  readonly endTitle: string;
}

const formOf = perSession(() => signal<CsvForm>("standard"));

function SaveTable({ session, found, endTitle }: SaveProps) {
  const form = formOf(session);
  return (
    <>
      <label>
        <span>As CSV</span>
        <select
          value={form.value}
          onChange={({ currentTarget }) => {
            form.value = currentTarget.value as CsvForm;
          }}
        >
          {Object.entries(CSV_FORMS).map(([id, { title }]) => (
            <option key={id} value={id}>
              {title}
            </option>
          ))}
        </select>
      </label>
      <button type="button" onClick={() => void saveAgainst(session, found, endTitle, form.value)}>
        Save the table…
      </button>
    </>
  );
}

interface FoundProps {
  readonly session: Session;
  readonly found: RoundedVariances;
  readonly plan: KeptPlan;
  readonly end: MarginEnd;
}

function Found({ session, found, plan, end }: FoundProps) {
  const money = (minor: number) => moneyText(session, fromMinorUnits(minor, session.digits));
  const { plannedMinor, realMinor } = found;
  const between = realMinor - plannedMinor;
  const open = notMadeYet(found);
  const bars = bridgeBars(session, found, END_TITLES[end]);
  const largest = largestCauses(found).flatMap((cause) => found.causes.filter((one) => one.cause === cause));
  return (
    <>
      <p class="ends">
        The plan of {dayText(plan.at, session.formats.locale)} leaves{" "}
        <LinkedNumber
          session={session}
          number={{ text: money(plannedMinor), cell: { sheet: "edition", row: "plan_pays", column: "value" } }}
        />
        . {END_TITLES[end]}:{" "}
        <LinkedNumber
          session={session}
          number={{ text: money(realMinor), cell: { sheet: "results", row: END_LINES[end], column: "value" } }}
        />
        . Between them: <b>{signedMoney(session, between)}</b>.{" "}
        {open === 0 ? (
          ""
        ) : (
          <>
            Of that <b>{signedMoney(session, open)}</b> is not made yet; what was done so far comes to{" "}
            <b>{signedMoney(session, between - open)}</b> {verdictOf(between - open)}.
          </>
        )}
      </p>
      {plan.why === "kept afterwards" ? (
        <p class="quiet">This plan was kept after the run had begun, as the sheets planned then.</p>
      ) : null}
      <h3>The largest causes</h3>
      {largest.length === 0 ? <p>Nothing done so far differs from the plan.</p> : null}
      <ol class="largest">
        {largest.map((cause) => (
          <li key={cause.cause}>
            <SentenceText session={session} parts={causeSentence(session, cause).parts} />
          </li>
        ))}
      </ol>
      <h3>From plan to run</h3>
      <Picture
        label={bridgeWords(bars)}
        of={[session.valuesVersion.value, session.formats.currency, end, plan.id, plan.at]}
        draw={async (width) =>
          (await import("../../charts/bridge-plot")).drawBridge(bars, width, (amount) =>
            showNumber(amount, 0, 0, session.formats.locale),
          )
        }
      />
      <AgainstTable session={session} found={found} endTitle={END_TITLES[end]} />
    </>
  );
}
