// What an import would do, and what it has to ask first.
import { counted } from "../../core/counted";
import type { FileReading, ImportOptions, ImportQuestion } from "../../csv/import-options";
import type { ImportReport } from "../../csv/report";
import { TableHead } from "../controls/table-head";

interface QuestionsProps {
  readonly questions: readonly ImportQuestion[];
  readonly options: ImportOptions;
  readonly onAnswer: (options: ImportOptions, reading: FileReading | undefined) => void;
}

/** The questions of an import, each with its answers. */
export function CsvQuestions({ questions, options, onAnswer }: QuestionsProps) {
  return (
    <>
      {questions.map((question) => (
        <div class="wrong" key={question.text} role="alert">
          <p>{question.text}</p>
          {question.examples.slice(0, 3).map((example) => (
            <p class="quiet" key={`${example.line} ${example.column}`}>
              Line {example.line}, {example.column}: “{example.found}”
            </p>
          ))}
          <div class="row">
            {question.answers.map((answer) => (
              <button
                type="button"
                key={answer.label}
                onClick={() => onAnswer({ ...options, ...answer.options }, answer.reading)}
              >
                {answer.label}
              </button>
            ))}
          </div>
        </div>
      ))}
    </>
  );
}

const few = (names: readonly string[], count: number) =>
  count > 8 ? `${names.slice(0, 8).join(", ")} … (${count})` : names.join(", ");

interface ReportProps {
  readonly report: ImportReport;
  readonly onSaveRejected: () => void;
}

/** Counts, cells before and after, and everything refused with its line and reason. */
export function CsvReport({ report, onSaveRejected }: ReportProps) {
  const { counts } = report;
  const lines: readonly (readonly [name: string, count: number, detail: string])[] = [
    ["Added", counts.added, few(report.added, counts.added)],
    ["Changed", counts.changed, counted(report.changeCount, "cell")],
    ["As they are", counts.unchanged, ""],
    ...(counts.skipped > 0 ? [["Left alone", counts.skipped, ""] as const] : []),
    ["Refused", counts.refused, ""],
    ["Lines read", counts.read, ""],
  ];
  return (
    <div data-testid="csv-report">
      <h3>What it would do</h3>
      <table class="plain-table">
        <tbody>
          {lines.map(([name, count, detail]) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>{count}</td>
              <td>{count === 0 ? "" : detail}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <Changes report={report} />
      <Refused report={report} onSaveRejected={onSaveRejected} />
      {report.ignored.length > 0 ? (
        <details>
          <summary>{counted(report.ignored.length, "column")} of the file not brought in</summary>
          <ul>
            {report.ignored.map((one) => (
              <li key={one.header}>
                {one.header}: {one.reason}
              </li>
            ))}
          </ul>
        </details>
      ) : null}
    </div>
  );
}

function Changes({ report }: { readonly report: ImportReport }) {
  if (report.changes.length === 0) return null;
  return (
    <details open={report.changeCount <= 12}>
      <summary>{counted(report.changeCount, "cell")} before and after</summary>
      <table class="plain-table texts" data-testid="csv-changes">
        <TableHead titles={["cell", "before", "after"]} />
        <tbody>
          {report.changes.map(({ where, before, after }) => (
            <tr key={where}>
              <td>{where}</td>
              <td>{before === "" ? "blank" : before}</td>
              <td>{after === "" ? "blank" : after}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {report.changeCount > report.changes.length ? (
        <p class="quiet">{report.changeCount - report.changes.length} more.</p>
      ) : null}
    </details>
  );
}

function Refused({ report, onSaveRejected }: ReportProps) {
  if (report.rejectedCount === 0) return null;
  return (
    <>
      <h3>Not brought in</h3>
      <ul>
        {report.rejected.slice(0, 30).map((one) => (
          <li key={`${one.line} ${one.column} ${one.code}`}>
            Line {one.line}, {one.column}: “{one.found}”. {one.reason}
          </li>
        ))}
      </ul>
      {report.rejectedCount > 30 ? <p class="quiet">{report.rejectedCount - 30} more.</p> : null}
      <button type="button" onClick={onSaveRejected}>
        Save these lines with the reasons…
      </button>
    </>
  );
}
