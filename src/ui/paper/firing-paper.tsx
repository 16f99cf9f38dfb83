// The firing sheet on paper: programme, load and lines for what is read while it runs.

import type { FiringSheet, LoadPiece } from "../../app/paper/firing-sheet";
import type { RampLine } from "../../app/paper/programme";
import { counted } from "../../core/counted";
import { TableHead } from "../controls/table-head";
import { Box, CautionList, Cautions, Facts, type Heading, Leaf, Lines, NoteLines } from "./parts";

interface FiringsProps {
  readonly firings: readonly FiringSheet[];
  readonly heading: Heading;
  /** The title of a step by its id. */
  readonly stepTitle: (step: string) => string;
}

/** Every chosen firing, a page each. */
export function FiringPaper({ firings, heading, stepTitle }: FiringsProps) {
  return (
    <>
      {firings.map((firing) => (
        <Leaf key={firing.row} heading={heading} paper="Firing sheet" title={`Firing ${firing.name}`}>
          <Facts facts={firing.facts} />
          {firing.warning === "" ? null : (
            <p class="mind">
              <b>Mind:</b> {firing.warning}.
            </p>
          )}
          <CautionList cautions={firing.cautions} />
          <Programme name={firing.programme} ramps={firing.ramps} />
          <Load firing={firing} stepTitle={stepTitle} />
          <h4>Read and write down</h4>
          <Lines lines={firing.readings} />
          {firing.note === "" ? null : <p>Noted before: {firing.note}</p>}
          <NoteLines title="Notes" count={4} />
          <Cautions cautions={firing.cautions} />
        </Leaf>
      ))}
    </>
  );
}

function Programme({ name, ramps }: { readonly name: string; readonly ramps: readonly RampLine[] }) {
  if (name === "") return <p>No programme is named; the kiln's usual one holds.</p>;
  return (
    <>
      <h4>Programme: {name}</h4>
      {ramps.length === 0 ? (
        <p>It has no ramps on the Programmes sheet.</p>
      ) : (
        <table class="ruled">
          <TableHead titles={["ramp", "rate", "to cone", "to", "soak", "note"]} />
          <tbody>
            {ramps.map((ramp) => (
              <tr key={ramp.ramp}>
                <th scope="row">{ramp.ramp}</th>
                <td>{ramp.rate}</td>
                <td>{ramp.cone}</td>
                <td>{ramp.to}</td>
                <td>{ramp.soak}</td>
                <td>{ramp.note}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </>
  );
}

function Load({ firing, stepTitle }: Pick<FiringsProps, "stepTitle"> & { readonly firing: FiringSheet }) {
  const { load, size } = firing;
  const steps = [...new Set(load.map(({ step }) => step))];
  return (
    <>
      <h4>
        Load: {counted(load.length, "piece")}
        {size === "" ? "" : `, ${size} of shelf`}
      </h4>
      {load.length === 0 ? <p>Nothing is in it yet.</p> : null}
      {steps.map((step) => (
        <div key={step}>
          <p class="of-step">For {stepTitle(step)}:</p>
          <ul class="load">
            {load
              .filter((piece) => piece.step === step)
              .map((piece) => (
                <LoadedPiece key={piece.row} piece={piece} />
              ))}
          </ul>
        </div>
      ))}
    </>
  );
}

function LoadedPiece({ piece }: { readonly piece: LoadPiece }) {
  return (
    <li>
      <Box /> <b>{piece.label}</b> {piece.tier === "special" ? "special " : ""}
      <small>{piece.size}</small>
    </li>
  );
}
