// The cautions of a firing, for its sheet and for the card of its row.
import { rowLabel } from "../../core/document/access";
import type { Row } from "../../core/document/workbook";
import { CAUTIONS, type Caution } from "../../core/sheets/caution-texts";
import { cautionsOfStep } from "../../core/sheets/cautions";
import { isFiringStep } from "../../core/sheets/step-kinds";
import { isCellError } from "../../engine/values";
import { type PaperSource, textIn } from "./source";

/** The cautions of the steps in the load; of the programme's name where nothing is in it yet. */
export function loadCautions(source: PaperSource, steps: ReadonlySet<string>, programme: string): readonly Caution[] {
  const route = source.book.sheets.route.rows;
  const inLoad = route.filter((row) => steps.has(row.id));
  const meant = inLoad.length > 0 ? inLoad : route.filter((row) => row.cells.programme === programme);
  const found = new Set(meant.flatMap((row) => cautionsOfStep(route, row)));
  return [...new Set([...found, CAUTIONS.kiln, CAUTIONS.fumes])];
}

/** The cautions of a firing of the Firings sheet, by the steps of the pieces in it. */
export function cautionsOfFiring(source: PaperSource, firing: Row): readonly Caution[] {
  const { book, read } = source;
  const name = rowLabel("firings", firing);
  const steps = book.sheets.route.rows.filter(
    (step) =>
      isFiringStep(step) &&
      book.sheets.pieces.rows.some((piece) => {
        const load = read("pieces", piece.id, `${step.id}.load`);
        return !isCellError(load) && load === name;
      }),
  );
  return loadCautions(source, new Set(steps.map(({ id }) => id)), textIn(firing, "programme"));
}
