import { describe, expect, test } from "vitest";
import { quartzKjPerKg } from "../../../src/ceramics/kiln/enthalpy";
import { heatShares, wareShare } from "../../../src/ceramics/kiln/facts";
import { type FiringProgramme, oneRamp } from "../../../src/ceramics/kiln/programme";
import { simulateFiring } from "../../../src/ceramics/kiln/simulate";
import { bisque, bisqueLoad, EMPTY_LOAD, glazeLoad, heron, problemsIn, valueIn } from "./example";

const sum = (values: Float64Array) => values.reduce((total, value) => total + value, 0);
const COLD = { withCooling: false };

describe("a firing the kiln can follow", () => {
  const firing = valueIn(simulateFiring(heron, bisque, bisqueLoad));

  test("lasts as long as its ramps and soaks", () => {
    expect(firing.heatingHours).toBeCloseTo(580 / 80 + 400 / 120 + 15 / 60, 9);
    expect(firing.lateMinutes).toEqual([0, 0]);
  });

  test("keeps to the programme at every minute", () => {
    const firstRampMinutes = (580 / 80) * 60;
    for (let minute = 0; minute < firing.temperatureC.length - 1; minute++) {
      const second = 600 + (120 / 60) * (minute - firstRampMinutes);
      const asked = minute <= firstRampMinutes ? 20 + (80 / 60) * minute : Math.min(1000, second);
      expect(Math.abs(firing.temperatureC[minute]! - asked)).toBeLessThan(1e-6);
    }
    expect(firing.temperatureC.at(-1)).toBe(1000);
  });

  test("has power by minute that adds up to its energy, and a mean and peak that agree", () => {
    expect(sum(firing.powerKw) / 60).toBeCloseTo(firing.kwh, 9);
    expect(firing.powerKw.length).toBe(Math.ceil(firing.heatingHours * 60));
    expect(firing.temperatureC.length).toBe(firing.powerKw.length + 1);
    expect(firing.meanKw * firing.heatingHours).toBeCloseTo(firing.kwh, 9);
    expect(firing.peakKw).toBeGreaterThanOrEqual(Math.max(...firing.powerKw) - 1e-9);
    expect(firing.peakKw).toBeLessThan(heron.ratedKw);
  });

  test("closes its energy balance to 1e-6: in = stored + lost", () => {
    const { ware, furniture, wallStored, shell, vent, water } = firing.heat;
    expect(Math.abs(ware + furniture + wallStored + shell + vent + water - firing.kwh)).toBeLessThan(1e-6 * firing.kwh);
    expect(Math.abs(firing.balanceError)).toBeLessThan(1e-6);
  });

  test("changes by less than 0.5 % when the step is halved, or the slices", () => {
    const halfStep = valueIn(simulateFiring(heron, bisque, bisqueLoad, { stepsPerMinute: 2 }));
    const halfSlices = valueIn(simulateFiring(heron, bisque, bisqueLoad, { finerSlices: 2 }));
    expect(Math.abs(halfStep.kwh / firing.kwh - 1)).toBeLessThan(0.005);
    expect(Math.abs(halfSlices.kwh / firing.kwh - 1)).toBeLessThan(0.005);
    expect(halfStep.temperatureC.length).toBe(firing.temperatureC.length);
  });

  test("says what share of its energy heated the ware", () => {
    expect(wareShare(firing)).toBeCloseTo((firing.heat.ware + firing.heat.water) / firing.kwh, 12);
    const shares = heatShares(firing);
    expect(shares.reduce((total, { share }) => total + share, 0)).toBeCloseTo(1, 9);
    const sizes = shares.map(({ kwh }) => kwh);
    expect(sizes).toEqual([...sizes].sort((one, other) => other - one));
    expect(shares).toHaveLength(6);
  });
});

describe("where the heat goes, each part calculated another way", () => {
  const plain = oneRamp(1000, 100, 0);
  const empty = valueIn(simulateFiring(heron, plain, EMPTY_LOAD, COLD));

  test("10 kg of silica ware takes 10 × 1074.6 kJ from 25 °C (NIST), and the little from 20 °C", () => {
    const load = { ...EMPTY_LOAD, wareKg: 10, wareBody: { silica: 1, alumina: 0, other: 0 } };
    const firing = valueIn(simulateFiring(heron, plain, load, COLD));
    expect(Math.abs((firing.heat.ware * 3600) / (10 * (1074.6 + 0.74 * 5)) - 1)).toBeLessThan(0.001);
    expect(firing.kwh - empty.kwh).toBeCloseTo(firing.heat.ware, 6);
  });

  test("10 kg of alumina furniture takes 10 × 1105.5 kJ from 25 °C (NIST), and the little from 20 °C", () => {
    const load = { ...EMPTY_LOAD, furnitureKg: 10, furnitureBody: { silica: 0, alumina: 1, other: 0 } };
    const firing = valueIn(simulateFiring(heron, plain, load, COLD));
    expect(Math.abs((firing.heat.furniture * 3600) / (10 * (1105.5 + 0.77 * 5)) - 1)).toBeLessThan(0.001);
    expect(firing.heat.ware).toBe(0);
  });

  test("a kilogram of water takes 0.720 kWh and its steam a little more", () => {
    const firing = valueIn(simulateFiring(heron, plain, { ...EMPTY_LOAD, freeWaterKg: 1 }, COLD));
    expect(firing.heat.water).toBeCloseTo(0.72 + (2.0 * 10) / 3600, 3);
  });

  test("a kilogram of kaolinite takes 540 kJ, its steam 2.0 kJ/kg K, and weighs less as ware", () => {
    const firing = valueIn(simulateFiring(heron, plain, { ...EMPTY_LOAD, wareKg: 1, kaoliniteKg: 1 }, COLD));
    const fired = valueIn(simulateFiring(heron, plain, { ...EMPTY_LOAD, wareKg: 1 }, COLD));
    expect(firing.heat.water * 3600).toBeCloseTo(540 + 0.1396 * 2.0 * (550 - 20), 2);
    expect(firing.heat.ware / fired.heat.ware).toBeCloseTo(1 - 0.1396, 9);
    const dear = { ...EMPTY_LOAD, wareKg: 1, kaoliniteKg: 1, dehydroxylationKjPerKg: 1300 };
    const dearest = valueIn(simulateFiring(heron, plain, dear, COLD));
    expect((dearest.heat.water - firing.heat.water) * 3600).toBeCloseTo(760, 6);
  });

  test("air through the vent takes flow × density × heat × rise, summed over the ramp", () => {
    const hours = 980 / 100;
    // ∫ of 1.204 g/l × (1.004 + 0.000087 θ) kJ/kg K × (θ − 20) along a straight ramp, by Simpson's rule.
    const kwAt = (celsius: number) => 1.204e-3 * (1.004 + 0.087e-3 * celsius) * (celsius - 20);
    const published = (hours * (kwAt(20) + 4 * kwAt(510) + kwAt(1000))) / 6;
    const closed = valueIn(simulateFiring({ ...heron, ventLitresPerSecond: 0 }, plain, EMPTY_LOAD, COLD));
    const open = valueIn(simulateFiring({ ...heron, ventLitresPerSecond: 1 }, plain, EMPTY_LOAD, COLD));
    expect(closed.heat.vent).toBe(0);
    expect(Math.abs(open.heat.vent / published - 1)).toBeLessThan(0.005);
    expect(open.kwh - closed.kwh).toBeCloseTo(open.heat.vent, 6);
  });

  test("two litres a second to 1000 °C cost about as much as the wall", () => {
    const windy = valueIn(simulateFiring({ ...heron, ventLitresPerSecond: 2 }, plain, EMPTY_LOAD, COLD));
    const ratio = windy.heat.vent / (windy.heat.shell + windy.heat.wallStored);
    expect(ratio).toBeGreaterThan(0.5);
    expect(ratio).toBeLessThan(2);
  });

  test("the walls hold their weight × their heat, between all cold and all as hot as the chamber", () => {
    const areaInside = Math.PI * 0.445 * 0.475 + (Math.PI / 2) * 0.445 ** 2;
    const leastKg = areaInside * 0.076 * 490;
    const allHot = (leastKg * 1.5 * 1017 * 1000) / 3.6e6;
    expect(empty.heat.wallStored).toBeGreaterThan(0.25 * ((leastKg * 1017 * 1000) / 3.6e6));
    expect(empty.heat.wallStored).toBeLessThan(allHot);
    const doubled = valueIn(simulateFiring({ ...heron, storedHeatFactor: 2 }, plain, EMPTY_LOAD, COLD));
    expect(doubled.heat.wallStored).toBeGreaterThan(1.5 * empty.heat.wallStored);
    const leaky = valueIn(simulateFiring({ ...heron, wallLossFactor: 2 }, plain, EMPTY_LOAD, COLD));
    expect(leaky.heat.shell).toBeGreaterThan(1.5 * empty.heat.shell);
  });
});

describe("a kiln short of power", () => {
  const weak = { ...heron, ratedKw: 4 };

  test("stretches the ramp at full power, and says by how long", () => {
    const quick = oneRamp(1000, 300, 0);
    const firing = valueIn(simulateFiring(weak, quick, glazeLoad, COLD));
    expect(firing.peakKw).toBeLessThan(4 * (1 + 1e-9));
    expect(firing.heatingHours).toBeGreaterThan(980 / 300);
    expect(firing.lateMinutes[0]).toBeCloseTo((firing.heatingHours - 980 / 300) * 60, 6);
    expect(firing.temperatureC.at(-1)).toBe(1000);
    expect(Math.abs(firing.balanceError)).toBeLessThan(1e-6);
  });

  test("“fastest” draws the rated power until it arrives", () => {
    const firing = valueIn(simulateFiring(weak, oneRamp(1000, "fastest", 0), glazeLoad, COLD));
    const whole = firing.powerKw.slice(0, -1);
    expect(Math.min(...whole)).toBeCloseTo(4, 6);
    expect(Math.max(...whole)).toBeCloseTo(4, 6);
    expect(firing.kwh).toBeCloseTo(4 * firing.heatingHours, 3);
    expect(firing.lateMinutes).toEqual([0]);
  });

  test("doesn't count the minutes of a soak it can't hold", () => {
    // Hot air is drawn off while the walls still take heat: the chamber sags until they are full.
    const quick = { rateCPerHour: "fastest" as const, targetC: 1000, soakMinutes: 0 };
    const drawn = { rateCPerHour: 100, targetC: 1000, soakMinutes: 60, ventLitresPerSecond: 3.2 };
    const firing = valueIn(simulateFiring(heron, { name: "drawn", segments: [quick, drawn] }, EMPTY_LOAD, COLD));
    expect(firing.lateMinutes[1]).toBeGreaterThan(10);
    expect(firing.powerKw.at(-90)).toBeCloseTo(heron.ratedKw, 6);
    const lastHour = firing.temperatureC.slice(-60);
    expect(Math.min(...lastHour)).toBeCloseTo(1000, 6);
    expect(Math.min(...firing.temperatureC.slice(60))).toBeLessThan(995);
  });

  test("says that it can't reach the peak, and where it stalls", () => {
    const [problem] = problemsIn(simulateFiring({ ...heron, ratedKw: 2 }, bisque, bisqueLoad));
    expect(problem?.code).toBe("kiln.cannot-reach");
    expect(problem?.where).toBe("bisque, ramp 2, target");
    expect(problem?.message).toMatch(
      /found 1000, but it takes less than \d+ °C, for Heron gets no hotter at its full 2 kW/,
    );
    const stallC = Number(/less than (\d+) °C/.exec(problem?.message ?? "")?.[1]);
    expect(simulateFiring({ ...heron, ratedKw: 2 }, oneRamp(stallC - 5, 50, 0), EMPTY_LOAD, COLD).ok).toBe(true);
    expect(simulateFiring({ ...heron, ratedKw: 2 }, oneRamp(stallC + 5, 50, 0), EMPTY_LOAD, COLD).ok).toBe(false);
  });

  test("calculates the stall with the draught of the step", () => {
    const step = { rateCPerHour: 100, targetC: 1000, soakMinutes: 0 };
    const windy = {
      name: "windy",
      segments: [
        { ...step, targetC: 600 },
        { ...step, ventLitresPerSecond: 6 },
      ],
    };
    const [problem] = problemsIn(simulateFiring(heron, windy, EMPTY_LOAD, COLD));
    expect(problem).toMatchObject({ code: "kiln.cannot-reach", where: "windy, ramp 2, target" });
  });

  test("gives up on a firing of more than 200 hours", () => {
    const [problem] = problemsIn(simulateFiring(heron, oneRamp(1000, 4, 0), EMPTY_LOAD, COLD));
    expect(problem?.code).toBe("kiln.too-long");
    expect(problem?.where).toBe("one ramp, ramp 1");
    const soaked = problemsIn(simulateFiring(heron, oneRamp(300, 2, 6000), EMPTY_LOAD, COLD));
    expect(soaked[0]?.code).toBe("kiln.too-long");
  });
});

describe("ramps downward", () => {
  const crystal: FiringProgramme = {
    name: "held on the way down",
    segments: [
      { rateCPerHour: 150, targetC: 1200, soakMinutes: 10 },
      { rateCPerHour: 60, targetC: 1080, soakMinutes: 30 },
    ],
  };

  test("are followed with power between nothing and the rated", () => {
    const firing = valueIn(simulateFiring(heron, crystal, glazeLoad, COLD));
    expect(firing.heatingHours).toBeCloseTo(1180 / 150 + 10 / 60 + 120 / 60 + 0.5, 9);
    expect(firing.temperatureC.at(-1)).toBeCloseTo(1080, 9);
    expect(Math.min(...firing.powerKw)).toBeGreaterThan(-1e-6);
    expect(Math.abs(firing.balanceError)).toBeLessThan(1e-6);
    expect(firing.usefulKwh).toBeGreaterThan(firing.heat.ware + firing.heat.water);
    // By then the ware is 120 °C cooler than at its hottest: 15 kg × about 1.2 kJ/kg K × 120 K.
    const lost = (firing.usefulKwh - firing.heat.ware - firing.heat.water) * 3600;
    expect(Math.abs(lost / (15 * 1.2 * 120) - 1)).toBeLessThan(0.1);
  });

  test("faster than the kiln can cool take as long as it does, with the elements off", () => {
    const steep = {
      ...crystal,
      segments: [crystal.segments[0]!, { rateCPerHour: 2000, targetC: 900, soakMinutes: 0 }],
    };
    const freely = {
      ...steep,
      segments: [steep.segments[0]!, { ...steep.segments[1]!, rateCPerHour: "fastest" as const }],
    };
    const steepFiring = valueIn(simulateFiring(heron, steep, glazeLoad, COLD));
    const freeFiring = valueIn(simulateFiring(heron, freely, glazeLoad, COLD));
    expect(steepFiring.heatingHours).toBeCloseTo(freeFiring.heatingHours, 2);
    expect(steepFiring.lateMinutes[1]).toBeGreaterThan(1);
    expect(freeFiring.temperatureC.at(-1)).toBeCloseTo(900, 6);
    const risenHours = 1180 / 150 + 10 / 60;
    const after = freeFiring.powerKw.slice(Math.ceil(risenHours * 60) + 1);
    expect(Math.max(...after)).toBeLessThan(1e-6);
  });
});

describe("water", () => {
  const step = { rateCPerHour: 200, targetC: 800, soakMinutes: 0 };

  test("is driven off once: cooling and heating again takes none", () => {
    const once = valueIn(simulateFiring(heron, { name: "once", segments: [step] }, bisqueLoad, COLD));
    const down = { rateCPerHour: "fastest" as const, targetC: 300, soakMinutes: 0 };
    const cooled = valueIn(simulateFiring(heron, { name: "cooled", segments: [step, down] }, bisqueLoad, COLD));
    const twice = valueIn(simulateFiring(heron, { name: "twice", segments: [step, down, step] }, bisqueLoad, COLD));
    expect(cooled.heat.water).toBeCloseTo(once.heat.water, 9);
    expect(twice.heat.water).toBeCloseTo(once.heat.water, 9);
    expect(Math.abs(twice.balanceError)).toBeLessThan(1e-6);
  });

  test("boils at full power, no more and no less, where a kiln has little power for it", () => {
    // The heat curve turns steep at 100 °C and flat again at 120 °C, the worst there is for finding the temperature.
    const wet = { ...EMPTY_LOAD, wareKg: 2, freeWaterKg: 12 };
    const firing = valueIn(simulateFiring({ ...heron, ratedKw: 3 }, oneRamp(300, "fastest", 0), wet, COLD));
    const whole = firing.powerKw.slice(0, -1);
    expect(Math.min(...whole)).toBeCloseTo(3, 6);
    expect(Math.max(...whole)).toBeCloseTo(3, 6);
  });
});

describe("vented steps", () => {
  test("use their own flow, and the kiln's after them", () => {
    const step = { rateCPerHour: 100, targetC: 500, soakMinutes: 0 };
    const shut = { name: "shut", segments: [step, { ...step, targetC: 800 }] };
    const vented = {
      name: "vented",
      segments: [
        { ...step, ventLitresPerSecond: 2.3 },
        { ...step, targetC: 800 },
      ],
    };
    const leaky = { ...heron, ventLitresPerSecond: 0.3 };
    const shutVent = valueIn(simulateFiring(leaky, shut, glazeLoad, COLD)).heat.vent;
    const ventedVent = valueIn(simulateFiring(leaky, vented, glazeLoad, COLD)).heat.vent;
    const kwAt = (celsius: number) => 2 * 1.204e-3 * (1.004 + 0.087e-3 * celsius) * (celsius - 20);
    const more = (4.8 * (kwAt(20) + 4 * kwAt(260) + kwAt(500))) / 6;
    expect(Math.abs((ventedVent - shutVent) / more - 1)).toBeLessThan(0.01);
  });
});

describe("walls of several kinds", () => {
  test("a lid and floor like the wall change nothing; thicker ones save", () => {
    const soak = oneRamp(1000, 100, 600);
    const plain = valueIn(simulateFiring(heron, soak, EMPTY_LOAD, COLD));
    const same = valueIn(simulateFiring({ ...heron, lid: heron.wall, floor: heron.wall }, soak, EMPTY_LOAD, COLD));
    expect(same.kwh).toBe(plain.kwh);
    const thick = [
      { material: "brick-1260" as const, thicknessMm: 76 },
      { material: "fibre" as const, thicknessMm: 50 },
    ];
    const capped = valueIn(simulateFiring({ ...heron, lid: thick, floor: thick }, soak, EMPTY_LOAD, COLD));
    expect(capped.heat.shell).toBeLessThan(plain.heat.shell);
    const lidOnly = valueIn(simulateFiring({ ...heron, lid: thick }, soak, EMPTY_LOAD, COLD));
    const floorOnly = valueIn(simulateFiring({ ...heron, floor: thick }, soak, EMPTY_LOAD, COLD));
    // Lid and floor are alike in area, and each saves half; parts with the same layers are calculated as one wall, within 0.1 %.
    const saved = plain.heat.shell - capped.heat.shell;
    expect(Math.abs((plain.heat.shell - lidOnly.heat.shell) / (saved / 2) - 1)).toBeLessThan(0.001);
    expect(Math.abs((plain.heat.shell - floorOnly.heat.shell) / (saved / 2) - 1)).toBeLessThan(0.001);
    expect(Math.abs(capped.balanceError)).toBeLessThan(1e-6);
  });
});

test("the same inputs give the same numbers, to the last bit", () => {
  const once = valueIn(simulateFiring(heron, bisque, bisqueLoad, { withCooling: true }));
  const again = valueIn(simulateFiring(heron, bisque, bisqueLoad, { withCooling: true }));
  expect(again).toEqual(once);
});

test("quartz at the table's points is the curve itself", () => {
  // A coarse table would smear the turn at 574 °C; at its points the load's heat is exact.
  const load = { ...EMPTY_LOAD, wareKg: 1, wareBody: { silica: 1, alumina: 0, other: 0 } };
  const firing = valueIn(simulateFiring(heron, oneRamp(575, 100, 0), load, COLD));
  expect(firing.heat.ware * 3600).toBeCloseTo(quartzKjPerKg(575) - quartzKjPerKg(20), 6);
});
