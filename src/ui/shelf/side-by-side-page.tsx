// Editions side by side: measures in a table that can be sorted, one of them as a picture, on paper, and as a file.
import "../shell/pages.css";
import "./side-by-side.css";
import { signal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { save } from "../../app/csv/csv-export";
import { showNumber } from "../../app/edition/format";
import { perSession } from "../../app/edition/per-session";
import type { Session } from "../../app/edition/session";
import { dayText } from "../../app/edition/written-days";
import type { Studio } from "../../app/keeping/studio";
import { paperChoiceOf } from "../../app/paper/choice";
import {
  type CurrencyGroup,
  type EditionComparison,
  inSideOrder,
  measureOthers,
  measureValue,
  othersMeasuredOf,
  type SideOrder,
  sideBySide,
  sideColumns,
  sideRows,
} from "../../app/shelf/edition-comparison";
import { EDITION_MEASURES, type EditionMeasure } from "../../app/shelf/edition-measures";
import { counted } from "../../core/counted";
import { writeTableCsv } from "../../csv/write";
import { CSV_FILE, fileNameFor } from "../../storage/files";
import { PageWords } from "../controls/page-words";
import { Picture } from "../controls/picture";
import { Scrolled } from "../controls/scrolled";
import { showPage } from "../edition/go-to";
import { editionMeasureText, measureUnit } from "./measure-text";

interface Props {
  readonly session: Session;
  readonly studio: Studio;
}

const orderOf = perSession(() => signal<SideOrder>({ by: "began", isDown: true }));
const pictureOf = perSession(() => signal("cost"));

/** The page “Side by side”. */
export function SideBySidePage({ session, studio }: Props) {
  session.valuesVersion.value;
  const reading = useReading(session, studio);
  const found = sideBySide(session);
  const order = orderOf(session);
  const count = found.groups.reduce((sum, { editions }) => sum + editions.length, 0);
  const columns = sideColumns;
  const saveIt = () =>
    save(
      session,
      fileNameFor("Editions side by side", ".csv"),
      writeTableCsv(columns, sideRows(found, order.value), { delimiter: ",", decimal: "." }),
      CSV_FILE,
    );
  const print = () => {
    const choice = paperChoiceOf(session);
    choice.value = { ...choice.value, paper: "editions" };
    showPage(session, "paper");
  };
  return (
    <article class="paper" id="sheet" tabIndex={-1} aria-label="Side by side" data-testid="side-by-side">
      <header>
        <h2>Editions side by side</h2>
        <PageWords page="sides" />
      </header>
      <div class="paper-tools">
        {reading.isOn ? (
          <button type="button" onClick={reading.stop}>
            Stop
          </button>
        ) : (
          <button type="button" onClick={reading.start}>
            Look again
          </button>
        )}
        <button type="button" disabled={count === 0} onClick={print}>
          To paper…
        </button>
        <button type="button" disabled={count === 0} onClick={() => void saveIt()}>
          Save as CSV…
        </button>
      </div>
      <p role="status" class="quiet" data-testid="sides-read">
        {reading.says}
      </p>
      {count > 1 ? <Chosen session={session} found={found} order={order.value} /> : null}
      {found.groups.map((group) => (
        <Group
          key={group.currency}
          session={session}
          group={group}
          isOnly={found.groups.length === 1}
          order={order.value}
          sortBy={(by) => {
            const { by: was, isDown } = order.value;
            order.value = { by, isDown: by === was ? !isDown : by !== "title" };
          }}
        />
      ))}
      <LeftOut found={found} />
      <details>
        <summary>What each measure is</summary>
        <p class="quiet">
          Editions together are the sums of all of them, unfinished ones too, and then divided: no mean of means.
        </p>
        <dl class="measures">
          {EDITION_MEASURES.map(({ id, title, words }) => (
            <div key={id}>
              <dt>{title}</dt>
              <dd>{words}</dd>
            </div>
          ))}
        </dl>
      </details>
    </article>
  );
}

/** Reads the others once, when the page is first opened, and again when it is asked to. */
function useReading(session: Session, studio: Studio) {
  const stop = useRef<AbortController | undefined>(undefined);
  const start = () => {
    stop.current?.abort();
    stop.current = new AbortController();
    void measureOthers(studio, session, stop.current.signal);
  };
  const found = othersMeasuredOf(session).value;
  useEffect(() => {
    if (!othersMeasuredOf(session).value) start();
    return () => stop.current?.abort();
  }, []);
  const isOn = found === undefined || (found.done < found.of && !found.isStopped);
  return { start, stop: () => stop.current?.abort(), isOn, says: readText(found) };
}

function readText(found: ReturnType<typeof othersMeasuredOf>["value"]): string {
  if (!found) return "Looking at the editions kept here…";
  const { done, of, isStopped, editions } = found;
  if (isStopped) return `Stopped: ${done} of ${counted(of, "other edition")} read.`;
  if (done < of) return `Looking at edition ${done + 1} of ${of}…`;
  return editions.length === 0
    ? "No other edition is kept here yet. Once there are two, they stand beside each other."
    : `${counted(editions.length, "other edition")} read, as last calculated and saved.`;
}

interface GroupProps {
  readonly session: Session;
  readonly group: CurrencyGroup;
  readonly isOnly: boolean;
  readonly order: SideOrder;
  readonly sortBy: (by: string) => void;
}

function Group({ session, group, isOnly, order, sortBy }: GroupProps) {
  const { currency, editions, together } = group;
  const { locale } = session.formats;
  const heads = [
    { id: "title", title: "edition", unit: "" },
    { id: "began", title: "started on", unit: "" },
    ...EDITION_MEASURES.map((measure) => ({
      id: measure.id,
      title: measure.title,
      unit: measureUnit(measure, currency),
    })),
  ];
  return (
    <>
      {isOnly ? null : <h3>{currency}</h3>}
      <Scrolled label={`Editions in ${currency}`}>
        <table class="plain-table sides">
          <thead>
            <tr>
              {heads.map(({ id, title, unit }, at) => (
                <th
                  scope="col"
                  key={id}
                  class={at < 2 ? undefined : "number"}
                  aria-sort={order.by === id ? (order.isDown ? "descending" : "ascending") : "none"}
                >
                  <button type="button" class="sort" onClick={() => sortBy(id)}>
                    {title}
                    {unit === "" ? null : <small class="quiet"> {unit}</small>}
                    <span aria-hidden="true">{order.by === id ? (order.isDown ? " ▾" : " ▴") : ""}</span>
                  </button>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {inSideOrder(editions, order).map((one) => (
              <tr key={one.id} class={one.isOpen ? "open-one" : ""} aria-current={one.isOpen ? "true" : undefined}>
                <th scope="row">
                  {one.isOpen ? "▸ " : ""}
                  {one.title}
                  {one.isOpen ? <small class="quiet"> open</small> : null}
                  {(one.sums?.inProgress ?? 0) > 0 ? (
                    <small class="quiet"> unfinished: {one.sums?.inProgress} in progress</small>
                  ) : null}
                </th>
                <td class="word">{one.began === "" ? "" : dayText(one.began, locale)}</td>
                {EDITION_MEASURES.map((measure) => (
                  <td key={measure.id}>{editionMeasureText(measureValue(one, measure), measure, currency, locale)}</td>
                ))}
              </tr>
            ))}
            {editions.length > 1 ? (
              <tr class="sum">
                <th scope="row">Together, {counted(editions.length, "edition")}</th>
                <td />
                {EDITION_MEASURES.map((measure) => (
                  <td key={measure.id}>{editionMeasureText(measure.of(together), measure, currency, locale)}</td>
                ))}
              </tr>
            ) : null}
          </tbody>
        </table>
      </Scrolled>
    </>
  );
}

function LeftOut({ found: { leftOut, invented } }: { readonly found: EditionComparison }) {
  return (
    <>
      {leftOut.length === 0 ? null : (
        <section aria-label="Not in the table">
          <h3>Not in the table</h3>
          <ul data-testid="sides-left-out">
            {leftOut.map(({ id, title, why }) => (
              <li key={id}>
                {title}: {why}.
              </li>
            ))}
          </ul>
        </section>
      )}
      {invented === 0 ? null : (
        <p class="quiet">{counted(invented, "invented edition is", "invented editions are")} left out.</p>
      )}
    </>
  );
}

interface ChosenProps {
  readonly session: Session;
  readonly found: EditionComparison;
  readonly order: SideOrder;
}

/** One measure as a picture; money of one currency alone. */
function Chosen({ session, found, order }: ChosenProps) {
  const chosen = pictureOf(session);
  const measure = EDITION_MEASURES.find(({ id }) => id === chosen.value);
  if (!measure) return null;
  const [first] = found.groups;
  const groups = measure.isMoney && first ? [first] : found.groups;
  const bars = barsOf(session, groups, measure, order);
  const ofMoney = measure.isMoney && found.groups.length > 1 ? `, editions in ${first?.currency}` : "";
  return (
    <>
      <label class="field picture-of">
        <span>As a picture</span>
        <select value={chosen.value} onChange={(event) => (chosen.value = event.currentTarget.value)}>
          {EDITION_MEASURES.map(({ id, title }) => (
            <option key={id} value={id}>
              {title}
            </option>
          ))}
        </select>
      </label>
      {bars.length === 0 ? (
        <p class="quiet">No edition has it.</p>
      ) : (
        <Picture
          label={`${measure.title}${ofMoney}: ${bars.map(({ title, label }) => `${title} ${label}`).join("; ")}`}
          of={[JSON.stringify(bars)]}
          draw={async (width) =>
            (await import("../../charts/edition-bars")).drawEditions(bars, width, (amount) =>
              showNumber(amount, 0, 6, session.formats.locale),
            )
          }
        />
      )}
    </>
  );
}

function barsOf(session: Session, groups: readonly CurrencyGroup[], measure: EditionMeasure, order: SideOrder) {
  const { locale } = session.formats;
  const editions = groups.flatMap((group) => group.editions);
  return inSideOrder(editions, order).flatMap((one) => {
    const value = measureValue(one, measure);
    if (value === undefined) return [];
    const label = `${editionMeasureText(value, measure, one.currency, locale)} ${measureUnit(measure, one.currency)}`;
    return [{ id: one.id, title: one.title, isOpen: one.isOpen, value, label }];
  });
}
