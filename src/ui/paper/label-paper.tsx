// Sheets of labels, to the millimetre. All labels are written in one size: the largest in which every one of them fits.
import "./labels.css";
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import type { DividedSheet } from "../../app/paper/label-setup";
import type { PieceLabel } from "../../app/paper/piece-label";
import { counted, plural } from "../../core/counted";
import { Scrolled } from "../controls/scrolled";

interface LabelsProps {
  readonly sheet: DividedSheet;
  /** By sheet and place; a blank place was used before. */
  readonly sheets: readonly (readonly (PieceLabel | undefined)[])[];
  readonly edition: string;
}

/** Sizes of the writing that are tried, in points. */
const LARGEST = 11;
const SMALLEST = 5;

const mm = (length: number) => `${Number(length.toFixed(3))}mm`;

/** The sheets, a page each. */
export function LabelPaper({ sheet, sheets, edition }: LabelsProps) {
  const host = useRef<HTMLDivElement>(null);
  const [tooLong, setTooLong] = useState(0);
  useLayoutEffect(() => {
    if (host.current) setTooLong(writeToFit(host.current));
  }, [sheet, sheets, edition]);
  const size = { width: mm(sheet.labelWidthMm), height: mm(sheet.labelHeightMm) };
  return (
    <div ref={host}>
      {tooLong > 0 ? (
        <p class="problem unprinted" role="alert">
          {counted(tooLong, "label says", "labels say")} more than fits on it, and {plural(tooLong, "is", "are")} cut
          off at the end. Leave something off, shorten the words, or take larger labels.
        </p>
      ) : null}
      {sheets.map((labels, at) => (
        <Scrolled class="label-scroll" key={at} label={`Sheet ${at + 1} of labels`}>
          <div class="label-sheet" style={{ width: mm(sheet.widthMm), "--high": mm(sheet.heightMm) }}>
            {labels.map((label, index) => {
              const where = sheet.places[index];
              return label && where ? (
                <div
                  class="piece-label"
                  key={label.row}
                  style={{ ...size, left: mm(where.leftMm), top: mm(where.topMm) }}
                >
                  <OnLabel label={label} edition={edition} />
                </div>
              ) : null;
            })}
          </div>
        </Scrolled>
      ))}
    </div>
  );
}

function OnLabel({
  label: { number, facts, words },
  edition,
}: {
  readonly label: PieceLabel;
  readonly edition: string;
}) {
  return (
    <>
      <p>
        <b>{edition}</b> <b class="which-one">{number}</b>
      </p>
      {facts.map(({ label, text }) => (
        <p key={label}>
          {label}: {text}
        </p>
      ))}
      {words.map((line) => (
        <p key={line}>{line}</p>
      ))}
    </>
  );
}

const overflows = ({ scrollHeight, clientHeight, scrollWidth, clientWidth }: HTMLElement) =>
  scrollHeight > clientHeight || scrollWidth > clientWidth;

/** Writes all labels in the largest size in which they fit, half a point at a time; gives how many do not fit in the smallest. */
function writeToFit(host: HTMLElement): number {
  const labels = [...host.querySelectorAll<HTMLElement>(".piece-label")];
  for (let points = LARGEST; points >= SMALLEST; points -= 0.5) {
    host.style.setProperty("--label-size", `${points}pt`);
    if (!labels.some(overflows)) return 0;
  }
  return labels.filter(overflows).length;
}
