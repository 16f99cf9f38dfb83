// The piece card: what one numbered piece went through. Cost and notes are the studio's own and stand on it only if they are
// wanted, since a card may go with the piece.

import { roundTogether } from "../../accounts/allocate";
import type { PieceCost } from "../../accounts/edition-costs";
import { rowLabel } from "../../core/document/access";
import type { Row } from "../../core/document/workbook";
import { toDecimal } from "../../core/money";
import { ok, type Result } from "../../core/problem";
import type { AmountRules, CardPart } from "../../core/sheets/kinds/kind";
import { amountOf, rulesOf } from "../../core/sheets/step-kinds";
import { nextStep } from "../edition/view";
import { dayText } from "../edition/written-days";
import type { Settled } from "../settle/settle";
import { programmePeak } from "./programme";
import {
  type Fact,
  factsOf,
  numberIn,
  type PaperSource,
  stepTitleOfId,
  stillComputing,
  temperatureText,
  textIn,
  withUnit,
} from "./source";

/** A step that the piece has had. */
interface CardStep {
  readonly step: string;
  readonly title: string;
  readonly what: string;
  /** Whole minor units; undefined where costs are not wanted. */
  readonly minor?: number;
}

/** What a piece cost, in whole minor units: its steps and its share of losses add up to `total`. */
interface CardCost {
  readonly lossShare: number;
  readonly total: number;
}

export interface PieceCard {
  readonly row: string;
  readonly label: string;
  readonly facts: readonly Fact[];
  readonly steps: readonly CardStep[];
  readonly cost?: CardCost;
  readonly note: string;
}

/** The cards of some pieces, or of all; with costs and notes where the settled edition is given, to the cent as the books have them. */
export function pieceCards(
  source: PaperSource,
  chosen?: ReadonlySet<string>,
  settled?: Settled,
): Result<readonly PieceCard[]> {
  const costs = settled ? costsOf(settled) : undefined;
  const cards: PieceCard[] = [];
  for (const row of source.book.sheets.pieces.rows) {
    if (chosen?.has(row.id) === false) continue;
    if (source.read("pieces", row.id, "outcome") === undefined)
      return stillComputing(`Piece ${rowLabel("pieces", row)}`);
    const card = pieceCard(source, row);
    const cost = costs?.get(card.label);
    const priced = settled && cost ? withCost(card, cost, settled.ledger.digits) : ok({ ...card, note: "" });
    if (!priced.ok) return priced;
    cards.push(priced.value);
  }
  return ok(cards);
}

function pieceCard(source: PaperSource, row: Row): PieceCard {
  return {
    row: row.id,
    label: rowLabel("pieces", row),
    facts: cardFacts(source, row),
    steps: source.book.sheets.route.rows.flatMap((step) => cardStep(source, row, step)),
    note: textIn(row, "note"),
  };
}

function cardFacts(source: PaperSource, row: Row): readonly Fact[] {
  const { book, read } = source;
  const outcome = read("pieces", row.id, "outcome");
  const isLost = outcome === "lost";
  const isOpen = !isLost && outcome !== "good" && outcome !== "second";
  const next = isOpen ? nextStep(book, row, (piece, column) => read("pieces", piece.id, column)) : undefined;
  const why = textIn(row, "reason");
  return factsOf([
    ["Tier", textIn(row, "tier")],
    ["Is", typeof outcome === "string" ? outcome : undefined],
    ["Lost at", isLost ? [stepTitleOfId(book, row.cells.lost_at), why].filter(Boolean).join(": ") : undefined],
    ["Waits for", isOpen ? (next ? stepTitleOfId(book, next) : "being passed as good or second") : undefined],
  ]);
}

/** What a step did to the piece, if it has had it. */
function cardStep(source: PaperSource, row: Row, step: Row): readonly CardStep[] {
  const rules = rulesOf(step);
  // Blank where it was not had, or the piece was lost before it.
  if (source.read("pieces", row.id, `${step.id}.cost`) === "" || !rules) return [];
  const amount = amountOf(rules);
  const said = amount
    ? rules.card.map((part) => partText(source, row, step, part, amount))
    : firingWords(source, row, step);
  return [{ step: step.id, title: rowLabel("route", step), what: said.filter(Boolean).join(", ") }];
}

/** A part of what the card says of a step; nothing where its cell is blank. */
function partText(source: PaperSource, row: Row, step: Row, part: CardPart, amount: AmountRules): string {
  const shown = shownPart(source, row, `${step.id}.${part.column}`, part, amount);
  const material = part.ofMaterial ? textIn(step, "material") : "";
  return shown && `${part.before ?? ""}${shown}${part.after ?? ""}${material && ` of ${material}`}`;
}

function shownPart(source: PaperSource, row: Row, column: string, part: CardPart, amount: AmountRules): string {
  const number = numberIn(source, "pieces", row.id, column);
  if (number === undefined) return textIn(row, column);
  return part.unit === undefined
    ? amount.inWords(String(number), "")
    : withUnit(source, number, part.unit, part.decimals);
}

/** Firing, day and how hot. */
function firingWords(source: PaperSource, row: Row, step: Row): readonly string[] {
  const { book, read, locale } = source;
  const name = textIn(row, `${step.id}.firing`);
  const firing = book.sheets.firings.rows.find((one) => rowLabel("firings", one) === name);
  if (!firing) return [name];
  const programme = textIn(firing, "programme");
  const peak = programmePeak(source, programme);
  return [
    name,
    dayText(read("firings", firing.id, "date"), locale),
    programme,
    peak ? temperatureText(source, peak) : "",
  ];
}

interface KnownCost {
  readonly piece: PieceCost;
  /** As the books have it; undefined for a lost piece, whose cost is in the others and in the period. */
  readonly minor: number | undefined;
}

function costsOf({ costs, ledger }: Settled): ReadonlyMap<string, KnownCost> {
  const minors = new Map(
    [...ledger.good, ...ledger.seconds, ...ledger.inProgress].map(({ piece, minor }) => [piece, minor]),
  );
  return new Map(costs.pieces.map((piece) => [piece.id, { piece, minor: minors.get(piece.id) }]));
}

/** Steps and loss share rounded together, so that they add up to what the books say of the piece. */
function withCost(card: PieceCard, { piece, minor }: KnownCost, digits: number): Result<PieceCard> {
  const amounts = [
    ...card.steps.map(({ step }) => piece.steps[step]?.cost ?? 0),
    piece.outcome === "lost" ? 0 : piece.lossShare,
  ];
  const rounded = roundTogether(
    amounts.map((amount) => toDecimal(amount, digits + 1)),
    digits,
    minor,
  );
  if (!rounded.ok) return rounded;
  const steps = card.steps.map((step, at) => ({ ...step, minor: rounded.value[at] ?? 0 }));
  const total = rounded.value.reduce((sum, part) => sum + part, 0);
  return ok({ ...card, steps, cost: { lossShare: rounded.value.at(-1) ?? 0, total } });
}
