// What meters teach: a fit that is taken in one step, energy with its give or take, and readings that carry on.
import { describe, expect, test } from "vitest";
import { undo } from "../../../src/app/commands/commands";
import { type FitPort, type FitReply, runFit } from "../../../src/app/plan/fit-client";
import { fire, fitInput, hotUses, plannedFiring, useFit } from "../../../src/app/plan/kiln-heat";
import { calibrate } from "../../../src/ceramics/kiln/calibrate";
import { must } from "../../accounts/results";
import { demoSession } from "../../tools/demo-session";

const { session, settled, type } = demoSession();
const firing = (name: string) =>
  session.book.value.sheets.firings.rows.find(({ cells }) => cells.id === name)?.id ?? "";
const read = (name: string, column: string) => session.value({ sheet: "firings", row: firing(name), column });
const route = (row: string, column: string) => session.value({ sheet: "route", row, column });

describe("a kiln with metered firings", () => {
  test("proposes factors with what they leave over; taken, they are one step of the history", async () => {
    const { kiln, readings, names } = must(fitInput(session, "k2"));
    expect(names.length).toBeGreaterThan(5);
    const fit = must(calibrate(kiln, readings.slice(0, 4)));
    expect(fit.lines).toHaveLength(4);
    const [before, energy] = [session.book.value, read("L11", "kwh")];
    expect(useFit(session, "k2", fit)).toBe(true);
    await settled();
    expect(session.history.value.done).toHaveLength(1);
    expect(session.value({ sheet: "kilns", row: "k2", column: "spread" })).toBeCloseTo(fit.trust.percent / 100, 12);
    expect(session.value({ sheet: "kilns", row: "k2", column: "wall_factor" })).toBeCloseTo(fit.wallLossFactor, 3);
    // L11 has not been read: by the fitted model, with its give or take.
    expect(read("L11", "kwh")).not.toBe(energy);
    expect(read("L11", "kwh_by")).toBe("the model");
    expect(read("L11", "give")).toBeCloseTo((Number(read("L11", "kwh")) * fit.trust.percent) / 100, 9);
    expect(route("bisque", "plan_give")).toBeCloseTo(
      (Number(route("bisque", "plan_kwh")) * fit.trust.percent) / 100,
      9,
    );
    undo(session);
    await settled();
    expect(session.book.value).toEqual(before);
    expect(read("L11", "give")).toBeCloseTo(Number(read("L11", "kwh")) * 0.4, 9);
    expect(read("G4", "kwh_by")).toBe("the meter");
    expect(read("G4", "give")).toBe("");
  });
});

describe("a fit in a worker", () => {
  const port = () => {
    const sent: string[] = [];
    const made: FitPort & { ended: boolean } = {
      ended: false,
      onmessage: null,
      onerror: null,
      postMessage: () => sent.push("asked"),
      terminate() {
        made.ended = true;
      },
    };
    return { made, sent, say: (data: FitReply) => made.onmessage?.({ data } as MessageEvent<FitReply>) };
  };
  const news = (heard: unknown[]) => ({
    onTried: (tried: number) => heard.push(tried),
    onAnswer: (answer: unknown) => heard.push(answer),
    onFailure: (message: string) => heard.push(message),
  });
  const question = { kiln: must(fitInput(session, "k2")).kiln, readings: [] };

  test("tells how far it is, then the answer, and ends its worker", () => {
    const heard: unknown[] = [];
    const { made, say } = port();
    runFit(question, news(heard), () => made);
    say({ kind: "progress", tried: 7 });
    const answer = calibrate(question.kiln, []);
    say({ kind: "answer", answer });
    expect(heard).toEqual([7, answer]);
    expect(made.ended).toBe(true);
  });

  test("stopped, tells nothing more and leaves no worker behind; a failure is told", () => {
    const heard: unknown[] = [];
    const { made, say } = port();
    runFit(question, news(heard), () => made).stop();
    say({ kind: "progress", tried: 8 });
    expect([heard, made.ended]).toEqual([[], true]);
    const other = port();
    runFit(question, news(heard), () => other.made);
    other.say({ kind: "failure", failure: "no memory" });
    expect([heard, other.made.ended]).toEqual([["no memory"], true]);
  });
});

describe("a reading before", () => {
  test("starts from the reading after the kiln's firing before, and only from that one", async () => {
    await type([
      ["firings", firing("B2"), "meter_after", "5000"],
      ["firings", firing("B3"), "meter_after", "5090"],
    ]);
    expect(read("B3", "meter_before")).toBe(5000);
    // B1 was not read after; the firing after B3 follows on.
    expect(read("B2", "meter_before")).toBe("");
    const firings = session.book.value.sheets.firings.rows;
    const after = firings
      .filter(({ cells }) => String(cells.date) > "2026-10-05")
      .sort((a, b) => (String(a.cells.date) < String(b.cells.date) ? -1 : 1));
    const value = (at: number) => session.value({ sheet: "firings", row: after[at]?.id ?? "", column: "meter_before" });
    expect([value(0), value(1)]).toEqual([5090, ""]);
    // Two firings of one day without hours: which came first is not known.
    await type([["firings", after[0]?.id ?? "", "date", "2026-10-05"]]);
    expect(read("B3", "meter_before")).toBe("");
    expect(value(1)).toBe("");
    // A reading typed stays.
    await type([["firings", firing("B3"), "meter_before", "5003"]]);
    expect(read("B3", "meter_before")).toBe(5003);
  });
});

describe("a programme above the class of a brick", () => {
  test("is calculated, warned of at kiln, programme and firing, and refused nowhere", async () => {
    expect(hotUses(session, { kiln: "Large kiln" })).toEqual([]);
    await type([
      ["firings", firing("L11"), "programme", "glaze, high fire"],
      ["kilns", "k2", "kw", "24"],
    ]);
    const uses = hotUses(session, { programme: "glaze, high fire" });
    expect(uses.map(({ kiln }) => kiln)).toEqual(["Large kiln"]);
    expect(uses[0]?.words[0]).toMatch(
      /^The hot face \(Insulating firebrick, 1260 °C class.*above its 1.260 °C.*15 % off\.$/,
    );
    expect(hotUses(session, { kiln: "Large kiln" })).toHaveLength(1);
    expect(read("L11", "warning")).toBe("hot face above its class");
    expect(Number(read("L11", "kwh"))).toBeGreaterThan(60);
  });
});

test("a firing is shown with its cooling, on from where it ended", () => {
  const shown = must(fire(must(plannedFiring(session, firing("B1")))));
  expect(shown.coolingC[0]).toBeCloseTo(shown.temperatureC.at(-1) ?? Number.NaN, 9);
  expect(shown.coolingC.at(-1)).toBeLessThan(100);
});
