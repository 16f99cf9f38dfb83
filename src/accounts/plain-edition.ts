// An edition as plain records, with nothing of sheets in it: what the cost build-up reads.

import type { Problem } from "../core/problem";
import type { AmountColumn, LaidOn } from "../core/sheets/kinds/kind";
import { AMOUNTS, type StepKind } from "../core/sheets/step-kinds";
import { need, needAboveZero, needDifferent, needFromZero, needNumber, needPart, needPartBelowOne } from "./checks";
import { type MouldTerms, mouldProblems, type OverheadTerms, overheadProblems } from "./overhead";

/** A step of the route. What its kind does not use may be left out. */
export interface PlainStep extends LaidOn {
  readonly id: string;
  readonly kind: StepKind;
  /** Order in the route: a piece lost at one step has nothing of the steps of higher order. */
  readonly order: number;
  /** Planned loss rate, 0 to below 1; 0 if left out. */
  readonly plannedLoss?: number;
  /** Whether the step is for special pieces only: they alone bear what is lost at it. */
  readonly isForSpecial?: boolean;
  /** Minutes a piece, or minutes a coat, as the kind has it. */
  readonly minutesEach?: number;
  /** Price of slip, glaze or preparation. */
  readonly pricePerGram?: number;
  /** Of a precious metal: metal content of the preparation by weight, 0 to 1. */
  readonly fraction?: number;
  /** Carat of that metal, up to 24; pure if left out. */
  readonly carat?: number;
}

/** How a firing is shared over the pieces in it. */
export type FiringBasis = "count" | "weight" | "shelf area";

export interface PlainFiring {
  readonly id: string;
  /** Meter reading, or an estimate of it. */
  readonly kwh: number;
  /** Whether its meter was read: a firing with no piece in it and no reading has not been fired, and costs nothing. */
  readonly isMetered?: boolean;
  readonly pricePerKwh: number;
  /** Wear of kiln and furniture, a firing. */
  readonly wear: number;
  readonly loadingMinutes: number;
  readonly basis: FiringBasis;
  /** ISO 8601 day on which it was fired. */
  readonly day?: string;
  /** What else was in it, of other editions and of none, in what it is shared by: pieces, kilograms or cm²; 0 if left out. */
  readonly others?: number;
}

/** What was entered for a piece at a step: what its kind needs says that the piece has had the step. */
export type PlainEntry = { readonly [column in AmountColumn]?: number } & {
  /** cm², where the piece has an area of its own. */
  readonly area?: number;
  readonly firing?: string;
  /** ISO 8601 day of the step; a firing has its own. */
  readonly day?: string;
  /** Price of the material on the day of the step, where it is not that of the step. */
  readonly pricePerGram?: number;
};

export interface PlainPiece {
  readonly id: string;
  /** Step at which the piece was lost. */
  readonly lostAt?: string;
  /** ISO 8601 days of its loss and of its being passed. */
  readonly lostOn?: string;
  readonly passedOn?: string;
  /** How a finished piece was passed; in progress without it. */
  readonly grade?: "good" | "second";
  readonly tier?: string;
  /** What it fetches at a price of its own, less the cost to sell it; that of its grade if left out. */
  readonly fetches?: number;
  readonly kg: number;
  readonly footprintCm2: number;
  readonly entries: Readonly<Record<string, PlainEntry>>;
}

export interface PlainEdition {
  readonly wagePerHour: number;
  readonly overhead: OverheadTerms;
  readonly moulds: MouldTerms;
  /** Part of the slip that comes back from a piece lost before the first firing step, 0 to 1. */
  readonly reclaimFraction: number;
  /** What a piece lost at its first firing or later fetches as scrap, from 0 up; 0 if left out. */
  readonly scrapEach?: number;
  /** What a second fetches, less the cost to sell it. */
  readonly secondNetRealisable: number;
  /** Losses beyond plan are abnormal once chance gives as many in fewer than 1 run of these; all of them if left out or 0. */
  readonly lossRuns?: number;
  readonly steps: readonly PlainStep[];
  readonly firings: readonly PlainFiring[];
  readonly pieces: readonly PlainPiece[];
}

/** Everything that keeps an edition from being costed. */
export function editionProblems(edition: PlainEdition): readonly Problem[] {
  const stepIds = new Set(edition.steps.map(({ id }) => id));
  const firingIds = new Set(edition.firings.map(({ id }) => id));
  return [
    ...needFromZero("Wage", edition.wagePerHour),
    ...overheadProblems(edition.overhead),
    ...mouldProblems(edition.moulds),
    ...needPart("Reclaim", edition.reclaimFraction),
    ...needFromZero("Scrap", edition.scrapEach ?? 0),
    ...needNumber("What a second fetches", edition.secondNetRealisable),
    ...needFromZero("1 run of", edition.lossRuns ?? 0),
    ...needDifferent("Steps", [...edition.steps.map(({ id }) => id)]),
    ...needDifferent("Order of steps", [...edition.steps.map(({ order }) => String(order))]),
    ...needDifferent("Firings", [...edition.firings.map(({ id }) => id)]),
    ...needDifferent("Pieces", [...edition.pieces.map(({ id }) => id)]),
    ...edition.steps.flatMap(stepProblems),
    ...edition.firings.flatMap(firingProblems),
    ...edition.pieces.flatMap((piece) => pieceProblems(piece, stepIds, firingIds)),
  ];
}

function stepProblems(step: PlainStep): readonly Problem[] {
  const name = (what: string) => `Step ${step.id}, ${what}`;
  const amounts = [
    ["minutes", step.minutesEach],
    ["price per gram", step.pricePerGram],
    ["area", step.area],
    ["laydown", step.laydown],
  ] as const;
  return [
    ...needNumber(name("order"), step.order),
    ...needPartBelowOne(name("planned loss"), step.plannedLoss ?? 0),
    ...amounts.flatMap(([what, value]) => needFromZero(name(what), value ?? 0)),
    ...need((step.transfer ?? 1) <= 1, name("transfer"), step.transfer, "a fraction above 0 and up to 1"),
    ...needAboveZero(name("transfer"), step.transfer ?? 1),
    ...needPartBelowOne(name("waste"), step.waste ?? 0),
    ...needPart(name("metal content"), step.fraction ?? 0),
    ...need((step.carat ?? 24) > 0 && (step.carat ?? 24) <= 24, name("carat"), step.carat, "a number above 0 up to 24"),
  ];
}

function firingProblems(firing: PlainFiring): readonly Problem[] {
  const amounts = [
    ["energy", firing.kwh],
    ["price of a kilowatt-hour", firing.pricePerKwh],
    ["wear", firing.wear],
    ["loading", firing.loadingMinutes],
    ["what else is in it", firing.others ?? 0],
  ] as const;
  return amounts.flatMap(([what, value]) => needFromZero(`Firing ${firing.id}, ${what}`, value));
}

function pieceProblems(
  piece: PlainPiece,
  stepIds: ReadonlySet<string>,
  firingIds: ReadonlySet<string>,
): readonly Problem[] {
  const name = (what: string) => `Piece ${piece.id}, ${what}`;
  return [
    ...needNumber(name("what it fetches"), piece.fetches ?? 0),
    ...needFromZero(name("weight"), piece.kg),
    ...needFromZero(name("shelf area"), piece.footprintCm2),
    ...need(
      piece.lostAt === undefined || stepIds.has(piece.lostAt),
      name("lost at"),
      piece.lostAt,
      "a step of the route",
    ),
    ...Object.entries(piece.entries).flatMap(([stepId, entry]) => [
      ...need(stepIds.has(stepId), name("entry"), stepId, "a step of the route"),
      ...need(
        entry.firing === undefined || firingIds.has(entry.firing),
        name(`${stepId}, firing`),
        entry.firing,
        "a firing that is written down",
      ),
      ...AMOUNTS.flatMap(({ column }) => needFromZero(name(`${stepId}, ${column}`), entry[column] ?? 0)),
      ...needFromZero(name(`${stepId}, area`), entry.area ?? 0),
      ...needFromZero(name(`${stepId}, price per gram`), entry.pricePerGram ?? 0),
    ]),
  ];
}
