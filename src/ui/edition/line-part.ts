// What makes lines of Edition and Results stand under headings; fetched when one of them is first shown.
import { signal } from "@preact/signals";
import { perSession } from "../../app/edition/per-session";
import type { Session } from "../../app/edition/session";
import { isLineSheet } from "../../app/edition/sheet-groups";
import type { SheetKey } from "../../core/document/workbook";

async function load() {
  const { inGroups, lineRows } = await import("./line-rows");
  return { inGroups, lineRows };
}

const partOf = perSession(() => {
  const part = signal<Awaited<ReturnType<typeof load>> | undefined>(undefined);
  return { part, isAsked: false };
});

/** For a sheet that is read line by line, once it is there; until then its lines stand as they are kept. */
export function linePart(session: Session, sheet: SheetKey) {
  if (!isLineSheet(sheet)) return undefined;
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
