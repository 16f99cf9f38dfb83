// What stands on the label and the certificate of a piece: which it is of how many, what it is made of, how it was fired, the
// studio's own words, and how it is used. Nothing here says by itself that a piece is fit for food.
import { rowLabel } from "../../core/document/access";
import type { Row } from "../../core/document/workbook";
import { ok, type Result } from "../../core/problem";
import { rulesOf } from "../../core/sheets/step-kinds";
import { dayText } from "../edition/written-days";
import type { LabelSetup } from "./label-setup";
import { programmeCone, programmePeak } from "./programme";
import { type Fact, factsOf, numberIn, type PaperSource, stillComputing, temperatureText, textIn } from "./source";

export interface PieceLabel {
  readonly row: string;
  /** Such as “7 of 120”. */
  readonly number: string;
  readonly facts: readonly Fact[];
  /** The studio's own words, then care, then food. */
  readonly words: readonly string[];
}

/** The labels there are, and the pieces that were chosen and get none. */
export interface PieceLabels {
  readonly labels: readonly PieceLabel[];
  readonly lost: number;
  /** Pieces whose number goes beyond the edition. */
  readonly beyond: number;
}

// The caution on lustre says the same to the maker (core/sheets/caution-texts); microwaves and metal: common practice, no source.
const LUSTRE_CARE = "The lustre is decoration: no food or drink where it is, wash by hand, not for the microwave.";
const DECORATION = "For decoration; not meant for food or drink.";

/** The labels of the chosen pieces; of all that are finished and good where none are chosen. */
export function labelsOf(source: PaperSource, setup: LabelSetup, chosen?: ReadonlySet<string>): Result<PieceLabels> {
  const { rows } = source.book.sheets.pieces;
  const outcomes = new Map(rows.map((row) => [row.id, source.read("pieces", row.id, "outcome")]));
  const waiting = rows.find((row) => outcomes.get(row.id) === undefined);
  if (waiting) return stillComputing(`Piece ${rowLabel("pieces", waiting)}`);
  const isGood = (row: Row) => outcomes.get(row.id) === "good";
  const wanted = rows.filter((row) => (chosen ? chosen.has(row.id) : isGood(row)));
  const left = wanted.filter((row) => outcomes.get(row.id) !== "lost");
  const counted = new Map(rows.filter(isGood).map((row, at) => [row.id, at + 1]));
  const total = numberIn(source, "edition", "wanted", "value");
  const passedOn = passedDays(source);
  const numbers = left.map((row) =>
    setup.numbering === "counted" ? counted.get(row.id) : ownNumber(rowLabel("pieces", row)),
  );
  const labels = left.map((row, at) => ({
    row: row.id,
    number: numberText(rowLabel("pieces", row), numbers[at], total),
    facts: labelFacts(source, setup, row, passedOn),
    words: labelWords(source, setup, row),
  }));
  const beyond = numbers.filter((number) => number !== undefined && total !== undefined && number > total).length;
  return ok({ labels, lost: wanted.length - left.length, beyond });
}

/** The number of a piece that is named by digits alone. */
function ownNumber(label: string): number | undefined {
  return /^\d+$/.test(label) && Number(label) > 0 ? Number(label) : undefined;
}

/** “7 of 120”; by its name where it has no number, or one beyond the edition. */
function numberText(label: string, number: number | undefined, total: number | undefined): string {
  if (total === undefined) return label;
  return number !== undefined && number <= total ? `${number} of ${total}` : `${label}, from an edition of ${total}`;
}

/** When each piece was passed, by the run log: the last time it was, if that still stands. */
function passedDays({ book }: PaperSource): ReadonlyMap<string, string> {
  return new Map(
    book.lists.log
      .filter(({ act, takenBack }) => act === "passed" && takenBack === undefined)
      .flatMap(({ pieces, at }) => pieces.map((piece) => [piece, at] as const)),
  );
}

interface HadFiring {
  readonly text: string;
  readonly day: unknown;
}

/** The steps that the piece has had. */
function stepsHad({ book, read }: PaperSource, row: Row): readonly Row[] {
  return book.sheets.route.rows.filter((step) => {
    const cost = read("pieces", row.id, `${step.id}.cost`);
    return cost !== "" && cost !== null && cost !== undefined;
  });
}

function labelFacts(
  source: PaperSource,
  { without }: LabelSetup,
  row: Row,
  passedOn: ReadonlyMap<string, string>,
): readonly Fact[] {
  const had = stepsHad(source, row);
  const materials = [...new Set(had.map((step) => textIn(step, "material")).filter(Boolean))];
  const firings = had.flatMap((step) => firingHad(source, row, step) ?? []);
  const day = passedOn.get(row.id) ?? firings.at(-1)?.day;
  const is = source.read("pieces", row.id, "outcome");
  const isOn = (part: LabelSetup["without"][number]) => !without.includes(part);
  return factsOf([
    ["Made of", isOn("materials") ? materials.join(", ") : undefined],
    ["Fired", isOn("firings") ? firings.map(({ text }) => text).join("; ") : undefined],
    ["Finished", isOn("finished") && (is === "good" || is === "second") ? dayText(day, source.locale) : undefined],
    ["Is", is === "second" ? "a second" : undefined],
  ]);
}

/** A firing that a piece was in: which step, how hot, which cone. */
function firingHad(source: PaperSource, row: Row, step: Row): HadFiring | undefined {
  const name = textIn(row, `${step.id}.firing`);
  const firing = source.book.sheets.firings.rows.find((one) => rowLabel("firings", one) === name);
  if (name === "" || !firing) return undefined;
  const programme = textIn(firing, "programme");
  const peak = programmePeak(source, programme);
  const cone = programmeCone(source, programme);
  const parts = [peak === undefined ? "" : temperatureText(source, peak), cone === "" ? "" : `cone ${cone}`];
  const how = parts.filter(Boolean).join(", ");
  const day = source.read("firings", firing.id, "date");
  return { text: how === "" ? rowLabel("route", step) : `${rowLabel("route", step)} ${how}`, day };
}

function labelWords(source: PaperSource, setup: LabelSetup, row: Row): readonly string[] {
  const { without, words, care, food, tested } = setup;
  const hasLustre = stepsHad(source, row).some((step) => rulesOf(step)?.material?.isPrecious);
  const foodWords = food === "decoration" ? DECORATION : food === "tested" ? tested.trim() : "";
  return [
    without.includes("words") ? "" : words.trim(),
    without.includes("care") ? "" : care.trim(),
    // Not to be left off: who buys the piece can't see what it is laid on with.
    hasLustre ? LUSTRE_CARE : "",
    without.includes("food") ? "" : foodWords,
  ].filter((line) => line !== "");
}
