// An answer on the page: its picture, its numbers as a table, and both as files.
import { useRef } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import type { Answer } from "../../app/whatif/whatif-answers";
import { differenceText, valueText } from "../../app/whatif/whatif-cells";
import { saveAnswer, savePicture } from "../../app/whatif/whatif-export";
import {
  breakEvenPicture,
  casesPicture,
  chancePicture,
  curvesOf,
  pictureLabel,
  rankingPicture,
  tablePicture,
} from "../../app/whatif/whatif-pictures";
import { type AnswerTable, tablesOf } from "../../app/whatif/whatif-tables";
import { Picture } from "../controls/picture";
import { TableHead } from "../controls/table-head";
import { pngOf, standaloneSvg } from "./save-picture";

interface AnswerProps {
  readonly session: Session;
  readonly found: Answer;
}

async function draw(session: Session, found: Answer, width: number): Promise<Element> {
  if (found.kind === "chance") {
    const { spreads, starts } = chancePicture(session, found);
    return (await import("../../charts/chance-plots")).drawChance(spreads, starts, width);
  }
  const [plots, bars] = await Promise.all([import("../../charts/whatif-plots"), import("../../charts/whatif-bars")]);
  switch (found.kind) {
    case "losses":
    case "sweep":
      return plots.drawCurves(curvesOf(session, found), width);
    case "table":
      return plots.drawTable(tablePicture(session, found), width);
    case "ranking": {
      const { bars: ranked, now, axis } = rankingPicture(session, found);
      return bars.drawRanking(ranked, now, axis, width);
    }
    case "breakEven":
      return plots.drawCurves(breakEvenPicture(session, found), width);
    case "cases":
      return bars.drawCases(casesPicture(session, found), width);
  }
}

/** The picture of an answer with what can be done with it. */
export function AnswerPicture({ session, found }: AnswerProps) {
  const host = useRef<HTMLDivElement>(null);
  const picture = () => host.current?.querySelector<SVGSVGElement>(".picture > svg, .picture > figure > svg");
  const save = async (how: "svg" | "png") => {
    const drawn = picture();
    if (!drawn) return;
    const svg = standaloneSvg(drawn);
    await savePicture(session, found.kind, how === "svg" ? svg.text : await pngOf(svg));
  };
  return (
    <div class="drawn" ref={host}>
      <Picture label={pictureLabel(session, found)} of={[found]} draw={(width) => draw(session, found, width)} />
      <div class="saves">
        <button type="button" onClick={() => void saveAnswer(session, found.kind, tablesOf(session, found))}>
          Numbers as CSV
        </button>
        <button type="button" onClick={() => void save("svg")}>
          Picture as SVG
        </button>
        <button type="button" onClick={() => void save("png")}>
          Picture as PNG
        </button>
      </div>
    </div>
  );
}

/** The numbers behind a picture, folded away. */
export function AnswerTables({ session, found }: AnswerProps) {
  return (
    <details class="numbers">
      <summary>The same as a table</summary>
      {tablesOf(session, found).map((table) => (
        <NumbersTable key={table.title} table={table} />
      ))}
    </details>
  );
}

/** One table of an answer; `onCell` gets the row and column of a number that was pressed. */
export function NumbersTable({
  table,
  onCell,
}: {
  readonly table: AnswerTable;
  readonly onCell?: (row: number, column: number) => void;
}) {
  return (
    <div class="scroll">
      <table class="plain-table">
        <caption>{table.title}</caption>
        <TableHead titles={table.columns} />
        <tbody>
          {table.rows.map((row, rowIndex) => (
            <tr key={`${rowIndex}`}>
              {row.map((cell, at) =>
                at === 0 ? (
                  <th scope="row" key="0">
                    {cell.text}
                  </th>
                ) : (
                  <td key={`${at}`}>
                    {onCell ? (
                      <button type="button" class="linked" onClick={() => onCell(rowIndex, at - 1)}>
                        {cell.text}
                      </button>
                    ) : (
                      cell.text
                    )}
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** The results looked at: today, in the case that is tried, and what lies between. */
export function AnswerOutcome({ session, found, isTried }: AnswerProps & { readonly isTried: boolean }) {
  return (
    <table class="plain-table outcome" data-testid="outcome">
      <TableHead titles={["Result", "today", ...(isTried ? ["with this case", "difference"] : [])]} />
      <tbody>
        {found.results.map((of, at) => {
          const [today, tried] = [found.today[at] ?? Number.NaN, found.tried[at] ?? Number.NaN];
          return (
            <tr key={of.title} data-testid={`outcome-${of.cell.row}`}>
              <th scope="row">{of.title}</th>
              <td>{valueText(session, of, today)}</td>
              {isTried ? (
                <>
                  <td>
                    <b>{valueText(session, of, tried)}</b>
                  </td>
                  <td>{differenceText(session, of, tried - today)}</td>
                </>
              ) : null}
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
