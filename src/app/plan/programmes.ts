// Programmes: the starter set, and a new one with its first ramps.
import type { ConeProgramme } from "../../ceramics/kiln/programme";
import { STARTER_PROGRAMMES } from "../../ceramics/kiln/starter-programmes";
import { addRows, freshRowId } from "../../core/document/edits";
import type { Raw, Row } from "../../core/document/workbook";
import { problem } from "../../core/problem";
import type { Session } from "../edition/session";

function namesOf(session: Session): ReadonlySet<string> {
  return new Set(session.book.value.sheets.programmes.rows.map((row) => String(row.cells.programme).toLowerCase()));
}

function rowsOf(session: Session, programmes: readonly ConeProgramme[]): readonly Row[] {
  const first = Number(freshRowId(session.book.value.sheets.programmes.rows, "r").slice(1));
  const ramps = programmes.flatMap(({ name, segments }) =>
    segments.map((segment, at) => ({ name, segment, ramp: at + 1 })),
  );
  return ramps.map(({ name, segment, ramp }, at): Row => {
    const cells: Record<string, Raw> = { programme: name, ramp, soak: segment.soakMinutes };
    if (segment.rateCPerHour !== "fastest") cells.rate = segment.rateCPerHour;
    if ("cone" in segment.target) cells.cone = segment.target.cone;
    else cells.celsius = segment.target.celsius;
    if (segment.ventLitresPerSecond !== undefined) cells.vent = segment.ventLitresPerSecond;
    return { id: `r${first + at}`, cells };
  });
}

/** Adds the starter programmes that are not there yet. */
export function addStarterProgrammes(session: Session): void {
  const there = namesOf(session);
  const missing = STARTER_PROGRAMMES.filter(({ name }) => !there.has(name.toLowerCase()));
  if (missing.length === 0) {
    session.notify("done", "All starter programmes are there already.");
    return;
  }
  const change = addRows(session.book.value, "programmes", rowsOf(session, missing), "Add the starter programmes");
  if (!session.commit(change)) return;
  session.notifyDone(`Added: ${missing.map(({ name }) => name).join("; ")}.`);
}

/** Adds a programme with two first ramps; false where the name is taken. */
export function addProgramme(session: Session, name: string): boolean {
  const title = name.trim();
  if (title === "" || namesOf(session).has(title.toLowerCase())) {
    session.refuse([
      problem({
        code: "programme.name",
        where: "New programme",
        found: title,
        allowed: "a name that no other programme has",
      }),
    ]);
    return false;
  }
  const programme: ConeProgramme = {
    name: title,
    segments: [
      { rateCPerHour: 100, target: { celsius: 600 }, soakMinutes: 0 },
      { rateCPerHour: 120, target: { celsius: 1000 }, soakMinutes: 10 },
    ],
  };
  return session.commit(
    addRows(session.book.value, "programmes", rowsOf(session, [programme]), `Add programme: ${title}`),
  );
}
