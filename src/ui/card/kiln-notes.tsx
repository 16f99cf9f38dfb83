// What the card says of a whole kiln and of a whole firing; loaded with the heat model when one is first selected.

import { shownAmount } from "../../app/edition/display";
import { showNumber } from "../../app/edition/format";
import { moneyText } from "../../app/edition/money-text";
import type { Session } from "../../app/edition/session";
import {
  fire,
  fitInput,
  type HotUse,
  hotLayerWords,
  hotUses,
  plannedFiring,
  recordsOf,
} from "../../app/plan/kiln-heat";
import { wareShare } from "../../ceramics/kiln/facts";
import { chamberLitres } from "../../ceramics/kiln/geometry";
import { steadyLoss } from "../../ceramics/kiln/steady";
import { UNCALIBRATED } from "../../ceramics/kiln/trust";
import { plural } from "../../core/counted";
import { kilnFrom } from "../../engine/kiln-records";
import { showDialog } from "../shell/open-dialog";

interface NotesProps {
  readonly session: Session;
  readonly row: string;
}

const HOLDING_C = 1000;

/** A kiln: its room, what holding it hot takes, and whether it was fitted to its meter. */
function KilnNotes({ session, row }: NotesProps) {
  const held = session.book.value.sheets.kilns.rows.find((one) => one.id === row);
  const found = kilnFrom(recordsOf(session, "kilns"), String(held?.cells.id ?? ""));
  const show = (value: number, digits = 1) => showNumber(value, digits, digits, session.formats.locale);
  if (!found.ok)
    return (
      <p class="words">
        The heat model can't calculate this kiln yet: {found.problems.map(({ message }) => message).join(" ")} Until
        then its firings go by the meter, or by rated power × hours × duty.
      </p>
    );
  const amount = (value: number, unit: string, digits: number) => shownAmount(session, value, unit, digits);
  const degrees = (celsius: number) => amount(celsius, "°C", 0);
  const { kiln } = found.value;
  const loss = steadyLoss(kiln, HOLDING_C);
  const isFitted = held?.cells.wall_factor !== undefined;
  const spread = Number(session.value({ sheet: "kilns", row, column: "spread" }) ?? UNCALIBRATED.percent / 100);
  const fit = fitInput(session, row);
  const metered = fit.ok ? fit.value.names.length : 0;
  return (
    <>
      <p class="words" data-testid="kiln-notes">
        Chamber of {amount(chamberLitres(kiln.chamber), "L", 0)}.{" "}
        {loss.ok
          ? `Holding ${degrees(HOLDING_C)} takes ${show(loss.value.wallKw + loss.value.ventKw)} kW of its ${show(kiln.ratedKw)}: ${show(loss.value.wallKw)} through the wall, ${show(loss.value.ventKw)} with the air; the shell is then at ${degrees(loss.value.shellC)}. `
          : `${loss.problems[0]?.message} `}
        {isFitted
          ? `Fitted to its meter, give or take ${show(spread * 100, 0)} %.`
          : metered > 0
            ? `Not fitted to its meter: ±${UNCALIBRATED.percent} %.`
            : `Not fitted to its meter: ${UNCALIBRATED.text}`}
      </p>
      {metered > 0 && !isFitted ? (
        <p class="words">
          {metered} of its firings {plural(metered, "is", "are")} metered.{" "}
          <button type="button" onClick={() => showDialog("fit")}>
            See how the model fits them…
          </button>
        </p>
      ) : null}
      <HotUses uses={hotUses(session, { kiln: kiln.name })} name={({ programme }) => programme} />
    </>
  );
}

/** Layers that get hotter than they are made for, by programme or by kiln. */
export function HotUses({ uses, name }: { readonly uses: readonly HotUse[]; readonly name: (use: HotUse) => string }) {
  return uses.map((use) => (
    <p class="words" key={name(use)} data-testid="hot-use">
      <b>Mind: {name(use)}.</b> {use.words.join(" ")}
    </p>
  ));
}

/** A programme: the kilns it is too hot for. */
function ProgrammeNotes({ session, row }: NotesProps) {
  const held = session.book.value.sheets.programmes.rows.find((one) => one.id === row);
  const uses = hotUses(session, { programme: String(held?.cells.programme ?? "") });
  return <HotUses uses={uses} name={({ kiln }) => `in ${kiln}`} />;
}

/** A firing: the facts a maker must see, and the way to the other editions in it. */
function FiringNotes(props: NotesProps) {
  return (
    <>
      <HeatOfFiring {...props} />
      <button type="button" class="plain" onClick={() => showDialog("shared")}>
        Is another edition in it too?
      </button>
    </>
  );
}

function HeatOfFiring({ session, row }: NotesProps) {
  const planned = plannedFiring(session, row);
  const firing = planned.ok ? fire(planned.value) : planned;
  if (!planned.ok || !firing.ok) {
    const problems = planned.ok ? (firing.ok ? [] : firing.problems) : planned.problems;
    return (
      <p class="words">
        The heat model can't calculate this firing: {problems.map(({ message }) => message).join(" ")}
      </p>
    );
  }
  const show = (value: number, digits: number) => showNumber(value, digits, digits, session.formats.locale);
  const money = (value: number) => moneyText(session, value);
  const { loads } = planned.value;
  return (
    <p class="words" data-testid="firing-notes">
      {show(wareShare(firing.value) * 100, 0)} % of the energy heats the ware.{" "}
      {loads
        ? `A piece bears ${money(loads.here)} in this load of ${loads.pieces}; in a full load of ${loads.capacity}, about ${money(loads.full)}.`
        : "Nothing is in it yet."}{" "}
      {hotLayerWords(session, firing.value.hotLayers).join(" ")}
    </p>
  );
}

const NOTES = { kilns: KilnNotes, firings: FiringNotes, programmes: ProgrammeNotes } as const;

/** The notes on a row of the Kilns, the Firings or the Programmes sheet. */
export function HeatNotes({ session, row, of }: NotesProps & { readonly of: keyof typeof NOTES }) {
  const Notes = NOTES[of];
  return <Notes session={session} row={row} />;
}
