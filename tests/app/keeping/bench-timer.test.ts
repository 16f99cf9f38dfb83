// The bench timer: one a studio, through reloads and in two tabs; what was forgotten over night is not booked.
import { describe, expect, it } from "vitest";
import { endTimer, pauseTimer, resumeTimer, startTimer } from "../../../src/app/keeping/bench-timer";
import { rowOf } from "../../../src/core/document/access";
import { applyChange } from "../../../src/core/document/change";
import { isForgotten, minutesOf, pausedTimer, stopwatchText, workedBy } from "../../../src/core/record/bench-timer";
import { planRecord, recordChange } from "../../../src/core/record/record-edits";
import { smallEdition } from "../../storage/small-edition";
import { Device, type Tab } from "../../tools/open-studio";
import { turns } from "../../tools/tabs";

const TRIM = { step: "fettle", what: "Fettling: 1, 2", pieces: ["p1", "p2"] };

async function opened(device: Device): Promise<Tab> {
  const tab = device.openTab();
  await tab.studio.start(async () => smallEdition(2));
  await turns();
  return tab;
}

const worked = (tab: Tab, device: Device) => {
  const timer = tab.studio.benchTimer.value;
  return timer && minutesOf(workedBy(timer, device.now().toISOString()));
};

describe("the bench timer", () => {
  it("counts what was worked and no pause, and goes on through a reload", async () => {
    const device = new Device();
    const tab = await opened(device);
    expect(await startTimer(tab.studio, TRIM)).toBe(true);
    device.minute += 20;
    expect(worked(tab, device)).toBe(20);
    await pauseTimer(tab.studio);
    device.minute += 60;
    expect(worked(tab, device)).toBe(20);
    await resumeTimer(tab.studio);
    device.minute += 7;
    const again = await opened(device);
    expect(worked(again, device)).toBe(27);
    expect(again.studio.benchTimer.value).toMatchObject({ ...TRIM, title: tab.book.meta.title });
  });

  it("is one: a second is refused and said, in another tab too", async () => {
    const device = new Device();
    const [tab, other] = [await opened(device), await opened(device)];
    await startTimer(tab.studio, TRIM);
    expect(await startTimer(other.studio, TRIM)).toBe(false);
    expect(other.messages.join()).toContain("one at a time");
    expect(other.studio.benchTimer.value).toEqual(tab.studio.benchTimer.value);
  });

  it("is not moved by a tab that has not seen what another did", async () => {
    const device = new Device();
    const [tab, other] = [await opened(device), await opened(device)];
    await startTimer(tab.studio, TRIM);
    await other.studio.readBenchTimer();
    device.minute += 10;
    await pauseTimer(tab.studio);
    device.minute += 10;
    expect(await pauseTimer(other.studio)).toBe(false);
    expect(worked(other, device)).toBe(10);
    await endTimer(tab.studio);
    expect(await resumeTimer(other.studio)).toBe(false);
    expect(other.studio.benchTimer.value).toBeUndefined();
  });

  it("asks of a stretch of more than four hours, and takes what the maker says", async () => {
    const device = new Device();
    const tab = await opened(device);
    await startTimer(tab.studio, TRIM);
    device.minute += 240;
    const timer = () => tab.studio.benchTimer.value ?? expect.unreachable();
    expect(isForgotten(timer(), device.now().toISOString())).toBe(false);
    device.minute += 14 * 60;
    expect(isForgotten(timer(), device.now().toISOString())).toBe(true);
    await pauseTimer(tab.studio, 35 * 60_000);
    expect([worked(tab, device), timer().since]).toEqual([35, undefined]);
  });

  it("loses nothing to a clock that is set back", () => {
    const timer = { ...TRIM, edition: "e", title: "E", workedMs: 5000, since: "2026-11-25T08:00:00.000Z" };
    expect(workedBy(timer, "2026-11-25T07:00:00.000Z")).toBe(5000);
    expect(pausedTimer(timer, "2026-11-25T08:01:00.000Z").workedMs).toBe(65_000);
    expect(stopwatchText(3_725_900)).toBe("1:02:05");
  });
});

describe("minutes of all pieces together", () => {
  it("are shared evenly by the pieces that take part, in one change", () => {
    const book = smallEdition(3);
    const step = book.sheets.route.rows.find((row) => row.cells.kind === "hand")?.id ?? "";
    const lost = applyChange(book, {
      label: "",
      operations: [
        {
          kind: "cell",
          sheet: "pieces",
          row: "p3",
          column: "lost_at",
          was: undefined,
          is: book.sheets.route.rows[0]?.id,
        },
      ],
    });
    const plan = planRecord(lost, ["p1", "p2", "p3"], { kind: "minutes", step, amount: 47, isTogether: true });
    if (!plan.ok) throw new Error(plan.problems[0]?.message);
    const after = applyChange(lost, recordChange(lost, plan.value, "2026-11-25T08:00:00.000Z"));
    const minutes = (id: string) => rowOf(after, "pieces", id)?.cells[`${step}.minutes`];
    expect([minutes("p1"), minutes("p2"), minutes("p3")]).toEqual([23.5, 23.5, undefined]);
    expect(plan.value.label).toContain("47 min shared, 23.5 min each");
  });
});
