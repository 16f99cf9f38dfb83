// The usual cautions. They inform; they never block work.
// Each figure is held against where it was published in tests/published/cautions.test.ts.
export interface Caution {
  readonly id: string;
  readonly title: string;
  readonly text: string;
  /** Where its limits and practice were published. */
  readonly source: string;
}

/** Said once after any cautions: whose word comes first. */
export const CAUTION_CLOSING =
  "Limits vary by country; follow local codes, the makers' data sheets and licensed practice. They come first.";

/** Every caution the workbook shows, by name. */
export const CAUTIONS = {
  silica: {
    id: "silica",
    title: "Silica dust",
    text: "Dust of dry clay and glaze holds respirable crystalline silica; most is breathed in casting, fettling and cleaning. Work wet, extract at the source, wear a fitted respirator, wipe and never sweep. Published limits over 8 hours: 0.025 mg/m³ (ACGIH; the US action level), 0.05 (US), 0.1 (EU, UK).",
    source: "29 CFR 1910.1053; Directive 2004/37/EC, Annex III; HSE EH40/2005 and sheets CR1 to CR4; ACGIH",
  },
  spray: {
    id: "spray",
    title: "Sprayed glaze",
    text: "Spray in an extracted booth with a respirator for dust and mist; keep skin covered; clean up wet.",
    source: "HSE sheet CR1",
  },
  lustre: {
    id: "lustre",
    title: "Lustre",
    text: "Solvent and resin fumes are harmful from opening the bottle until the firing has burnt the resin off: extraction on, respirator for organic vapours, no flame, nobody else in the room. Do not crowd the kiln, and leave it vented until it has smoked off, near dull red. Published turpentine limits over 8 hours: 20 ppm (ACGIH), 100 ppm (NIOSH, OSHA); 800 ppm is dangerous to life at once. Lustre is not for surfaces that touch food.",
    source: "NIOSH on turpentine (REL, PEL, IDLH); ACGIH; data sheets of lustre makers",
  },
  kiln: {
    id: "kiln",
    title: "Hot kiln",
    text: "A shell can reach 120 °C, and ware stays hot for hours: keep clear, and let it cool before it is opened. Infrared eye protection at a spyhole. Wipe the foot before a glaze firing. Keep 46 cm from walls that do not burn and 91 cm from what does. Electrical supply and repair by a licensed electrician; a supply is usually laid for 125 % of the kiln's current. Do not disturb a fibre lining dry.",
    source: "HSE Ceramics Information Sheet 3; Uniform Mechanical Code 910.3.1; kiln makers on shells and supply",
  },
  fumes: {
    id: "fumes",
    title: "Fumes of a firing",
    text: "Clay, wax and resin give off carbon monoxide and other fumes as they burn: run the vent, air the room and do not stay in it. Published carbon monoxide limits over 8 hours: 20 ppm (EU), 25 (ACGIH), 50 (US).",
    source: "HSE Ceramics Information Sheet 3; Directive (EU) 2017/164; ACGIH; 29 CFR 1910.1000, table Z-1",
  },
  food: {
    id: "food",
    title: "Ware for food",
    text: "Whether a glaze is fit for food depends on the glaze, the firing and the country: have it tested by a laboratory, for lead and cadmium above all, before it is sold for food.",
    source: "Directive 84/500/EEC; ISO 6486",
  },
} as const satisfies Readonly<Record<string, Caution>>;
