// The usual cautions, by what is done in a step. They inform; they never block work.
// Limits: 29 CFR 1910.1053 (from memory), Directive 2004/37/EC Annex III, HSE EH40/2005, ACGIH; see tests/published/cautions.test.ts.
import type { StepKind } from "./step-kinds";

export interface Caution {
  readonly id: string;
  readonly title: string;
  readonly text: string;
}

const CLOSING = "Limits vary by country: local codes, the maker's data sheets and licensed practice come first.";

/** Every caution the workbook shows, by name. */
export const CAUTIONS = {
  silica: {
    id: "silica",
    title: "Silica dust",
    text: `Dust of dry clay and glaze holds respirable crystalline silica. Work wet, extract at the source, wear a fitted respirator, wipe and never sweep. Published 8-hour limits run from 0.025 mg/m³ (ACGIH) and 0.05 (US) to 0.1 (EU, UK). ${CLOSING}`,
  },
  spray: {
    id: "spray",
    title: "Sprayed glaze",
    text: `Spray in an extracted booth with a respirator for dust and mist; keep skin covered; clean up wet. ${CLOSING}`,
  },
  lustre: {
    id: "lustre",
    title: "Lustre",
    text: `Solvent fumes are harmful from opening the bottle until the firing has burnt the resin off: extraction on, respirator for organic vapours, no flame, nobody else in the room. Published turpentine limits: 100 ppm (NIOSH, OSHA). Lustre is not for surfaces that touch food. ${CLOSING}`,
  },
  kiln: {
    id: "kiln",
    title: "Kiln",
    text: `Hot shell and hot ware: keep clear, vent the room, wear infrared eye protection at a spyhole, wipe the foot before a glaze firing. Electrical supply and repair by a licensed electrician. ${CLOSING}`,
  },
  food: {
    id: "food",
    title: "Ware for food",
    text: `Whether a glaze is fit for food depends on the glaze, the firing and the country: have it tested by a laboratory before it is sold for food. ${CLOSING}`,
  },
} as const satisfies Readonly<Record<string, Caution>>;

const DUSTY = /\b(fettl|sand|trim|cut|scrape|dry|wipe|mask)/i;
const SPRAYED = /spray/i;

/** The cautions that belong to a step, by its kind and what it is called. */
export function cautionsFor(step: {
  readonly kind: StepKind;
  readonly title: string;
  readonly method: string;
}): readonly Caution[] {
  const text = `${step.title} ${step.method}`;
  switch (step.kind) {
    case "cast":
      return [CAUTIONS.silica];
    case "hand":
      return DUSTY.test(text) ? [CAUTIONS.silica] : [];
    case "coat":
      return SPRAYED.test(text) ? [CAUTIONS.spray, CAUTIONS.silica, CAUTIONS.food] : [CAUTIONS.silica, CAUTIONS.food];
    case "metal":
      return [CAUTIONS.lustre];
    case "firing":
      return /lustre|\blow\b/i.test(text) ? [CAUTIONS.lustre, CAUTIONS.kiln] : [CAUTIONS.kiln];
  }
}
