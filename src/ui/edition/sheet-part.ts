// What puts columns into groups, and lines of Edition and Results under headings, on the sheets other than Pieces; fetched
// when one of them is first shown.
import { signal } from "@preact/signals";
import { perSession } from "../../app/edition/per-session";
import type { Session } from "../../app/edition/session";
import type { SheetKey } from "../../core/document/workbook";

async function load() {
  const [{ inGroups, lineRows }, { columnGroups, groupTitle }] = await Promise.all([
    import("./line-rows"),
    import("../../app/edition/column-groups"),
  ]);
  return { inGroups, lineRows, columnGroups, groupTitle };
}

const partOf = perSession(() => {
  const part = signal<Awaited<ReturnType<typeof load>> | undefined>(undefined);
  return { part, isAsked: false };
});

/** For a sheet other than Pieces, once it is there; until then columns and lines stand without groups. */
export function sheetPart(session: Session, sheet: SheetKey) {
  if (sheet === "pieces") return undefined;
  const held = partOf(session);
  if (!held.isAsked) {
    held.isAsked = true;
    load().then(
      (found) => {
        held.part.value = found;
      },
      () => {
        held.isAsked = false;
      },
    );
  }
  return held.part.value;
}
