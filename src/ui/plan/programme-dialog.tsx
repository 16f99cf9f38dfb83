// A programme drawn as it would run with all the power it asks for, and the starter set.

import { useState } from "preact/hooks";
import { shownAmount } from "../../app/edition/display";
import { showNumber } from "../../app/edition/format";
import type { Session } from "../../app/edition/session";
import { hotUses, recordsOf } from "../../app/plan/kiln-heat";
import { addProgramme, addStarterProgrammes } from "../../app/plan/programmes";
import { toFahrenheit } from "../../ceramics/cones";
import { counted } from "../../core/counted";
import { programmeFrom } from "../../engine/kiln-records";
import { HotUses } from "../card/kiln-notes";
import { CloseActions, Dialog, Field } from "../controls/dialog";
import { TextField } from "../controls/fields";
import { Picture } from "../controls/picture";
import { closeDialog } from "../shell/open-dialog";

export function ProgrammeDialog({ session }: { readonly session: Session }) {
  session.valuesVersion.value;
  const { rows } = session.book.value.sheets.programmes;
  const names = [...new Set(rows.map((row) => String(row.cells.programme ?? "")))];
  const selection = session.selection.value;
  const selected =
    selection?.sheet === "programmes"
      ? rows.find((row) => row.id === selection.anchor.row)?.cells.programme
      : undefined;
  const [name, setName] = useState(String(selected ?? names[0] ?? ""));
  const [fresh, setFresh] = useState("");
  const programme = programmeFrom(recordsOf(session, "programmes"), name);
  const unit = session.book.value.meta.temperature === "F" ? ("°F" as const) : ("°C" as const);
  const course = programme.ok ? courseOf(programme.value.segments) : [];
  const hours = (course.length - 1) / 60;
  return (
    <Dialog title="Programmes" onClose={closeDialog}>
      {names.length > 0 ? (
        <Field label="Programme">
          <select name="programme" value={name} onChange={(event) => setName(event.currentTarget.value)}>
            {names.map((one) => (
              <option key={one} value={one}>
                {one}
              </option>
            ))}
          </select>
        </Field>
      ) : (
        <p class="quiet">There is no programme yet.</p>
      )}
      {programme.ok ? (
        <>
          <p class="words">
            {counted(programme.value.segments.length, "ramp")}, {showNumber(hours, 1, 1, session.formats.locale)} h
            where the kiln has the power; a ramp without a rate is drawn at {shownAmount(session, 150, "°C/h", 0)}.
          </p>
          <HotUses uses={hotUses(session, { programme: name })} name={({ kiln }) => `in ${kiln}`} />
          <Picture
            label={`The course of ${name}: ${programme.value.segments.map((ramp) => `to ${shownAmount(session, ramp.targetC, "°C", 0)}`).join(", ")}`}
            of={[name, rows, unit]}
            draw={async (width) => {
              const { drawCourse } = await import("../../charts/heat-plots");
              const temperature = course.map((celsius) => (unit === "°F" ? toFahrenheit(celsius) : celsius));
              return drawCourse({ temperature, power: [], ratedKw: 1, coolingMinutes: [], cooling: [], unit }, width);
            }}
          />
        </>
      ) : names.length > 0 ? (
        <p class="wrong">{programme.problems[0]?.message}</p>
      ) : null}
      <form
        class="row"
        onSubmit={(event) => {
          event.preventDefault();
          if (addProgramme(session, fresh)) {
            setName(fresh.trim());
            setFresh("");
          }
        }}
      >
        <TextField
          label="A new programme"
          hint="It begins with two ramps; change them on the sheet."
          name="fresh"
          maxLength={80}
          value={fresh}
          onText={setFresh}
        />
        <button type="submit" disabled={fresh.trim() === ""}>
          Add it
        </button>
      </form>
      <CloseActions onClose={closeDialog}>
        <button type="button" onClick={() => addStarterProgrammes(session)}>
          Add the starter programmes
        </button>
      </CloseActions>
    </Dialog>
  );
}

const ROOM_C = 20;
const FASTEST_C_PER_HOUR = 150;

/** °C at each minute if every ramp kept its rate. */
function courseOf(
  ramps: readonly {
    readonly rateCPerHour: number | "fastest";
    readonly targetC: number;
    readonly soakMinutes: number;
  }[],
): number[] {
  const course = [ROOM_C];
  for (const ramp of ramps) {
    const from = course.at(-1) ?? ROOM_C;
    const rate = ramp.rateCPerHour === "fastest" ? FASTEST_C_PER_HOUR : ramp.rateCPerHour;
    const minutes = Math.max(1, Math.round((Math.abs(ramp.targetC - from) / rate) * 60));
    for (let minute = 1; minute <= minutes; minute += 1) course.push(from + ((ramp.targetC - from) * minute) / minutes);
    for (let minute = 0; minute < ramp.soakMinutes; minute += 1) course.push(ramp.targetC);
  }
  return course;
}
