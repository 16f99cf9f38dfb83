// Fitting a kiln to its own meter: two factors by least squares, what is left over, and how far to trust it.
import { useEffect, useRef, useState } from "preact/hooks";
import { showNumber } from "../../app/edition/format";
import type { Session } from "../../app/edition/session";
import { type RunningFit, runFit } from "../../app/plan/fit-client";
import { fitInput, useFit } from "../../app/plan/kiln-heat";
import type { Calibration } from "../../ceramics/kiln/calibrate";
import { rowLabel } from "../../core/document/access";
import { fail, problem, type Result } from "../../core/problem";
import { Dialog, Field } from "../controls/dialog";
import { Picture } from "../controls/picture";
import { TableHead } from "../controls/table-head";
import { closeDialog } from "../shell/open-dialog";

type Fit =
  | { readonly kind: "running"; readonly tried: number }
  | { readonly kind: "stopped" }
  | { readonly kind: "done"; readonly answer: Result<Calibration>; readonly names: readonly string[] };

/** A fit of a kiln in a worker, begun anew for another kiln, other readings, or when asked for. */
function useFitting(session: Session, id: string) {
  const [fit, setFit] = useState<Fit>({ kind: "running", tried: 0 });
  const [attempt, setAttempt] = useState(0);
  const running = useRef<RunningFit | undefined>(undefined);
  const input = fitInput(session, id);
  const asked = JSON.stringify(input);
  useEffect(() => {
    if (!input.ok) return setFit({ kind: "done", answer: input, names: [] });
    setFit({ kind: "running", tried: 0 });
    const { kiln, readings, names } = input.value;
    const refused = (found: string) =>
      fail(
        problem({ code: "fit.failed", where: "The fit", found, allowed: "a run to its end", fix: "Start it again." }),
      );
    running.current = runFit(
      { kiln, readings },
      {
        onTried: (tried) => setFit({ kind: "running", tried }),
        onAnswer: (answer) => setFit({ kind: "done", answer, names }),
        onFailure: (message) => setFit({ kind: "done", answer: refused(message), names }),
      },
    );
    return () => running.current?.stop();
    // What is asked says all that the input holds.
  }, [asked, attempt]);
  const stop = () => {
    running.current?.stop();
    setFit({ kind: "stopped" });
  };
  return { fit, stop, again: () => setAttempt(attempt + 1) };
}

/** The kiln that is selected, otherwise the first that has metered firings. */
function firstKiln(session: Session): string {
  const selected = session.selection.value;
  if (selected?.sheet === "kilns") return selected.anchor.row;
  const { rows } = session.book.value.sheets.kilns;
  const hasReadings = (id: string) => {
    const input = fitInput(session, id);
    return input.ok && input.value.readings.length > 0;
  };
  return (rows.find(({ id }) => hasReadings(id)) ?? rows[0])?.id ?? "";
}

export function FitDialog({ session }: { readonly session: Session }) {
  session.valuesVersion.value;
  const { rows } = session.book.value.sheets.kilns;
  const [id, setId] = useState(() => firstKiln(session));
  const { fit, stop, again } = useFitting(session, id);
  const isFitted = fit.kind === "done" && fit.answer.ok && fit.names.length > 0;
  const done = isFitted && fit.answer.ok ? { calibration: fit.answer.value, names: fit.names } : undefined;
  const { locale } = session.formats;
  const show = (value: number, digits = 1) => showNumber(value, digits, digits, locale);
  return (
    <Dialog title="Fit a kiln to its meter" onClose={closeDialog}>
      <p class="quiet">
        Every firing of the kiln with a meter reading and a programme is calculated anew; one factor on what the wall
        loses and one on the heat it holds are fitted to the readings.
      </p>
      <Field label="Kiln">
        <select name="kiln" value={id} onChange={(event) => setId(event.currentTarget.value)}>
          {rows.map((row) => (
            <option key={row.id} value={row.id}>
              {rowLabel("kilns", row)}
            </option>
          ))}
        </select>
      </Field>
      {fit.kind === "running" ? (
        <div class="row">
          <p class="words" role="status" data-testid="fit-progress">
            Trying factors: {fit.tried} pairs so far.
          </p>
          <button type="button" onClick={stop}>
            Stop
          </button>
        </div>
      ) : null}
      {fit.kind === "stopped" ? (
        <div class="row">
          <p class="words" role="status">
            Stopped; nothing was changed.
          </p>
          <button type="button" onClick={again}>
            Start again
          </button>
        </div>
      ) : null}
      {done ? (
        <>
          <p class="words" data-testid="fit-trust">
            Wall loss × {show(done.calibration.wallLossFactor, 3)}, stored heat ×{" "}
            {show(done.calibration.storedHeatFactor, 3)}. {done.calibration.trust.text}
          </p>
          <table class="plain-table">
            <TableHead titles={["Firing", "metered", "as built", "fitted", "left over"]} />
            <tbody>
              {done.calibration.lines.map((line, at) => (
                <tr key={done.names[at]}>
                  <th scope="row">
                    {done.names[at]} {line.programme}
                  </th>
                  <td>{show(line.meteredKwh)}</td>
                  <td>{show(line.uncalibratedKwh)}</td>
                  <td>{show(line.calibratedKwh)}</td>
                  <td>{show(line.errorPercent)} %</td>
                </tr>
              ))}
            </tbody>
          </table>
          <Picture
            label="Calculated against metered energy; the numbers are in the table above"
            of={[id, done.calibration.wallLossFactor]}
            draw={async (width) => {
              const { drawReadings } = await import("../../charts/heat-plots");
              return drawReadings(
                done.calibration.lines.map((line, at) => ({
                  name: done.names[at] ?? "",
                  metered: line.meteredKwh,
                  calculated: line.calibratedKwh,
                })),
                width,
              );
            }}
          />
        </>
      ) : null}
      {fit.kind === "done" && fit.answer.ok && fit.names.length === 0 ? (
        <p class="words" data-testid="fit-trust">
          There is nothing to fit yet: no firing of this kiln has both a meter reading and a programme.{" "}
          {fit.answer.value.trust.text}
        </p>
      ) : null}
      {fit.kind === "done" && !fit.answer.ok ? (
        <div class="wrong" role="alert">
          {fit.answer.problems.map((problem) => (
            <p key={problem.message}>{problem.message}</p>
          ))}
        </div>
      ) : null}
      <div class="actions">
        <button type="button" onClick={closeDialog}>
          Close
        </button>
        <button
          type="button"
          class="act"
          disabled={!done}
          onClick={() => done && useFit(session, id, done.calibration) && closeDialog()}
        >
          Use these factors
        </button>
      </div>
    </Dialog>
  );
}
