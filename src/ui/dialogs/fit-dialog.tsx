// Fitting a kiln to its own meter: two factors by least squares, what is left over, and how far to trust it.
import { useState } from "preact/hooks";
import { writeCells } from "../../app/commands";
import { editableNumber, showNumber } from "../../app/format";
import { fitKiln } from "../../app/kiln-heat";
import type { Session } from "../../app/session";
import { rowLabel } from "../../core/access";
import { closeDialog } from "../open-dialog";
import { Picture } from "../picture";
import { TableHead } from "../table-head";
import { Dialog, Field } from "./dialog";

export function FitDialog({ session }: { readonly session: Session }) {
  session.valuesVersion.value;
  const { rows } = session.book.value.sheets.kilns;
  const selected = session.selection.value?.sheet === "kilns" ? session.selection.value.anchor.row : rows[0]?.id;
  const [id, setId] = useState(selected ?? "");
  const fit = fitKiln(session, id);
  const { locale } = session.formats;
  const show = (value: number, digits = 1) => showNumber(value, digits, digits, locale);
  const use = () => {
    if (!fit.ok) return;
    const { wallLossFactor, storedHeatFactor } = fit.value.calibration;
    const write = (column: string, value: number) => ({
      cell: { sheet: "kilns", row: id, column } as const,
      typed: editableNumber(Number(value.toPrecision(4)), { kind: "input", type: "number" }, locale),
    });
    if (writeCells(session, [write("wall_factor", wallLossFactor), write("heat_factor", storedHeatFactor)], "typed"))
      closeDialog();
  };
  return (
    <Dialog title="Fit a kiln to its meter" onClose={closeDialog}>
      <p class="quiet">
        Every firing of the kiln with a meter reading and a programme is reckoned anew; one factor on what the wall
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
      {fit.ok ? (
        <>
          <p class="words" data-testid="fit-trust">
            Wall loss × {show(fit.value.calibration.wallLossFactor, 3)}, stored heat ×{" "}
            {show(fit.value.calibration.storedHeatFactor, 3)}. {fit.value.calibration.trust.text}
          </p>
          <table class="plain-table">
            <TableHead titles={["Firing", "metered", "as built", "fitted", "left over"]} />
            <tbody>
              {fit.value.calibration.lines.map((line, at) => (
                <tr key={fit.value.names[at]}>
                  <th scope="row">
                    {fit.value.names[at]} {line.programme}
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
            label="Reckoned against metered energy; the numbers are in the table above"
            of={[id, fit.value.calibration.wallLossFactor]}
            draw={async (width) => {
              const { drawReadings } = await import("../../charts/heat-plots");
              return drawReadings(
                fit.value.calibration.lines.map((line, at) => ({
                  name: fit.value.names[at] ?? "",
                  metered: line.meteredKwh,
                  reckoned: line.calibratedKwh,
                })),
                width,
              );
            }}
          />
        </>
      ) : (
        <div class="wrong" role="alert">
          {fit.problems.map((problem) => (
            <p key={problem.message}>{problem.message}</p>
          ))}
        </div>
      )}
      <div class="actions">
        <button type="button" onClick={closeDialog}>
          Close
        </button>
        <button type="button" class="act" disabled={!fit.ok || fit.value.names.length === 0} onClick={use}>
          Use these factors
        </button>
      </div>
    </Dialog>
  );
}
