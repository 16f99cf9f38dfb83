// One load: what it is, how full, what stands on each level, what it costs.

import { dayName } from "../../app/edition/day-name";
import { shownAmount } from "../../app/edition/display";
import { showNumber } from "../../app/edition/format";
import { moneyText } from "../../app/edition/money-text";
import type { Session } from "../../app/edition/session";
import type { Waiting } from "../../app/loads/loads";
import { firingName } from "../../app/loads/loads";
import { arrange, type LoadsBoard } from "../../app/loads/loads-board";
import { dropLoad, editLoad, type LoadView } from "../../app/loads/loads-draft";
import { counted } from "../../core/counted";
import { DateInput } from "../controls/date-input";

interface ChipsProps {
  readonly session: Session;
  readonly pieces: readonly Waiting[];
  readonly chosen: ReadonlySet<string>;
  readonly onToggle: (row: string) => void;
}

/** Pieces as buttons; a pressed one is chosen to be moved. */
export function PieceChips({ session, pieces, chosen, onToggle }: ChipsProps) {
  const amount = (value: number, unit: string) => shownAmount(session, value, unit, 1, 0);
  return (
    <span class="chips">
      {pieces.map((piece) => (
        <button
          type="button"
          key={piece.row}
          aria-pressed={chosen.has(piece.row)}
          title={`${amount(piece.heightCm, "cm")} tall, ${amount(piece.footCm2, "cm²")} of shelf, ${amount(piece.kg, "kg")}`}
          onClick={() => onToggle(piece.row)}
        >
          {piece.id}
        </button>
      ))}
    </span>
  );
}

interface CardProps {
  readonly session: Session;
  readonly board: LoadsBoard;
  readonly view: LoadView;
  readonly chosen: ReadonlySet<string>;
  readonly onToggle: (row: string) => void;
}

/** A load as a card. */
export function LoadCard({ session, board, view, chosen, onToggle }: CardProps) {
  const { load } = view;
  return (
    <section class="load-card" aria-label={`Load ${load.name}`} data-testid="load">
      <Head session={session} board={board} view={view} />
      <Problems messages={view.problems} />
      <Fill session={session} view={view} />
      <Levels session={session} view={view} chosen={chosen} onToggle={onToggle} />
      <Costs session={session} view={view} />
      <button type="button" class="plain" onClick={() => arrange(session, dropLoad(board.draft, load.key))}>
        Leave these waiting
      </button>
    </section>
  );
}

/** The first problems in full; how many more there are. */
function Problems({ messages }: { readonly messages: readonly string[] }) {
  if (messages.length === 0) return null;
  return (
    <div class="wrong" role="alert">
      {messages.slice(0, 2).map((message) => (
        <p key={message}>{message}</p>
      ))}
      {messages.length > 2 ? <p>And {messages.length - 2} more like these.</p> : null}
    </div>
  );
}

function Head({ session, board, view }: Pick<CardProps, "session" | "board" | "view">) {
  const { load } = view;
  const edit = (is: Parameters<typeof editLoad>[2]) => arrange(session, editLoad(board.draft, load.key, is));
  const book = session.book.value;
  const programmes = [...new Set(book.sheets.programmes.rows.map((row) => String(row.cells.programme ?? "")))];
  if (load.tops !== undefined)
    return (
      <h3>
        Into {load.name}, {load.kiln}
        {load.date === "" ? "" : `, ${dayName(load.date, session.formats.locale, "short")}`}
        <small>
          {" "}
          {firingName(book, load.firing)}; {view.before} in it already
        </small>
      </h3>
    );
  return (
    <>
      <h3>
        {firingName(book, load.firing)} <small>{counted(view.pieces.length, "piece")}</small>
      </h3>
      <div class="load-head">
        <label>
          <span>Firing</span>
          <input
            class="short"
            value={load.name}
            maxLength={60}
            onChange={(event) => edit({ name: event.currentTarget.value })}
          />
        </label>
        <label>
          <span>Kiln</span>
          <select value={load.kiln} onChange={(event) => edit({ kiln: event.currentTarget.value })}>
            {board.read.kilns.map(({ id }) => (
              <option key={id}>{id}</option>
            ))}
          </select>
        </label>
        <label>
          <span>Programme</span>
          <select value={load.programme} onChange={(event) => edit({ programme: event.currentTarget.value })}>
            <option value="">none</option>
            {programmes.map((name) => (
              <option key={name}>{name}</option>
            ))}
          </select>
        </label>
        <label>
          <span>Day</span>
          <DateInput value={load.date} onChange={(event) => edit({ date: event.currentTarget.value })} />
        </label>
      </div>
      {load.programme !== "" && load.programme !== load.firing ? (
        <p class="caution">The Route says {firingName(book, load.firing)} for these pieces.</p>
      ) : null}
    </>
  );
}

function Fill({ session, view }: { readonly session: Session; readonly view: LoadView }) {
  const { state, kiln } = view;
  if (!state || !kiln) return null;
  const count = (value: number) => showNumber(value, 0, 0, session.formats.locale);
  const amount = (unit: string) => (value: number) => shownAmount(session, value, unit, 1, 0);
  const bars = [
    { what: "pieces", is: state.pieces, of: kiln.capacity, show: count },
    ...(kiln.shelfCm2 === undefined
      ? []
      : [{ what: "shelf", is: state.footCm2, of: kiln.shelfCm2, show: amount("cm²") }]),
    ...(kiln.heightCm === undefined
      ? []
      : [{ what: "height", is: state.heightCm, of: kiln.heightCm, show: amount("cm") }]),
  ];
  return (
    <ul class="fill">
      {bars.map(({ what, is, of, show }) => (
        <li key={what} class={is > of + 1e-6 ? "over" : ""}>
          <span>{what}</span>
          <i aria-hidden="true">
            <i style={{ width: `${Math.min(100, (100 * is) / Math.max(of, 1e-9))}%` }} />
          </i>
          <span>
            {show(is)} of {show(of)}
            {is > of + 1e-6 ? ", too much" : ""}
          </span>
        </li>
      ))}
    </ul>
  );
}

/** Level by level from the lowest shelf; what is in a planned firing already is said, not listed. */
function Levels({ session, view, chosen, onToggle }: Omit<CardProps, "board">) {
  const rows = new Map(view.pieces.map((piece) => [piece.id, piece]));
  const levels = view.state?.levels ?? [];
  return (
    <ol class="levels">
      {levels.map((level, at) => {
        const mine = level.pieces.flatMap((piece) => rows.get(piece.id) ?? []);
        const others = level.pieces.length - mine.length;
        return (
          <li key={`${at} ${level.pieces[0]?.id ?? ""}`}>
            <span class="quiet">
              {levels.length > 1 ? `level ${at + 1}, ` : ""}
              {shownAmount(session, level.tallestCm, "cm", 1, 0)}
              {others > 0 ? `, ${others} in it already` : ""}
            </span>
            <PieceChips session={session} pieces={mine} chosen={chosen} onToggle={onToggle} />
          </li>
        );
      })}
    </ol>
  );
}

function Costs({ session, view }: { readonly session: Session; readonly view: LoadView }) {
  const { cost, costEach, company, load, pieces } = view;
  const isAlone = pieces.length + view.before === 1;
  const money = (amount: number) => moneyText(session, amount);
  if (pieces.length === 0) return <p class="quiet">Nothing is in it: no firing is made of it.</p>;
  return (
    <>
      {cost === undefined || costEach === undefined ? null : (
        <p class="words">
          {load.tops === undefined
            ? `The firing costs ${money(cost)}, ${money(costEach)} a piece.`
            : `These add ${money(cost)}; each then bears ${money(costEach)}.`}
        </p>
      )}
      {company && isAlone ? (
        <p class="caution" data-testid="alone">
          One piece alone bears it all, {money(company.here)}. In a full load of {company.pieces} it would bear{" "}
          {money(company.full)}: waiting for company saves it {money(company.here - company.full)}.
        </p>
      ) : null}
      {company && !isAlone ? (
        <p class="quiet">
          In a full load of {company.pieces} a piece would bear {money(company.full)}.
        </p>
      ) : null}
    </>
  );
}
