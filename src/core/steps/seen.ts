// What an edition has counted and measured at each step, as plain numbers: for the next one, and for its own plan.
import type { Row, Sample, SeenEdition, SeenStep, Workbook } from "../document/workbook";
import { amountOf, isStepKind, STEP_KIND_RULES } from "../sheets/step-kinds";
import { hasHad } from "./piece-steps";

/** The number of a cell of a piece: what was typed there; undefined where it is blank or a formula's. */
const numberIn = (row: Row, column: string): number | undefined => {
  const raw = row.cells[column];
  return typeof raw === "number" ? raw : undefined;
};

/** Where each piece stands: the order of the step it was lost at, and that of the last one it has come to. */
interface Stand {
  readonly piece: Row;
  readonly lostAt: string | undefined;
  /** Order of the step it was lost at; beyond every step where it was not. */
  readonly lost: number;
  /** Order of the last step it has come to; undefined where it has not begun. */
  readonly reached: number | undefined;
}

/** What an edition itself has seen, step by step; steps that nothing is known of are left out. */
export function seenIn(book: Workbook): SeenEdition {
  const stands = standsOf(book);
  const steps = book.sheets.route.rows.flatMap((row) => seenAt(row, stands));
  return { title: book.meta.title, started: book.meta.started, steps };
}

/** Everything seen in earlier editions, those counted by hand on the Route sheet among them. */
export function seenBefore(book: Workbook): readonly SeenEdition[] {
  let records = book.seen ?? [];
  const byHand = book.sheets.route.rows.flatMap((row): SeenStep[] => {
    const { kind } = row.cells;
    if (!isStepKind(kind)) return [];
    const known = records.flatMap(({ steps }) => steps.filter(({ step }) => step === row.id));
    const entered = (numberIn(row, "seen_entered") ?? 0) - sum(known.map((step) => step.entered));
    const lost = (numberIn(row, "seen_lost") ?? 0) - sum(known.map((step) => step.lost));
    const counted = (counts: Pick<SeenStep, "entered" | "lost">): SeenStep[] =>
      counts.entered > 0 ? [{ step: row.id, kind, title: titleOf(row), ...counts, amounts: {} }] : [];
    if (entered >= lost && lost >= 0) return counted({ entered, lost });
    // The sheet says less than the editions did: the maker has corrected it, and it stands.
    records = records.map((one) => ({
      ...one,
      steps: one.steps.map((step) => (step.step === row.id ? { ...step, entered: 0, lost: 0 } : step)),
    }));
    return counted({ entered: numberIn(row, "seen_entered") ?? 0, lost: numberIn(row, "seen_lost") ?? 0 });
  });
  return byHand.length === 0 ? records : [...records, { title: "Counted before", started: "", steps: byHand }];
}

/** What the next edition is given: earlier editions and this one, which is kept under `id` where that is known. */
export function seenUntilNow(book: Workbook, id?: string): readonly SeenEdition[] {
  const own = { ...seenIn(book), ...(id === undefined ? {} : { id }) };
  return own.steps.length === 0 ? seenBefore(book) : [...seenBefore(book), own];
}

function standsOf(book: Workbook): readonly Stand[] {
  const steps = book.sheets.route.rows.map((row) => ({ row, order: Number(row.cells.order) }));
  const orders = new Map(steps.map(({ row, order }) => [row.id, order]));
  const end = steps.at(-1)?.order;
  return book.sheets.pieces.rows.map((piece): Stand => {
    const { lost_at: lostAt, grade } = piece.cells;
    const had = steps.filter(({ row }) => hasHad(piece, row)).map(({ order }) => order);
    const last = had.length === 0 ? undefined : Math.max(...had);
    const lost = typeof lostAt === "string" ? orders.get(lostAt) : undefined;
    const reached = lost ?? (grade === undefined || last === undefined ? last : end);
    return {
      piece,
      lostAt: lost === undefined ? undefined : String(lostAt),
      lost: lost ?? Number.POSITIVE_INFINITY,
      reached,
    };
  });
}

function seenAt(row: Row, stands: readonly Stand[]): SeenStep[] {
  const { kind } = row.cells;
  if (!isStepKind(kind)) return [];
  const order = Number(row.cells.order);
  const had = stands.filter(({ piece, lost }) => hasHad(piece, row) && lost >= order).map(({ piece }) => piece);
  const lostHere = stands.filter(({ lostAt }) => lostAt === row.id);
  const entered = had.length + lostHere.filter(({ piece }) => !hasHad(piece, row)).length;
  if (entered === 0) return [];
  const came = stands.filter(({ reached }) => reached !== undefined && reached >= order).length;
  const amounts = Object.entries(measured(row, had)).flatMap(([column, numbers]) => {
    const sample = sampleOf(numbers);
    return sample ? [[column, sample] as const] : [];
  });
  return [
    {
      ...{ step: row.id, kind, title: titleOf(row), entered, lost: lostHere.length },
      ...(row.cells.who === "as needed" ? { needed: { came, had: entered } } : {}),
      amounts: Object.fromEntries(amounts),
    },
  ];
}

/** What was measured of the pieces that have had a step, by the column of the Route that plans it. */
function measured(row: Row, had: readonly Row[]): Record<string, readonly number[]> {
  const { kind } = row.cells;
  const rules = isStepKind(kind) ? STEP_KIND_RULES[kind] : undefined;
  const amount = rules && amountOf(rules);
  if (!rules || !amount) return {};
  const at = (piece: Row, column: string) => numberIn(piece, `${row.id}.${column}`);
  const found: Record<string, readonly number[]> = {
    [amount.usual]: had.flatMap((piece) => at(piece, amount.column) ?? []),
  };
  const planned = numberIn(row, "area");
  if (rules.ownOfPiece.includes("area") && had.some((piece) => at(piece, "area") !== undefined))
    found.area = had.flatMap((piece) => at(piece, "area") ?? planned ?? []);
  const { material } = rules;
  if (material && material.usedColumn !== amount.column)
    found.usage = had.flatMap((piece) => {
      const [used, times] = [at(piece, material.usedColumn), at(piece, amount.column)];
      if (used === undefined || times === undefined) return [];
      const [area, laydown] = [at(piece, "area") ?? planned, numberIn(row, "laydown")];
      if (area === undefined || laydown === undefined) return [];
      const { gramsOnPiece } = material.grams(times, { area, laydown }, {});
      return gramsOnPiece > 0 ? [used / gramsOnPiece] : [];
    });
  return found;
}

/** Count, mean and standard deviation of some numbers; undefined where there are none. */
export function sampleOf(numbers: readonly number[]): Sample | undefined {
  const count = numbers.length;
  if (count === 0) return undefined;
  const mean = sum(numbers) / count;
  const squares = sum(numbers.map((one) => (one - mean) ** 2));
  return { count, mean, sd: count === 1 ? 0 : Math.sqrt(squares / (count - 1)) };
}

const sum = (numbers: readonly number[]) => numbers.reduce((total, one) => total + one, 0);
const titleOf = (row: Row) => String(row.cells.title ?? row.id).slice(0, 200);
