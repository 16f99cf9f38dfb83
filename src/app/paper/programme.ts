// A firing programme as it is written on paper: its ramps, in °C and °F.
import type { Row } from "../../core/document/workbook";
import { numberIn, type PaperSource, rateText, temperatureText, textIn, withUnit } from "./source";

/** One ramp, ready to read. */
export interface RampLine {
  readonly ramp: string;
  readonly rate: string;
  readonly cone: string;
  /** What it goes to, °C and °F; blank where the cone is not known. */
  readonly to: string;
  readonly soak: string;
  readonly note: string;
}

function rampsOf({ book }: PaperSource, programme: string) {
  if (programme === "") return [];
  const rows = book.sheets.programmes.rows.filter((row) => row.cells.programme === programme);
  return rows.sort((a, b) => Number(a.cells.ramp) - Number(b.cells.ramp));
}

/** The ramps of a programme in order; none where there is no such programme. */
export function rampLines(source: PaperSource, programme: string): readonly RampLine[] {
  return rampsOf(source, programme).map((row) => {
    const number = (column: string) => numberIn(source, "programmes", row.id, column);
    const [rate, target, soak, vent] = [number("rate"), number("target"), number("soak"), number("vent")];
    const aired = vent === undefined ? "" : `vent ${withUnit(source, vent, "L/s")}`;
    return {
      ramp: String(row.cells.ramp ?? ""),
      rate: rate === undefined ? "as fast as it can" : rateText(source, rate),
      cone: String(row.cells.cone ?? ""),
      to: target === undefined ? "" : temperatureText(source, target),
      soak: soak ? withUnit(source, soak, "min") : "",
      note: [aired, textIn(row, "note")].filter(Boolean).join("; "),
    };
  });
}

/** The cone of a programme's hottest ramp; blank where it names none. */
export function programmeCone(source: PaperSource, programme: string): string {
  const target = (row: Row) => numberIn(source, "programmes", row.id, "target") ?? Number.NEGATIVE_INFINITY;
  const hottest = rampsOf(source, programme).sort((a, b) => target(b) - target(a))[0];
  return String(hottest?.cells.cone ?? "");
}

/** The hottest target of a programme in °C; undefined where none is known. */
export function programmePeak(source: PaperSource, programme: string): number | undefined {
  const targets = rampsOf(source, programme).flatMap((row) => numberIn(source, "programmes", row.id, "target") ?? []);
  return targets.length === 0 ? undefined : Math.max(...targets);
}
