// A firing before it is fired: how it runs, where the heat goes, what a piece costs in this load and in a full one.

import { useState } from "preact/hooks";
import { writeCells } from "../../app/commands/commands";
import { showNumber } from "../../app/edition/format";
import { moneyText } from "../../app/edition/money-text";
import type { Session } from "../../app/edition/session";
import type { PrintPlatform } from "../../app/keeping/studio-platform";
import { bestStart, fire, hotLayerWords, type ModelledFiring, plannedFiring } from "../../app/plan/kiln-heat";
import { toFahrenheit } from "../../ceramics/cones";
import { heatShares, wareShare } from "../../ceramics/kiln/facts";
import type { Firing } from "../../ceramics/kiln/firing";
import { nameMinute } from "../../ceramics/kiln/tariff";
import { counted } from "../../core/counted";
import { rowLabel, rowOf } from "../../core/document/access";
import { TimeInput } from "../controls/date-input";
import { CloseActions, Dialog, Field } from "../controls/dialog";
import { Picture } from "../controls/picture";
import { closeDialog } from "../shell/open-dialog";

const PARTS: Readonly<Record<string, string>> = {
  ware: "ware",
  furniture: "furniture",
  wallStored: "held by the wall",
  shell: "lost through the wall",
  vent: "vent",
  water: "water",
};

/** The picture of the selected firing. */
export function HeatDialog({ session, platform }: { readonly session: Session; readonly platform: PrintPlatform }) {
  session.valuesVersion.value;
  const { rows } = session.book.value.sheets.firings;
  const selected = session.selection.value?.sheet === "firings" ? session.selection.value.anchor.row : rows[0]?.id;
  const [id, setId] = useState(selected ?? "");
  const planned = plannedFiring(session, id);
  const firing = planned.ok ? fire(planned.value) : planned;
  return (
    <Dialog title="How a firing runs" onClose={closeDialog}>
      <Field label="Firing">
        <select name="firing" value={id} onChange={(event) => setId(event.currentTarget.value)}>
          {rows.map((row) => (
            <option key={row.id} value={row.id}>
              {rowLabel("firings", row)} · {String(row.cells.kiln ?? "")} ·{" "}
              {String(row.cells.programme ?? "no programme")}
            </option>
          ))}
        </select>
      </Field>
      {planned.ok && firing.ok ? (
        <Course session={session} id={id} planned={planned.value} firing={firing.value} />
      ) : (
        <div class="wrong" role="alert">
          {(planned.ok ? (firing.ok ? [] : firing.problems) : planned.problems).map((problem) => (
            <p key={problem.message}>{problem.message}</p>
          ))}
          <p>Until then this firing goes by its meter or by rated power × hours × duty.</p>
        </div>
      )}
      <CloseActions onClose={closeDialog}>
        <button type="button" onClick={() => platform.print()}>
          Print
        </button>
      </CloseActions>
    </Dialog>
  );
}

interface CourseProps {
  readonly session: Session;
  readonly id: string;
  readonly planned: ModelledFiring;
  readonly firing: Firing;
}

function Course({ session, id, planned, firing }: CourseProps) {
  const { locale } = session.formats;
  const show = (value: number, digits = 1) => showNumber(value, digits, digits, locale);
  const money = (value: number) => moneyText(session, value);
  const unit = session.book.value.meta.temperature === "F" ? ("°F" as const) : ("°C" as const);
  const degrees = (celsius: ArrayLike<number>) =>
    Array.from(celsius, (value) => (unit === "°F" ? toFahrenheit(value) : value));
  const shares = heatShares(firing).filter((share) => share.kwh > 0.005);
  const useful = wareShare(firing);
  const { loads } = planned;
  const late = Math.max(...firing.lateMinutes);
  return (
    <>
      <p class="words" data-testid="heat-facts">
        <b>{show(useful * 100, 0)} % of the energy heats the ware</b>; the rest heats the kiln, its furniture and the
        room.
        {loads
          ? loads.pieces < loads.capacity
            ? ` A piece bears ${money(loads.here)} in this load of ${loads.pieces}; in a full load of ${loads.capacity} it would bear about ${money(loads.full)}.`
            : ` A piece bears ${money(loads.here)}: the kiln is full.`
          : " Nothing is in it yet."}
      </p>
      <table class="plain-table">
        <tbody>
          <tr>
            <th scope="row">Calculated</th>
            <td>{show(firing.kwh)} kWh</td>
            <td>{show(firing.heatingHours)} h to the end</td>
          </tr>
          <tr>
            <th scope="row">Metered</th>
            <td>{planned.meteredKwh === undefined ? "not yet" : `${show(planned.meteredKwh)} kWh`}</td>
            <td>
              {planned.meteredKwh === undefined
                ? ""
                : `${show((planned.meteredKwh / firing.kwh - 1) * 100, 0)} % from the calculation`}
            </td>
          </tr>
          <tr>
            <th scope="row">Power</th>
            <td>{show(firing.meanKw)} kW mean</td>
            <td>{show(firing.peakKw)} kW at most</td>
          </tr>
        </tbody>
      </table>
      {hotLayerWords(session, firing.hotLayers).map((words) => (
        <p class="words" key={words}>
          <b>Mind:</b> {words}
        </p>
      ))}
      {late > 1 ? (
        <p class="wrong">
          The kiln is too weak for this programme as written: it ends {show(late / 60)} h later than asked.
        </p>
      ) : null}
      <h3>Temperature and power</h3>
      <Picture
        label={`Temperature rises over ${counted(firing.heatingHours, "hour", "hours", show(firing.heatingHours))} to ${show(Math.max(...degrees(firing.temperatureC)), 0)} ${unit}; power is at most ${show(firing.peakKw)} kilowatt`}
        of={[firing, unit]}
        draw={async (width) => {
          const { drawCourse } = await import("../../charts/heat-plots");
          return drawCourse(
            {
              temperature: degrees(firing.temperatureC),
              power: firing.powerKw,
              ratedKw: planned.kiln.ratedKw,
              coolingMinutes: firing.coolingMinutes,
              cooling: degrees(firing.coolingC),
              unit,
            },
            width,
          );
        }}
      />
      <h3>Where the heat went</h3>
      <Picture
        label={shares.map((share) => `${PARTS[share.part]} ${show(share.share * 100, 0)} %`).join(", ")}
        of={[firing]}
        draw={async (width) => {
          const { drawSplit } = await import("../../charts/heat-plots");
          return drawSplit(
            shares.map((share) => ({ title: PARTS[share.part] ?? share.part, value: share.kwh })),
            "kWh",
            width,
          );
        }}
      />
      <table class="plain-table">
        <tbody>
          {shares.map((share) => (
            <tr key={share.part}>
              <th scope="row">{PARTS[share.part]}</th>
              <td>{show(share.kwh)} kWh</td>
              <td>{show(share.share * 100, 0)} %</td>
            </tr>
          ))}
        </tbody>
      </table>
      <StartFinder session={session} id={id} firing={firing} money={money} />
    </>
  );
}

const DAYS = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];
const minuteOf = (day: number, time: string) => {
  const [hours = 0, minutes = 0] = time.split(":").map(Number);
  return day * 1440 + hours * 60 + minutes;
};

interface StartProps {
  readonly session: Session;
  readonly id: string;
  readonly minuteOfWeek: number;
}

/** Writes a start into the firing: the time, and the day too where the firing is dated on another weekday; said before. */
function WriteStart({ session, id, minuteOfWeek }: StartProps) {
  const time = nameMinute(minuteOfWeek).split(" ")[1] ?? "";
  const held = rowOf(session.book.value, "firings", id)?.cells.date;
  const date = nextDayLike(typeof held === "string" ? held : session.today(), Math.floor(minuteOfWeek / 1440));
  const isDayKept = date === held;
  const entry = (column: string, typed: string) => ({ cell: { sheet: "firings", row: id, column } as const, typed });
  return (
    <button
      type="button"
      onClick={() => writeCells(session, [entry("start", time), ...(isDayKept ? [] : [entry("date", date)])], "typed")}
    >
      {isDayKept
        ? `Write ${time} into the firing; its day stays`
        : `Write ${time} and the day, ${date}, into the firing`}
    </button>
  );
}

/** The first day from a day on that is a weekday, 0 for Monday. */
function nextDayLike(from: string, weekday: number): string {
  const start = Date.parse(`${from}T00:00:00Z`);
  const ahead = (weekday - ((new Date(start).getUTCDay() + 6) % 7) + 7) % 7;
  return new Date(start + ahead * 86_400_000).toISOString().slice(0, 10);
}

interface FinderProps {
  readonly session: Session;
  readonly id: string;
  readonly firing: Firing;
  readonly money: (value: number) => string;
}

function StartFinder({ session, id, firing, money }: FinderProps) {
  const [window, setWindow] = useState({ fromDay: 0, from: "07:00", toDay: 1, to: "07:00" });
  if (session.book.value.sheets.tariffs.rows.length === 0)
    return <p class="quiet">With bands on the Tariffs sheet, the cheapest time to start is found here.</p>;
  const best = bestStart(session, firing, {
    earliestMinuteOfWeek: minuteOf(window.fromDay, window.from),
    latestMinuteOfWeek: minuteOf(window.toDay, window.to),
  });
  const field = (day: "fromDay" | "toDay", time: "from" | "to", label: string) => (
    <Field label={label}>
      <span class="row">
        <select
          value={String(window[day])}
          aria-label={`${label}, day`}
          onChange={(event) => setWindow({ ...window, [day]: Number(event.currentTarget.value) })}
        >
          {DAYS.map((name, at) => (
            <option key={name} value={at}>
              {name}
            </option>
          ))}
        </select>
        <TimeInput
          aria-label={`${label}, time`}
          value={window[time]}
          onInput={(event) => setWindow({ ...window, [time]: event.currentTarget.value })}
        />
      </span>
    </Field>
  );
  return (
    <>
      <h3>Cheapest start</h3>
      <div class="row">
        {field("fromDay", "from", "Not before")}
        {field("toDay", "to", "Not after")}
      </div>
      {best.ok ? (
        <>
          <p class="words" data-testid="cheapest">
            Start {nameMinute(best.value.startMinuteOfWeek)}: the energy costs {money(best.value.cost)},{" "}
            {money(best.value.saving)} less than at once and {money(best.value.dearestCost - best.value.cost)} less than
            at the dearest time.
          </p>
          <WriteStart session={session} id={id} minuteOfWeek={best.value.startMinuteOfWeek} />
        </>
      ) : (
        <p class="wrong">{best.problems[0]?.message}</p>
      )}
    </>
  );
}
