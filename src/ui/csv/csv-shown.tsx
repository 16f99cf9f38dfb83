// A file that was read: how it was read, its first rows with where each column goes, and what it would do.

import type { CsvImport } from "../../app/csv/csv-import";
import type { Session } from "../../app/edition/session";
import { counted, plural } from "../../core/counted";
import { ENCODING_NAMES, ENCODINGS, type Encoding } from "../../csv/encoding";
import type { FilePreview } from "../../csv/file-table";
import { csvColumns } from "../../csv/headers";
import type { ImportOptions, ImportQuestion } from "../../csv/import-options";
import type { ImportReport } from "../../csv/report";
import type { Quote } from "../../csv/sniff";
import type { Delimiter } from "../../csv/write";
import { Field } from "../controls/dialog";
import { ChoiceField } from "../controls/fields";
import { closeDialog } from "../shell/open-dialog";
import { CsvQuestions, CsvReport } from "./csv-report";

interface ShownProps {
  readonly session: Session;
  readonly importing: CsvImport;
  readonly preview: FilePreview;
  readonly report: ImportReport;
}

/** What these leave out is listed as refused, so nothing is read wrong while they are open. */
const MAY_STAY_OPEN: readonly ImportQuestion["about"][] = ["missing", "formulas", "losses"];

/** Everything about a file before it is brought in. */
export function CsvShown({ session, importing, preview, report }: ShownProps) {
  const options = importing.options.value;
  const onOptions = (changed: ImportOptions) => void importing.plan(changed);
  return (
    <>
      <p class="quiet">
        {preview.name}: {counted(preview.rowCount, "line")} under {preview.header.length}{" "}
        {plural(preview.header.length, "column")}.
      </p>
      <HowRead importing={importing} preview={preview} report={report} />
      {preview.problems.map((problem) => (
        <p class="wrong" key={problem.message}>
          {problem.message}
        </p>
      ))}
      {preview.problemCount > preview.problems.length ? (
        <p class="quiet">{preview.problemCount - preview.problems.length} more of these.</p>
      ) : null}
      <FirstRows session={session} importing={importing} preview={preview} report={report} />
      <CsvQuestions
        questions={report.questions}
        options={options}
        onAnswer={(changed, read) =>
          read ? void importing.read({ ...importing.reading.value, ...read }) : onOptions(changed)
        }
      />
      <WhatFor options={options} onOptions={onOptions} />
      <CsvReport report={report} onSaveRejected={() => void importing.saveRejected()} />
      <div class="actions">
        <span class="quiet" role="status">
          {importing.pending.value > 0 ? "Checking…" : ""}
        </span>
        <button type="button" onClick={() => importing.cancel()}>
          Another file
        </button>
        <button type="button" onClick={closeDialog}>
          Leave everything as it is
        </button>
        <button
          type="button"
          class="act"
          disabled={
            importing.pending.value > 0 ||
            report.questions.some(({ about }) => !MAY_STAY_OPEN.includes(about)) ||
            report.operations === 0
          }
          onClick={async () => {
            if (await importing.bringIn()) closeDialog();
          }}
        >
          Bring it in
        </button>
      </div>
    </>
  );
}

interface ChooserProps<T extends string> {
  readonly label: string;
  readonly name: string;
  /** What was chosen; "" for what was found. */
  readonly value: T | "";
  /** What was found, in words. */
  readonly found: string;
  readonly choices: Readonly<Record<string, string>>;
  readonly onChange: (value: T | undefined) => void;
}

/** A choice that begins with what was found in the file. */
function Chooser<T extends string>({ label, name, value, found, choices, onChange }: ChooserProps<T>) {
  return (
    <Field label={label}>
      <select
        name={name}
        value={value}
        onChange={({ currentTarget }) => onChange(currentTarget.value === "" ? undefined : (currentTarget.value as T))}
      >
        <option value="">{value === "" ? `${found} (found)` : "as found"}</option>
        {Object.entries(choices).map(([id, title]) => (
          <option key={id} value={id}>
            {title}
          </option>
        ))}
      </select>
    </Field>
  );
}

const DELIMITERS: Readonly<Record<Delimiter, string>> = {
  ",": "comma",
  ";": "semicolon",
  "\t": "tab",
  "|": "upright bar",
};
const QUOTES: Readonly<Record<string, string>> = { '"': "quotation mark", "'": "apostrophe", none: "none" };
const REMARKS = { yes: "remarks, left out", no: "rows like any other" };
const DECIMALS = { ".": "point", ",": "comma" };
const DATES = { dmy: "day first", mdy: "month first", ymd: "year first" };

const NO_NAMES = "no line, data only";

/** The lines at the top by what stands on them. The number is made text of, so that the order is that of the file. */
function namesChoices({ beginning }: FilePreview): Readonly<Record<string, string>> {
  const lines = beginning.map(({ line, cells }) => {
    const text = cells.filter((cell) => cell.trim() !== "").join(", ");
    return [String(line), `line ${line}: ${text.slice(0, 40)}`];
  });
  return { "0": NO_NAMES, ...Object.fromEntries(lines) };
}

/** Settings with one of them as it was chosen, or without it where none is. */
function withChoice<Settings extends object, Key extends keyof Settings>(
  settings: Settings,
  key: Key,
  chosen: Settings[Key] | undefined,
): Settings {
  const { [key]: _, ...others } = settings;
  return (chosen === undefined ? others : { ...others, [key]: chosen }) as Settings;
}

function HowRead(props: Omit<ShownProps, "session">) {
  return (
    <div class="row how-read">
      <HowParted {...props} />
      <HowCellsRead {...props} />
    </div>
  );
}

/** How the file is cut into lines and cells. */
function HowParted({ importing, preview }: Omit<ShownProps, "session">) {
  const reading = importing.reading.value;
  const { delimiter, quote, headerLine, remarks } = preview;
  const read = <Key extends keyof typeof reading>(key: Key, chosen: (typeof reading)[Key] | undefined) =>
    void importing.read(withChoice(reading, key, chosen));
  return (
    <>
      {preview.encoding ? (
        <Chooser<Encoding>
          label="Letters"
          name="encoding"
          value={reading.encoding ?? ""}
          found={ENCODING_NAMES[preview.encoding.encoding]}
          choices={Object.fromEntries(ENCODINGS.map((one) => [one, ENCODING_NAMES[one]]))}
          onChange={(chosen) => read("encoding", chosen)}
        />
      ) : null}
      <Chooser<Delimiter>
        label="Between columns"
        name="delimiter"
        value={reading.delimiter ?? ""}
        found={DELIMITERS[delimiter]}
        choices={DELIMITERS}
        onChange={(chosen) => read("delimiter", chosen)}
      />
      <Chooser<string>
        label="Around cells"
        name="quote"
        value={reading.quote === undefined ? "" : reading.quote === "" ? "none" : reading.quote}
        found={QUOTES[quote] ?? "none"}
        choices={QUOTES}
        onChange={(chosen) => read("quote", (chosen === "none" ? "" : chosen) as Quote | undefined)}
      />
      <Chooser<string>
        label="Names are on"
        name="header"
        value={reading.headerLine === undefined ? "" : String(reading.headerLine)}
        found={headerLine === 0 ? NO_NAMES : `line ${headerLine}`}
        choices={namesChoices(preview)}
        onChange={(chosen) => read("headerLine", chosen === undefined ? undefined : Number(chosen))}
      />
      {remarks === undefined ? null : (
        <Chooser<string>
          label="Lines that begin with #"
          name="remarks"
          value={reading.remarks === undefined ? "" : reading.remarks ? "yes" : "no"}
          found={remarks ? REMARKS.yes : REMARKS.no}
          choices={REMARKS}
          onChange={(chosen) => read("remarks", chosen === undefined ? undefined : chosen === "yes")}
        />
      )}
    </>
  );
}

/** What stands in the cells. */
function HowCellsRead({ importing, report }: Omit<ShownProps, "session">) {
  const options = importing.options.value;
  const other = report.decimal === "," ? "point" : "comma";
  const plan = <Key extends keyof typeof options>(key: Key, chosen: (typeof options)[Key] | undefined) =>
    void importing.plan(withChoice(options, key, chosen));
  return (
    <>
      <Chooser<"." | ",">
        label="Decimal mark"
        name="decimal"
        value={options.decimal ?? ""}
        found={report.decimal ? DECIMALS[report.decimal] : "none"}
        choices={DECIMALS}
        onChange={(chosen) => plan("decimal", chosen)}
      />
      <Chooser<string>
        label="Thousands mark"
        name="thousands"
        value={options.grouped === undefined ? "" : options.grouped ? "yes" : "no"}
        found="only where sure"
        choices={{ yes: `the ${other} or a space` }}
        onChange={(chosen) => plan("grouped", chosen === "yes" ? true : undefined)}
      />
      <Chooser<"dmy" | "mdy" | "ymd">
        label="Dates"
        name="dates"
        value={options.dates ?? ""}
        found={report.dates ? DATES[report.dates] : "year first, or none"}
        choices={DATES}
        onChange={(chosen) => plan("dates", chosen)}
      />
    </>
  );
}

/** The first rows as they were parted, each column with where it goes. */
function FirstRows({ session, importing, preview, report }: ShownProps) {
  const ours = csvColumns(session.book.value, importing.sheet).filter(({ shows }) => shows === "entered");
  return (
    <section class="first-rows" aria-label="First rows of the file">
      <table class="plain-table texts">
        <thead>
          <tr>
            <th scope="col">line</th>
            {preview.header.map((name, at) => (
              <th scope="col" key={`${at} ${name}`}>
                {name}
              </th>
            ))}
          </tr>
          <tr>
            <th scope="row">goes to</th>
            {report.columns.map(({ header, kind, key }, at) => (
              <td key={`${at} ${header}`}>
                {kind === "computed" ? (
                  <span class="quiet">computed</span>
                ) : kind === "twice" ? (
                  <span class="quiet">there already</span>
                ) : (
                  <select
                    aria-label={`Where the column ${header} goes`}
                    value={importing.options.value.columns?.[header] ?? (kind === "unit" ? "" : key)}
                    onChange={({ currentTarget }) => void importing.sendColumn(header, currentTarget.value)}
                  >
                    <option value="">nowhere</option>
                    {ours.map((entry) => (
                      <option key={entry.column.key} value={entry.column.key}>
                        {entry.header}
                      </option>
                    ))}
                    <option value="+text">a column of my own, text</option>
                    <option value="+number">a column of my own, numbers</option>
                  </select>
                )}
              </td>
            ))}
          </tr>
        </thead>
        <tbody>
          {preview.rows.map((row) => (
            <tr key={row.line}>
              <th scope="row">{row.line}</th>
              {preview.header.map((name, at) => (
                <td key={`${at} ${name}`}>{(row.cells[at] ?? "").slice(0, 60)}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

interface WhatForProps {
  readonly options: ImportOptions;
  readonly onOptions: (options: ImportOptions) => void;
}

function WhatFor({ options, onOptions }: WhatForProps) {
  return (
    <div class="row">
      <ChoiceField
        label="Rows the sheet has"
        name="existing"
        value={options.existing ?? "update"}
        choices={[
          ["update", "change what differs"],
          ["skip", "leave as they are"],
        ]}
        onChange={(existing) => onOptions({ ...options, existing: existing === "skip" ? "skip" : "update" })}
      />
      <ChoiceField
        label="Rows it does not have"
        name="missing"
        value={options.addMissing ? "add" : "refuse"}
        choices={[
          ["refuse", "refuse"],
          ["add", "add"],
        ]}
        onChange={(missing) => onOptions({ ...options, addMissing: missing === "add" })}
      />
      <ChoiceField
        label="A blank in the file"
        name="blank"
        value={options.blankClears ? "clears" : "leaves"}
        choices={[
          ["leaves", "leaves the cell as it is"],
          ["clears", "clears the cell"],
        ]}
        onChange={(blank) => onOptions({ ...options, blankClears: blank === "clears" })}
      />
    </div>
  );
}
