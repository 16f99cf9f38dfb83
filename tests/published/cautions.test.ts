// The limits named in the cautions, each against where it was published.
import { describe, expect, test } from "vitest";
import { listTemplates } from "../../src/app/plan/templates";
import { CAUTION_CLOSING, CAUTIONS } from "../../src/core/sheets/caution-texts";
import { cautionsOfStep } from "../../src/core/sheets/cautions";
import { STEP_KIND_RULES, type STEP_KINDS } from "../../src/core/sheets/step-kinds";

/** Respirable crystalline silica, 8-hour limits in mg/m³. */
const SILICA = {
  // 29 CFR 1910.1053: 50 µg/m³ (number of the rule from memory; value seen on several secondary pages).
  US: 50 / 1000,
  // Directive 2004/37/EC, Annex III (reachlex.eu); added by (EU) 2017/2398.
  EU: 0.1,
  // HSE EH40/2005, addendum: 0.1, formerly 0.3.
  UK: 0.1,
  // ACGIH, as given by cpwrconstructionsolutions.org.
  ACGIH: 0.025,
};
/** 29 CFR 1910.1053: from this on the air is measured and people are examined. */
const SILICA_US_ACTION = 25 / 1000;
/** Turpentine, ppm: NIOSH REL and OSHA PEL 100, IDLH 800, cdc.gov/niosh/idlh/8006642; ACGIH 20 from memory. */
const TURPENTINE_PPM = { limit: 100, idlh: 800, acgih: 20 };
/** Carbon monoxide, ppm over 8 hours, all from memory: Directive (EU) 2017/164; ACGIH; 29 CFR 1910.1000, table Z-1. */
const CARBON_MONOXIDE_PPM = { EU: 20, ACGIH: 25, US: 50 };
/** Uniform Mechanical Code 910.3.1 (1990s text quoted at potters.org 8581): 18 inches and 3 feet. */
const CLEARANCE_CM = { plain: 18 * 2.54, burning: 36 * 2.54 };
/** Shell of a front loader: kilns.co.uk, notes on ventilation. */
const SHELL_C = 120;
/** A 48 A kiln on a 60 A breaker: ceramicartsdaily.org. */
const SUPPLY = 60 / 48;

const idsFor = (kind: (typeof STEP_KINDS)[number], title: string, method = "") =>
  STEP_KIND_RULES[kind].cautions(`${title} ${method}`).map(({ id }) => id);

describe("published limits", () => {
  test("silica: from the lowest to the highest, each with its authority", () => {
    const text = CAUTIONS.silica.text;
    expect(SILICA_US_ACTION).toBe(SILICA.ACGIH);
    expect(text).toContain(`${SILICA.ACGIH} mg/m³ (ACGIH; the US action level)`);
    expect(text).toContain(`${SILICA.US} (US)`);
    expect(SILICA.EU).toBe(SILICA.UK);
    expect(text).toContain(`${SILICA.EU} (EU, UK)`);
    const named = [...text.matchAll(/0\.\d+/g)].map(([number]) => Number(number));
    expect(named).toEqual([...named].sort((a, b) => a - b));
    expect(named).toEqual([SILICA.ACGIH, SILICA.US, SILICA.EU]);
  });

  test("turpentine", () => {
    const { text } = CAUTIONS.lustre;
    expect(text).toContain(`${TURPENTINE_PPM.acgih} ppm (ACGIH), ${TURPENTINE_PPM.limit} ppm (NIOSH, OSHA)`);
    expect(text).toContain(`${TURPENTINE_PPM.idlh} ppm is dangerous to life at once`);
  });

  test("carbon monoxide, from the lowest to the highest", () => {
    const { EU, ACGIH, US } = CARBON_MONOXIDE_PPM;
    expect(CAUTIONS.fumes.text).toContain(`${EU} ppm (EU), ${ACGIH} (ACGIH), ${US} (US)`);
  });

  test("the kiln: shell, clearance, supply", () => {
    const { text } = CAUTIONS.kiln;
    expect(text).toContain(`can reach ${SHELL_C} °C`);
    expect(text).toContain(
      `${Math.round(CLEARANCE_CM.plain)} cm from walls that do not burn and ${Math.round(CLEARANCE_CM.burning)} cm`,
    );
    expect(text).toContain(`${SUPPLY * 100} % of the kiln's current`);
  });
});

describe("every caution", () => {
  test.each(Object.values(CAUTIONS).map((caution) => [caution.title, caution] as const))(
    "%s has a source",
    (_, one) => {
      expect(one.source.length).toBeGreaterThan(3);
      expect(one.text).toMatch(/\.$/);
    },
  );

  test("gives way to local codes, data sheets and licensed practice", () => {
    expect(CAUTION_CLOSING).toMatch(
      /vary by country; follow local codes, the makers' data sheets and licensed practice/,
    );
  });

  test("names respirator and extraction where there are dust or fumes, and a licensed electrician for the kiln", () => {
    for (const text of [CAUTIONS.silica.text, CAUTIONS.spray.text, CAUTIONS.lustre.text])
      expect(text).toMatch(/respirator/);
    expect(CAUTIONS.lustre.text).toMatch(/burnt the resin off/);
    expect(CAUTIONS.lustre.text).toMatch(/not for surfaces that touch food/);
    expect(CAUTIONS.kiln.text).toMatch(/licensed electrician/);
    expect(CAUTIONS.kiln.text).toMatch(/Wipe the foot before a glaze firing/);
  });
});

describe("which step shows which", () => {
  test.each([
    ["cast", "Cast", "", ["silica"]],
    ["hand", "Fettle", "", ["silica"]],
    ["hand", "Sand the foot", "", ["silica"]],
    ["hand", "Dry", "", ["silica"]],
    ["hand", "Inspect and pack", "", []],
    ["coat", "Glaze", "spray", ["spray", "silica", "food"]],
    ["coat", "Glaze", "dip", ["silica", "food"]],
    ["metal", "Platinum band", "brush", ["lustre"]],
    ["firing", "Glaze firing", "cone 6", ["kiln", "fumes"]],
    ["firing", "Bisque firing", "slow, cone 06", ["kiln", "fumes"]],
    ["firing", "Low firing", "cone 018", ["lustre", "kiln", "fumes"]],
    ["firing", "Third firing", "lustre, vented", ["lustre", "kiln", "fumes"]],
  ] as const)("%s %s (%s)", (kind, title, method, expected) => {
    expect(idsFor(kind, title, method)).toEqual(expected);
  });

  test("a firing is told from what was laid on since the one before, not from its name alone", () => {
    const kinds = ["coat", "firing", "metal", "hand", "firing", "hand", "firing"] as const;
    const route = kinds.map((kind, at) => ({ id: `s${at}`, cells: { kind, title: `Step ${at}` } }));
    const ids = route.map((row) => cautionsOfStep(route, row).map(({ id }) => id));
    expect(ids[1]).toEqual(["kiln", "fumes"]);
    expect(ids[4]).toEqual(["lustre", "kiln", "fumes"]);
    expect(ids[6]).toEqual(["kiln", "fumes"]);
    expect(cautionsOfStep(route, { id: "s9", cells: {} })).toEqual([]);
  });

  test("in every template, each kind of step that harms has its caution", () => {
    for (const { folder, template } of listTemplates()) {
      if (!template.ok) throw new Error(folder);
      for (const { kind, title, cells } of template.value.route) {
        const ids = idsFor(kind, title, String(cells.method ?? ""));
        if (kind !== "hand") expect(ids, `${folder} ${title}`).not.toEqual([]);
        if (kind === "metal") expect(ids).toContain("lustre");
        if (kind === "firing") expect(ids).toContain("kiln");
      }
    }
  });
});
