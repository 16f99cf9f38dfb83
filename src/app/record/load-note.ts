// How full a firing would be with what is recorded, and what a piece in it would bear, shown before it is recorded.

import { fullLoad } from "../../ceramics/loads/load";
import { counted } from "../../core/counted";
import type { Workbook } from "../../core/document/workbook";
import { isFiringStep } from "../../core/sheets/step-kinds";
import { moneyText } from "../edition/money-text";
import type { Session } from "../edition/session";
import type { FiringLoad } from "../loads/loads";
import { costOfFiring, firingRecords } from "./firing-sums";

/** Says it of a firing as it would be in `after`; nothing where it is empty or what it costs is not known. */
export function loadNote(session: Session, after: Workbook, load: FiringLoad): string | undefined {
  const { row, kiln, pieces } = load;
  if (pieces.length === 0) return undefined;
  const full = fullLoad(pieces, kiln);
  const first = after.sheets.route.rows.find(isFiringStep);
  const programme = row.cells.programme ?? load.steps[0]?.cells.programme;
  const found = costOfFiring(firingRecords(session), {
    kiln: kiln.id,
    programme: typeof programme === "string" ? programme : undefined,
    kgEach: pieces.reduce((sum, { kg }) => sum + kg, 0) / pieces.length,
    isRaw: load.steps.length === 1 && load.steps[0] === first,
  });
  if (!found.ok) return undefined;
  const { empty, each } = found.cost;
  const bears = (count: number) => moneyText(session, empty / count + each);
  const share = `a piece bears about ${bears(pieces.length)}`;
  if (pieces.length >= full) return `${row.cells.id} holds ${counted(pieces.length, "piece")}: ${share}`;
  return `${row.cells.id} holds ${pieces.length} of ${full}: ${share}; in a full load ${bears(full)}`;
}
