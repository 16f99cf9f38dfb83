// Work in progress at its stage: what it cost, still takes and will fetch, what stock is written down and why.
import "../shell/pages.css";
import "./progress.css";
import type { Session } from "../../app/edition/session";
import { dayText } from "../../app/edition/written-days";
import type { PrintPlatform } from "../../app/keeping/studio-platform";
import {
  finishMinor,
  type StageGroup,
  sumMinor,
  type ValuedPiece,
  type WorkInProgress,
  workInProgress,
} from "../../app/settle/work-in-progress";
import { counted } from "../../core/counted";
import type { SheetKey } from "../../core/document/workbook";
import { LinkedNumber } from "../controls/linked-number";
import { pageLocale } from "../controls/page-locale";
import { PageWords } from "../controls/page-words";
import { Scrolled } from "../controls/scrolled";
import { TableHead } from "../controls/table-head";
import { ProcessPart } from "./process-part";
import { minorText, settledOf, Unsettled } from "./settled";
import { RulePart, WriteDownPart } from "./write-down-part";

interface Props {
  readonly session: Session;
  readonly platform: PrintPlatform;
}

/** The page “Work in progress”. */
export function ProgressPage({ session, platform }: Props) {
  session.valuesVersion.value;
  const result = settledOf(session);
  const book = session.book.value;
  const read = (sheet: SheetKey, row: string, column: string) => session.value({ sheet, row, column });
  const work = result.ok ? workInProgress(book, read, result.value) : undefined;
  return (
    <article class="paper" id="sheet" tabIndex={-1} aria-label="Work in progress" data-testid="progress">
      <header>
        <h2>{book.meta.title}: work in progress</h2>
        <PageWords page="progress" />
      </header>
      <div class="paper-tools">
        <RulePart session={session} />
        <button type="button" onClick={() => platform.print()}>
          Print
        </button>
      </div>
      <Unsettled session={session} result={result} />
      {work && result.ok ? (
        <>
          <Stages session={session} work={work} digits={result.value.ledger.digits} />
          <h3>Carried below cost</h3>
          <Downs session={session} pieces={work.writtenDown} digits={result.value.ledger.digits} />
          <WriteDownPart session={session} />
          <ProcessPart session={session} work={work} digits={result.value.ledger.digits} />
        </>
      ) : null}
    </article>
  );
}

const COLUMNS = ["cost so far", "still to finish", "will fetch, less that", "carried at", "written down"] as const;
const LINES = ["full_progress", "progress_finish", "progress_fetch", "progress_carried", "progress_down"] as const;

interface StagesProps {
  readonly session: Session;
  readonly work: WorkInProgress;
  readonly digits: number;
}

const amountsOf = (pieces: readonly ValuedPiece[], digits: number) => [
  sumMinor(pieces, ({ costMinor }) => costMinor),
  finishMinor(pieces, digits),
  sumMinor(pieces, ({ netRealisableMinor }) => netRealisableMinor ?? 0),
  sumMinor(pieces, ({ carriedMinor }) => carriedMinor),
  sumMinor(pieces, ({ writeDownMinor }) => writeDownMinor),
];

function Stages({ session, work: { stages, notes }, digits }: StagesProps) {
  if (stages.length === 0) return <p class="quiet">No piece is in progress: each is finished, lost, or not started.</p>;
  const all = stages.flatMap(({ pieces }) => pieces);
  const money = (minor: number) => minorText(minor, digits) || "0";
  return (
    <>
      <h3>By stage</h3>
      <Scrolled label="Work in progress by stage">
        <table class="plain-table wide">
          <TableHead titles={["has had", "waits for", "pieces", ...COLUMNS]} numbers={6} />
          <tbody>
            {stages.map((stage) => (
              <tr key={stage.key}>
                <th scope="row">
                  {stage.title}
                  {stage.isSpecial ? <small class="quiet"> special</small> : null}
                </th>
                <td class="word">{stage.next ?? "to be passed"}</td>
                <td>{stage.pieces.length}</td>
                {amountsOf(stage.pieces, digits).map((minor, at) => (
                  <td key={COLUMNS[at]}>{money(minor)}</td>
                ))}
              </tr>
            ))}
            <tr class="sum">
              <th scope="row">Together</th>
              <td />
              <td>{all.length}</td>
              {amountsOf(all, digits).map((minor, at) => (
                <td key={COLUMNS[at]}>
                  <LinkedNumber
                    session={session}
                    number={{
                      text: money(minor),
                      cell: { sheet: "results", row: LINES[at] ?? "", column: "value" },
                    }}
                  />
                </td>
              ))}
            </tr>
          </tbody>
        </table>
      </Scrolled>
      {notes.map((note) => (
        <p key={note} class="mind">
          <b>Mind:</b> {note}
        </p>
      ))}
      <details>
        <summary>What one piece still takes, by stage</summary>
        <ToCome stages={stages} digits={digits} />
      </details>
      <details>
        <summary>Piece by piece</summary>
        <Pieces session={session} pieces={all} digits={digits} />
      </details>
    </>
  );
}

/** The plan's costs of the steps still to come, with the losses still to come. */
function ToCome({ stages, digits }: { readonly stages: readonly StageGroup[]; readonly digits: number }) {
  const locale = pageLocale();
  const money = (amount: number) =>
    amount.toLocaleString(locale, { minimumFractionDigits: digits, maximumFractionDigits: digits });
  const plain = (amount: number, most: number) => amount.toLocaleString(locale, { maximumFractionDigits: most });
  const titles = ["has had", "materials", "labour", "overhead", "firings", "clay and scrap back", "still takes"];
  return (
    <Scrolled label="What one piece still takes, by stage">
      <table class="plain-table wide">
        <TableHead titles={[...titles, "minutes", "comes through"]} numbers={8} />
        <tbody>
          {stages.map(({ key, title, isSpecial, toFinish: still }) => (
            <tr key={key}>
              <th scope="row">
                {title}
                {isSpecial ? <small class="quiet"> special</small> : null}
              </th>
              <td>{money(still.material)}</td>
              <td>{money(still.labour)}</td>
              <td>{money(still.overhead)}</td>
              <td>{money(still.firing)}</td>
              <td>{still.givenBack === 0 ? "" : `\u2212${money(still.givenBack)}`}</td>
              <td>{money(Math.abs(still.cost) < 1e-9 ? 0 : still.cost)}</td>
              <td>{plain(still.minutes, 1)}</td>
              <td>{plain(still.comesThrough * 100, 1)} %</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scrolled>
  );
}

interface PiecesProps {
  readonly session: Session;
  readonly pieces: readonly ValuedPiece[];
  readonly digits: number;
}

const CELLS = ["full", "to_finish", "fetches", "carried"] as const;

function Pieces({ session, pieces, digits }: PiecesProps) {
  return (
    <Scrolled label="Work in progress piece by piece">
      <table class="plain-table">
        <TableHead titles={["Piece", ...COLUMNS.slice(0, 4)]} numbers={4} />
        <tbody>
          {pieces.map((piece) => (
            <tr key={piece.row}>
              <th scope="row">{piece.piece}</th>
              {[piece.costMinor, finishMinor([piece], digits), piece.netRealisableMinor ?? 0, piece.carriedMinor].map(
                (minor, at) => (
                  <td key={CELLS[at]}>
                    <CellNumber
                      session={session}
                      row={piece.row}
                      column={CELLS[at] ?? ""}
                      text={minorText(minor, digits)}
                    />
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </Scrolled>
  );
}

interface CellProps {
  readonly session: Session;
  readonly row: string;
  readonly column: string;
  readonly text: string;
}

const CellNumber = ({ session, row, column, text }: CellProps) =>
  text === "" ? null : <LinkedNumber session={session} number={{ text, cell: { sheet: "pieces", row, column } }} />;

const GROUP_TITLES = {
  finished: "good",
  seconds: "second",
  consigned: "consigned",
  inProgress: "in progress",
} as const;

/** What is written down, by how much and why. */
function Downs({ session, pieces, digits }: PiecesProps) {
  if (pieces.length === 0)
    return <p class="quiet">Nothing: every piece in stock and in progress will fetch its cost, as far as is said.</p>;
  const money = (minor: number) => minorText(minor, digits) || "0";
  return (
    <Scrolled label="Carried below cost">
      <table class="plain-table wide">
        <TableHead
          titles={["Piece", "is", "why", "on", "cost", "will fetch", "carried at", "written down"]}
          numbers={4}
        />
        <tbody>
          {pieces.map((piece) => (
            <tr key={piece.row}>
              <th scope="row">{piece.piece}</th>
              <td class="word">{GROUP_TITLES[piece.group]}</td>
              <td class="word why">{piece.reason}</td>
              <td class="word">{piece.day === undefined ? "" : dayText(piece.day, pageLocale())}</td>
              <td>
                <CellNumber session={session} row={piece.row} column="full" text={money(piece.costMinor)} />
              </td>
              <td>
                {piece.netRealisableMinor === undefined ? null : (
                  <CellNumber
                    session={session}
                    row={piece.row}
                    column="fetches"
                    text={money(piece.netRealisableMinor)}
                  />
                )}
              </td>
              <td>
                <CellNumber session={session} row={piece.row} column="carried" text={money(piece.carriedMinor)} />
              </td>
              <td>{money(piece.writeDownMinor)}</td>
            </tr>
          ))}
          <tr class="sum">
            <th scope="row">{counted(pieces.length, "piece")}</th>
            <td colSpan={3} />
            <td>{money(sumMinor(pieces, ({ costMinor }) => costMinor))}</td>
            <td />
            <td>{money(sumMinor(pieces, ({ carriedMinor }) => carriedMinor))}</td>
            <td>
              <LinkedNumber
                session={session}
                number={{
                  text: money(sumMinor(pieces, ({ writeDownMinor }) => writeDownMinor)),
                  cell: { sheet: "results", row: "write_down", column: "value" },
                }}
              />
            </td>
          </tr>
        </tbody>
      </table>
    </Scrolled>
  );
}
