// Random editions of up to 500 pieces: any route, loads of any size, losses anywhere, entries left out here and there.
import fc from "fast-check";
import type {
  FiringBasis,
  PlainEdition,
  PlainEntry,
  PlainFiring,
  PlainPiece,
  PlainStep,
} from "../../src/accounts/plain-edition";
import type { StepKind } from "../../src/core/sheets/step-kinds";

// Whole steps of a ten-thousandth of the most: random doubles would nearly all be next to nothing.
const amount = (most: number) => fc.integer({ min: 0, max: 10_000 }).map((parts) => (parts / 10_000) * most);
const fraction = (most: number) => fc.integer({ min: 0, max: 1000 }).map((thousandths) => (thousandths / 1000) * most);

const kinds: readonly StepKind[] = ["cast", "hand", "coat", "metal", "firing"];
const bases: readonly FiringBasis[] = ["count", "weight", "shelf area"];

const steps: fc.Arbitrary<readonly PlainStep[]> = fc
  .array(
    fc.record({
      kind: fc.constantFrom(...kinds),
      plannedLoss: fraction(0.4),
      minutesEach: amount(30),
      pricePerGram: amount(20),
      area: amount(900),
      laydown: amount(0.1),
      transfer: fraction(0.9).map((part) => part + 0.1),
      waste: fraction(0.9),
      fraction: fraction(1),
      carat: fc.integer({ min: 1, max: 24 }),
    }),
    { minLength: 1, maxLength: 8 },
  )
  .map((list) => list.map((step, at) => ({ ...step, id: `s${at + 1}`, order: at + 1 })));

const firings: fc.Arbitrary<readonly PlainFiring[]> = fc
  .array(
    fc.record({
      kwh: amount(200),
      pricePerKwh: amount(1),
      wear: amount(20),
      loadingMinutes: amount(90),
      basis: fc.constantFrom(...bases),
      others: fc.oneof(fc.constant(0), amount(40)),
    }),
    { minLength: 1, maxLength: 6 },
  )
  .map((list) => list.map((firing, at) => ({ ...firing, id: `f${at + 1}` })));

// One number a piece, from which the rest is drawn: 500 pieces cost fast-check 500 numbers and not 6,000.
const seeds = fc.array(fc.nat(), { maxLength: 500, size: "max" });

function* numbersFrom(seed: number): Generator<number, number> {
  let state = seed >>> 0;
  for (;;) {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    yield state >>> 8;
  }
}

function entryOf(step: PlainStep, draw: number, fired: readonly PlainFiring[]): PlainEntry {
  if (draw % 13 === 0) return {};
  const coats = draw % 5;
  const own = draw % 3 === 0 ? { area: draw / 10 } : {};
  const firing = fired[draw % fired.length];
  switch (step.kind) {
    case "cast":
      return { slip: draw / 4 };
    case "hand":
      return { minutes: draw / 100 };
    case "coat":
    case "metal":
      return { coats, ...own };
    case "firing":
      return firing ? { firing: firing.id } : {};
  }
}

type Passed = "good" | "second" | undefined;
// Most editions have pieces of every kind; some have only seconds, so that there is loss that nobody can bear.
const passings: fc.Arbitrary<readonly Passed[]> = fc.constantFrom(
  [undefined, "good", "good", "second"],
  [undefined, "good", "good", "second"],
  ["second"],
  [undefined],
);

function pieceOf(
  seed: number,
  at: number,
  route: readonly PlainStep[],
  fired: readonly PlainFiring[],
  passing: readonly Passed[],
): PlainPiece {
  const numbers = numbersFrom(seed);
  const draw = (below: number) => numbers.next().value % below;
  const lostStep = route[draw(20)];
  const passed = passing[draw(passing.length)];
  return {
    id: `${at + 1}`,
    kg: (draw(9000) + 1) / 1000,
    footprintCm2: draw(900) + 1,
    entries: Object.fromEntries(route.map((step) => [step.id, entryOf(step, draw(10_000), fired)])),
    ...(lostStep ? { lostAt: lostStep.id } : {}),
    ...(passed ? { grade: passed } : {}),
  };
}

/** Editions with anything in them that the rules of costing speak of. */
export const editions: fc.Arbitrary<PlainEdition> = fc
  .record({
    wagePerHour: amount(60),
    overhead: fc.record(
      {
        ratePerHour: amount(30),
        isOnLoading: fc.boolean(),
        paid: amount(2000),
        normalHours: fc.double({ min: 0.5, max: 200, noNaN: true }),
      },
      { requiredKeys: ["ratePerHour"] },
    ),
    moulds: fc.record(
      {
        cost: fc.double({ min: 10, max: 90, noNaN: true }),
        salvage: amount(10),
        lifeCasts: fc.integer({ min: 1, max: 60 }),
        made: fc.integer({ min: 1, max: 9 }),
        isRestCharged: fc.boolean(),
      },
      { requiredKeys: ["cost", "lifeCasts"] },
    ),
    reclaimFraction: fraction(1),
    secondNetRealisable: amount(200),
    lossRuns: fc.constantFrom(0, 1, 20, 1000),
    steps,
    firings,
    seeds,
    passing: passings,
  })
  .map(({ seeds: drawn, passing, ...edition }) => ({
    ...edition,
    pieces: drawn.map((seed, at) => pieceOf(seed, at, edition.steps, edition.firings, passing)),
  }));

/** The same list in an order that a seed decides. */
export function shuffled<T>(list: readonly T[], seed: number): readonly T[] {
  let state = seed >>> 0 || 1;
  const keyed = list.map((item) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return { item, key: state };
  });
  return keyed.sort((a, b) => a.key - b.key).map(({ item }) => item);
}
