// The run log: read, filtered, saved as a file, and an entry taken back.

import { momentText, withDaysWritten } from "../../app/edition/written-days";
import { counted } from "../../core/counted";
import "../shell/pages.css";
import "./record.css";
import { useState } from "preact/hooks";
import { CSV_FORMS, type CsvForm } from "../../app/csv/csv-export";
import type { Session } from "../../app/edition/session";
import { planTakeBack, takeEntryBack } from "../../app/record/record";
import { ACT_TITLES, filterLog, type LogFilter, saveLog, WHOLE_LOG } from "../../app/record/run-log";
import { namePieces } from "../../core/record/choose-pieces";
import type { LogEntry } from "../../core/record/run-log";
import { DateInput } from "../controls/date-input";
import { StepOptions } from "../controls/options";
import { PageWords } from "../controls/page-words";

/** How many entries are shown at first, and how many more at a time. */
const AT_A_TIME = 100;

/** The page “Run log”. */
export function LogPage({ session }: { readonly session: Session }) {
  const book = session.book.value;
  const [filter, setFilter] = useState(WHOLE_LOG);
  const [limit, setLimit] = useState(AT_A_TIME);
  const [open, setOpen] = useState("");
  const found = filterLog(book, filter);
  const entries = found.ok ? found.value : [];
  return (
    <article class="bench log" id="sheet" tabIndex={-1} aria-label="Run log" data-testid="log">
      <h2>Run log</h2>
      <PageWords page="log" />
      <Filters session={session} filter={filter} change={(to) => setFilter({ ...filter, ...to })} />
      <p role="status" class="quiet">
        {found.ok
          ? `${entries.length} of ${counted(book.lists.log.length, "entry", "entries")}`
          : found.problems.map(({ message }) => message).join(" ")}
      </p>
      <SaveLog session={session} entries={entries} />
      {book.lists.log.length === 0 ? (
        <p class="quiet">Nothing has been recorded yet. What is recorded on the page Record is written down here.</p>
      ) : null}
      <ul class="entries">
        {entries.slice(0, limit).map((entry) => (
          <LogLine
            key={entry.id}
            session={session}
            entry={entry}
            isOpen={open === entry.id}
            onOpen={() => setOpen(open === entry.id ? "" : entry.id)}
          />
        ))}
      </ul>
      {entries.length > limit ? (
        <button type="button" onClick={() => setLimit(limit + AT_A_TIME)}>
          Show {Math.min(AT_A_TIME, entries.length - limit)} more
        </button>
      ) : null}
    </article>
  );
}

interface FiltersProps {
  readonly session: Session;
  readonly filter: LogFilter;
  readonly change: (to: Partial<LogFilter>) => void;
}

function Filters({ session, filter, change }: FiltersProps) {
  return (
    <div class="row filters">
      <label class="field">
        <span>Step</span>
        <select value={filter.step} onChange={(event) => change({ step: event.currentTarget.value })}>
          <option value="">Any</option>
          <StepOptions steps={session.book.value.sheets.route.rows} />
        </select>
      </label>
      <label class="field">
        <span>What was done</span>
        <select value={filter.act} onChange={(event) => change({ act: event.currentTarget.value })}>
          <option value="">Anything</option>
          {Object.entries(ACT_TITLES).map(([act, title]) => (
            <option key={act} value={act}>
              {title}
            </option>
          ))}
        </select>
      </label>
      <label class="field">
        <span>Pieces</span>
        <input
          id="choose-pieces"
          placeholder="41-60, 66"
          value={filter.pieces}
          onInput={(event) => change({ pieces: event.currentTarget.value })}
        />
      </label>
      <label class="field">
        <span>Words</span>
        <input type="search" value={filter.words} onInput={(event) => change({ words: event.currentTarget.value })} />
      </label>
      <label class="field">
        <span>Day</span>
        <DateInput value={filter.day} onInput={(event) => change({ day: event.currentTarget.value })} />
      </label>
      <button type="button" onClick={() => change(WHOLE_LOG)}>
        Show all
      </button>
    </div>
  );
}

function SaveLog({ session, entries }: { readonly session: Session; readonly entries: readonly LogEntry[] }) {
  const [form, setForm] = useState<CsvForm>("standard");
  return (
    <div class="row">
      <label class="field">
        <span>As a file</span>
        <select value={form} onChange={(event) => setForm(event.currentTarget.value as CsvForm)}>
          {Object.entries(CSV_FORMS).map(([key, { title }]) => (
            <option key={key} value={key}>
              {title}
            </option>
          ))}
        </select>
      </label>
      <button type="button" disabled={entries.length === 0} onClick={() => void saveLog(session, entries, form)}>
        Save these entries…
      </button>
    </div>
  );
}

interface LineProps {
  readonly session: Session;
  readonly entry: LogEntry;
  readonly isOpen: boolean;
  readonly onOpen: () => void;
}

function LogLine({ session, entry, isOpen, onOpen }: LineProps) {
  const isBack = entry.takenBack !== undefined;
  const count = entry.pieces.length;
  return (
    <li class={isBack ? "back" : undefined} data-testid="log-entry">
      <div class="entry-text">
        <time dateTime={entry.at}>{momentText(entry.at, session.formats.locale)}</time>
        <b>{withDaysWritten(entry.label, session.formats.locale)}</b>
        <span class="quiet">
          {ACT_TITLES[entry.act] ?? entry.act} · {counted(count, "piece")}
          {entry.note ? ` · ${entry.note}` : ""}
          {entry.takenBack === undefined ? "" : ` · taken back ${momentText(entry.takenBack, session.formats.locale)}`}
        </span>
      </div>
      {isBack ? null : (
        <button type="button" aria-expanded={isOpen} onClick={onOpen}>
          Take back…
        </button>
      )}
      {isOpen && !isBack ? <TakeBack session={session} entry={entry} /> : null}
    </li>
  );
}

/** What taking an entry back will do, and the press that does it. */
function TakeBack({ session, entry }: { readonly session: Session; readonly entry: LogEntry }) {
  const plan = planTakeBack(session, entry.id);
  if (!plan.ok)
    return (
      <ul class="plan-words wrong" role="status">
        {plan.problems.map(({ message }) => (
          <li key={message}>{message}</li>
        ))}
      </ul>
    );
  const { restored, left } = plan.value;
  return (
    <div class="plan-words" role="status">
      <p>
        {counted(restored, "cell gets back what it held", "cells get back what they held")}:{" "}
        {namePieces(session.book.value, entry.pieces)}.
      </p>
      {left.length > 0 ? (
        <>
          <p>Left as they are, because of what came after:</p>
          <ul>
            {left.slice(0, 12).map((says) => (
              <li key={says}>{says}</li>
            ))}
            {left.length > 12 ? <li>… and {left.length - 12} more</li> : null}
          </ul>
        </>
      ) : null}
      <button type="button" class="act" onClick={() => takeEntryBack(session, entry.id)}>
        Take it back
      </button>
    </div>
  );
}
