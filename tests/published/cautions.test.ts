// The limits named in the cautions, each against where it was published.
import { describe, expect, test } from "vitest";
import { listTemplates } from "../../src/app/templates";
import { CAUTIONS, cautionsFor } from "../../src/core/sheets/cautions";
import type { STEP_KINDS } from "../../src/core/sheets/step-kinds";

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
/** Turpentine, ppm: NIOSH REL and OSHA PEL, cdc.gov/niosh/idlh/8006642. */
const TURPENTINE_PPM = 100;

const idsFor = (kind: (typeof STEP_KINDS)[number], title: string, method = "") =>
  cautionsFor({ kind, title, method }).map(({ id }) => id);

describe("published limits", () => {
  test("silica: from the lowest to the highest, each with its authority", () => {
    const text = CAUTIONS.silica.text;
    expect(text).toContain(`${SILICA.ACGIH} mg/m³ (ACGIH)`);
    expect(text).toContain(`${SILICA.US} (US)`);
    expect(SILICA.EU).toBe(SILICA.UK);
    expect(text).toContain(`${SILICA.EU} (EU, UK)`);
    const named = [...text.matchAll(/0\.\d+/g)].map(([number]) => Number(number));
    expect(named).toEqual([...named].sort((a, b) => a - b));
    expect(named).toEqual([SILICA.ACGIH, SILICA.US, SILICA.EU]);
  });

  test("turpentine", () => {
    expect(CAUTIONS.lustre.text).toContain(`${TURPENTINE_PPM} ppm (NIOSH, OSHA)`);
  });
});

describe("every caution", () => {
  test.each(Object.values(CAUTIONS).map((caution) => [caution.title, caution] as const))("%s", (_, { text }) => {
    expect(text).toMatch(/vary by country/);
    expect(text).toMatch(/local codes, the maker's data sheets and licensed practice come first\.$/);
  });

  test("names respirator and extraction where there are dust or fumes, and a licensed electrician for the kiln", () => {
    for (const text of [CAUTIONS.silica.text, CAUTIONS.spray.text, CAUTIONS.lustre.text])
      expect(text).toMatch(/respirator/);
    expect(CAUTIONS.lustre.text).toMatch(/burnt the resin off/);
    expect(CAUTIONS.lustre.text).toMatch(/not for surfaces that touch food/);
    expect(CAUTIONS.kiln.text).toMatch(/licensed electrician/);
    expect(CAUTIONS.kiln.text).toMatch(/wipe the foot before a glaze firing/);
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
    ["firing", "Glaze firing", "cone 6", ["kiln"]],
    ["firing", "Bisque firing", "slow, cone 06", ["kiln"]],
    ["firing", "Low firing", "cone 018", ["lustre", "kiln"]],
    ["firing", "Third firing", "lustre, vented", ["lustre", "kiln"]],
  ] as const)("%s %s (%s)", (kind, title, method, expected) => {
    expect(idsFor(kind, title, method)).toEqual(expected);
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
