// What meters say over all kept editions: each firing once, by kiln and programme, and held against the plan.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { eachOnce, energyOf, type KeptFiring, meteredIn, meteredInStored } from "../../../src/app/plan/kept-firings";
import { elsewhereOf, readElsewhere, withElsewhere } from "../../../src/app/plan/seen-elsewhere";
import { seenEnergy } from "../../../src/app/plan/seen-energy";
import { takeSeen } from "../../../src/app/plan/seen-plan";
import { meanAcross } from "../../../src/ceramics/across";
import { rowOf } from "../../../src/core/document/access";
import type { SeenEdition, Workbook } from "../../../src/core/document/workbook";
import { Engine } from "../../../src/engine/engine";
import { evaluate } from "../../tools/evaluate";
import { openSession } from "../../tools/open-session";
import { Device } from "../../tools/open-studio";

const demo = demoEdition();
const read = evaluate(demo);
const own = meteredIn(demo, (row, column) => read("firings", row.id, column));

const firing = (is: Partial<KeptFiring>): KeptFiring => ({
  ...{
    edition: "Tide",
    name: "G1",
    kiln: "Large kiln",
    programme: "Glaze 6",
    day: "2026-03-01",
    kwh: 70,
    model: undefined,
  },
  ...is,
});

describe("metered firings", () => {
  test("are those whose meter was read, with what the model said, from stored values as from calculated ones", () => {
    const metered = demo.sheets.firings.rows.filter((row) => typeof read("firings", row.id, "meter") === "number");
    expect(own.map(({ name }) => name)).toEqual(metered.map(({ cells }) => cells.id));
    expect(own.some(({ model }) => model !== undefined)).toBe(true);
    expect(meteredInStored({ book: demo, values: new Engine(demo).values() })).toEqual(own);
  });

  test("without stored values are those typed", () => {
    const typed = demo.sheets.firings.rows.filter(({ cells }) => typeof cells.meter === "number");
    expect(meteredInStored({ book: demo }).map(({ name }) => name)).toEqual(typed.map(({ cells }) => cells.id));
  });

  test("stand once, though editions share them or are copies", () => {
    const shared = [
      firing({}),
      firing({ edition: "Ebb", name: "G7" }),
      firing({ edition: "Ebb", kiln: "large kiln " }),
    ];
    expect(eachOnce(shared).length).toBe(1);
    expect(eachOnce([firing({}), firing({ kwh: 71 }), firing({ day: "2026-03-02" })]).length).toBe(3);
    expect(eachOnce([firing({ day: "" }), firing({ day: "", name: "G2" })]).length).toBe(2);
  });

  test("give each programme in each kiln the interval of the random-effects model over editions", () => {
    const firings = [68, 72].map((kwh) => firing({ kwh }));
    const others = [80, 83, 86].map((kwh) => firing({ kwh, edition: "Ebb" }));
    const [one, two] = energyOf([...firings, ...others, firing({ kiln: "Small kiln", kwh: 20 })], 0.95);
    const expected = meanAcross(
      [
        { count: 2, mean: 70, sd: Math.sqrt(8) },
        { count: 3, mean: 83, sd: 3 },
      ],
      0.95,
    );
    expect(one).toEqual({
      ...{ kiln: "Large kiln", programme: "Glaze 6", firings: 5, editions: 2 },
      known: expected.ok ? expected.value : undefined,
    });
    expect(two).toMatchObject({ kiln: "Small kiln", firings: 1, editions: 1 });
  });
});

describe("the plan", () => {
  test("is told what its programmes took, and plans a kiln by the rule by its duty, as one step", async () => {
    const rows = demo.sheets.kilns.rows.map((row) => {
      const { brick: _, ...cells } = row.cells;
      return { ...row, cells };
    });
    const ruled: Workbook = { ...demo, sheets: { ...demo.sheets, kilns: { ...demo.sheets.kilns, rows } } };
    for (const book of [demo, ruled]) {
      const { session, settled } = openSession(book);
      await settled();
      const energies = seenEnergy(session);
      expect(energies.length).toBeGreaterThan(0);
      for (const { words, notPlannable } of energies) {
        expect(words).toMatch(/took [\d.]+\u202fkWh in \d+ metered firings?; the plan says [\d.]+\u202fkWh/);
        expect(notPlannable === undefined || notPlannable.length > 0).toBe(true);
      }
      const plannable = energies.filter(({ notPlannable, stands }) => !notPlannable && stands === "takes");
      if (book === demo) expect(plannable).toEqual([]);
      for (const one of plannable) {
        expect(takeSeen(session, [one])).toBe(true);
        expect(rowOf(session.book.value, "kilns", one.cell.row)?.cells.duty).toBe(one.value);
      }
      session.close();
    }
  });

  test("counts other editions' firings once they were looked at", async () => {
    const { studio } = new Device().openTab();
    const real: Workbook = { ...demo, meta: { ...demo.meta, title: "Tide", invented: false, started: "2026-01-01" } };
    const rows = real.sheets.firings.rows.map((row) => ({ ...row, cells: { ...row.cells, meter: 61 } }));
    await studio.openNew({ ...real, sheets: { ...real.sheets, firings: { ...real.sheets.firings, rows } } });
    await studio.openNew({ ...real, meta: { ...real.meta, title: "Ebb" } });
    const session = studio.session.value ?? expect.unreachable();
    const before = seenEnergy(session);
    await readElsewhere(studio, session);
    expect(elsewhereOf(session).value?.firings.length).toBe(rows.length);
    const after = seenEnergy(session);
    expect(after.some(({ editions }) => editions === 2)).toBe(true);
    expect(after.length).toBeGreaterThanOrEqual(before.length);
  });
});

test("an edition that was renamed since is not counted twice", () => {
  const amounts = { minutes: { count: 139, mean: 14.5, sd: 1.9 } };
  const step = { step: "fettle", kind: "hand", title: "Fettle", entered: 139, lost: 2, amounts } as const;
  const noted: SeenEdition = { title: "Tide", started: "2026-01-01", steps: [step] };
  const now = {
    title: "Tide, blue",
    started: "2026-01-01",
    steps: [{ ...step, lost: 3 }],
    whole: [{ ...step, lost: 3 }],
  };
  expect(withElsewhere([noted], [now])).toEqual([now]);
  expect(withElsewhere([noted], [{ ...now, started: "2026-01-02" }]).length).toBe(2);
  expect(withElsewhere([{ ...noted, id: "a" }], [{ ...now, id: "a", whole: [] }]).length).toBe(1);
  expect(withElsewhere([{ ...noted, id: "a" }], [{ ...now, id: "b" }]).length).toBe(2);
  const other = { ...step, amounts: { minutes: { count: 139, mean: 14.6, sd: 1.9 } } };
  expect(withElsewhere([noted], [{ ...now, whole: [other] }]).length).toBe(2);
});
