// Process costing shown beside the books: equivalent units of the edition so far, by the weighted average and first in, first out.
import type { ProcessReport } from "../../accounts/stages";
import { showNumber } from "../../app/edition/format";
import type { Session } from "../../app/edition/session";
import type { WorkInProgress } from "../../app/settle/work-in-progress";
import { Scrolled } from "../controls/scrolled";
import { TableHead } from "../controls/table-head";

interface Props {
  readonly session: Session;
  readonly work: WorkInProgress;
  readonly digits: number;
}

/** The section at the end of the page. */
export function ProcessPart({ session, work: { processes, refused }, digits }: Props) {
  return (
    <section aria-labelledby="process">
      <h3 id="process">By process costing the same would be</h3>
      <p class="quiet">
        These books cost each piece by itself. Told beside them, for whoever is used to it: equivalent units, each stage
        counted by its share of the planned cost of materials, work and firings. Lost pieces count as far as they had
        come; what the normal ones cost is shown before it is borne by the others, the abnormal ones as an expense. Here
        it is told since the edition began; the papers have it for their period.
      </p>
      {refused.map(({ message }) => (
        <p key={message} class="mind">
          <b>Mind:</b> {message}
        </p>
      ))}
      {processes.length === 0 ? <p class="quiet">No piece has been started yet.</p> : null}
      {processes.map((one) => (
        <Process
          key={one.process.tier}
          session={session}
          report={one}
          isAlone={processes.length === 1}
          digits={digits}
        />
      ))}
    </section>
  );
}

interface ProcessProps {
  readonly session: Session;
  readonly report: ProcessReport;
  readonly isAlone: boolean;
  readonly digits: number;
}

function Process(props: ProcessProps) {
  const { report, isAlone } = props;
  const { tier } = report.process;
  const name = isAlone ? "All pieces" : tier === "special" ? "Special pieces" : "Standard pieces";
  return (
    <>
      <h4>{name}</h4>
      <Units {...props} name={name} />
      <Methods {...props} name={name} />
    </>
  );
}

interface NamedProps extends ProcessProps {
  readonly name: string;
}

/** Units and equivalent units. */
function Units({ session, report: { process }, name }: NamedProps) {
  const { locale } = session.formats;
  const { period } = process;
  const count = (units: number) => (units === 0 ? "" : showNumber(units, 0, 1, locale));
  const finished = { units: period.completed, done: period.elements.map(() => period.completed) };
  const rows = [
    ["In progress at the start", period.opening],
    ["Started", { units: period.started, done: [] }],
    ["Finished", finished],
    ["In progress now", period.closing],
    ["Lost, normal", period.normal],
    ["Lost, abnormal", period.abnormal],
  ] as const;
  return (
    <Scrolled label={`Equivalent units, ${name}`}>
      <table class="plain-table wide">
        <TableHead titles={["equivalent units", "pieces", ...period.elements.map((one) => one.name)]} numbers={4} />
        <tbody>
          {rows
            .filter(([, { units }]) => units > 0)
            .map(([title, { units, done }]) => (
              <tr key={title}>
                <th scope="row">{title}</th>
                <td>{count(units)}</td>
                {period.elements.map((element, at) => (
                  <td key={element.name}>{count(done[at] ?? 0)}</td>
                ))}
              </tr>
            ))}
        </tbody>
      </table>
    </Scrolled>
  );
}

/** What each method makes of it, beside the books. */
function Methods({ session, report: { process, average, firstIn }, name, digits }: NamedProps) {
  const { locale } = session.formats;
  const money = (amount: number) => showNumber(amount, digits, digits, locale);
  const lost = (costs: typeof average) => costs.normal + costs.abnormal;
  const rates = process.period.elements.map((element, at) => {
    const rate = (costs: typeof average) => costs.elements[at]?.rate;
    return [`${element.name}, an equivalent unit`, undefined, rate(average), rate(firstIn)] as const;
  });
  const rows = [
    ...rates,
    ["Finished pieces", process.books.completed, average.completed, firstIn.completed],
    ["In progress", process.books.closing, average.closing, firstIn.closing],
    ["Lost pieces", process.books.lost, lost(average), lost(firstIn)],
    ["… of which abnormal", undefined, average.abnormal || undefined, firstIn.abnormal || undefined],
  ] as const;
  return (
    <Scrolled label={`By three ways of costing, ${name}`}>
      <table class="plain-table wide">
        <TableHead
          titles={[session.formats.currency, "piece by piece", "weighted average", "first in, first out"]}
          numbers={3}
        />
        <tbody>
          {rows
            .filter(([, ...amounts]) => amounts.some((amount) => amount !== undefined))
            .map(([title, ...amounts]) => (
              <tr key={title}>
                <th scope="row">{title}</th>
                {amounts.map((amount, at) => (
                  <td key={`${at}`}>{amount === undefined ? "" : money(amount)}</td>
                ))}
              </tr>
            ))}
        </tbody>
      </table>
    </Scrolled>
  );
}
