// The bench sheet on paper: a step a page, a row a piece, boxes to tick and room to write.

import type { BenchPiece, BenchStep } from "../../app/paper/bench-sheet";
import { counted } from "../../core/counted";
import { TableHead } from "../controls/table-head";
import { Box, CautionList, Cautions, Facts, type Heading, Leaf, NoteLines } from "./parts";

interface BenchProps {
  readonly steps: readonly BenchStep[];
  readonly heading: Heading;
}

/** All steps that pieces wait for. */
export function BenchPaper({ steps, heading }: BenchProps) {
  return (
    <>
      {steps.map((step) => (
        <Leaf
          key={step.step}
          heading={heading}
          paper="Bench sheet"
          title={step.title}
          count={counted(step.pieces.length, "piece")}
        >
          <Facts facts={step.facts} />
          <CautionList cautions={step.cautions} />
          <Rows step={step} />
          <NoteLines title="Notes of the day" count={3} />
          <Cautions cautions={step.cautions} />
        </Leaf>
      ))}
    </>
  );
}

function Rows({ step }: { readonly step: BenchStep }) {
  const { entry } = step;
  const isPassing = entry === undefined;
  const titles = isPassing
    ? ["Piece", "tier", "good", "second", "lost", "note"]
    : ["done", "Piece", "tier", entry, "lost", "why, or a note"];
  return (
    <table class="ruled bench">
      <TableHead titles={titles} />
      <tbody>
        {step.pieces.map((piece) =>
          isPassing ? <PassRow key={piece.row} piece={piece} /> : <WorkRow key={piece.row} piece={piece} />,
        )}
      </tbody>
    </table>
  );
}

function WorkRow({ piece }: { readonly piece: BenchPiece }) {
  return (
    <tr>
      <td class="tick">
        <Box />
      </td>
      <th scope="row">{piece.label}</th>
      <td>{piece.tier}</td>
      <td class="to-fill" />
      <td class="tick">
        <Box />
      </td>
      <td class="room">{piece.note}</td>
    </tr>
  );
}

function PassRow({ piece }: { readonly piece: BenchPiece }) {
  return (
    <tr>
      <th scope="row">{piece.label}</th>
      <td>{piece.tier}</td>
      {["good", "second", "lost"].map((grade) => (
        <td class="tick" key={grade}>
          <Box />
        </td>
      ))}
      <td class="room">{piece.note}</td>
    </tr>
  );
}
