// The chosen paper, made: what is to be drawn, what is said of it, or why there is nothing yet.

import type { ComponentChild } from "preact";
import { showNumber } from "../../app/edition/format";
import type { Session } from "../../app/edition/session";
import { dayText } from "../../app/edition/written-days";
import { type BenchStep, benchSheet } from "../../app/paper/bench-sheet";
import { namedRows, type PaperChoice } from "../../app/paper/choice";
import { editionStatement } from "../../app/paper/edition-statement";
import { firingSheets } from "../../app/paper/firing-sheet";
import { divideSheet, type LabelSetup, onSheets } from "../../app/paper/label-setup";
import { pieceCards } from "../../app/paper/piece-card";
import { labelsOf, type PieceLabels } from "../../app/paper/piece-label";
import { type PaperSource, stepTitleOfId } from "../../app/paper/source";
import { readerOf } from "../../app/settle/cell-reader";
import { othersMeasuredOf, sideBySide } from "../../app/shelf/edition-comparison";
import { counted } from "../../core/counted";
import { fail, ok, problem, type Result } from "../../core/problem";
import type { PaperSetup } from "../../storage/preferences";
import { settledOf } from "../settle/settled";
import { BenchPaper } from "./bench-paper";
import { CardPaper } from "./card-paper";
import { CertificatePaper } from "./certificate-paper";
import { EditionsPaper } from "./editions-paper";
import { FiringPaper } from "./firing-paper";
import { LabelPaper } from "./label-paper";
import type { Heading } from "./parts";
import type { PrintedPart } from "./printed";
import { StatementPaper } from "./statement-paper";

/** A paper ready to be drawn. */
export interface Made {
  /** How much there is of it, in words; blank where there is nothing to print. */
  readonly summary: string;
  /** What is said where there is nothing to print. */
  readonly none: string;
  /** What is left out on the screen, in words; blank where nothing is. */
  readonly leftOut: string;
  readonly draw: (part: PrintedPart) => ComponentChild;
  /** The steps of a bench sheet, those left off too. */
  readonly steps?: readonly BenchStep[];
}

/** More of these would only make the screen slow; the printer gets them all. */
const ROWS_SHOWN = 300;
const FIRINGS_SHOWN = 15;
const CARDS_SHOWN = 30;
const SHEETS_SHOWN = 5;

/** Makes the chosen paper of an open edition. */
export function makePaper(
  session: Session,
  choice: PaperChoice,
  labels: LabelSetup,
  size: PaperSetup["size"],
): Result<Made> {
  const source: PaperSource = {
    book: session.book.value,
    read: readerOf(session),
    locale: session.formats.locale,
  };
  const { title, invented } = source.book.meta;
  const heading = { edition: title, day: dayText(session.today(), source.locale), isInvented: invented };
  const pieces = namedRows(source.book, "pieces", choice.pieces);
  const firings = namedRows(source.book, "firings", choice.firings);
  switch (choice.paper) {
    case "bench":
      return pieces.ok ? madeBench(source, heading, choice, pieces.value) : pieces;
    case "firing":
      return firings.ok ? madeFirings(source, heading, firings.value) : firings;
    case "card":
      return pieces.ok ? madeCards(session, source, heading, choice, pieces.value) : pieces;
    case "label":
      return pieces.ok ? madeLabels(source, heading, choice, labels, size, pieces.value) : pieces;
    case "certificate":
      return pieces.ok ? madeCertificates(source, heading, choice, labels, pieces.value) : pieces;
    case "statement":
      return madeStatement(session, source, heading);
    case "editions":
      return ok(madeEditions(session, heading));
  }
}

type Chosen = ReadonlySet<string> | undefined;

function madeBench(source: PaperSource, heading: Heading, choice: PaperChoice, pieces: Chosen): Result<Made> {
  const all = benchSheet(source, pieces);
  if (!all.ok) return all;
  const steps = all.value.filter(({ step }) => !choice.without.has(step));
  const count = steps.reduce((sum, step) => sum + step.pieces.length, 0);
  const shown = firstRows(steps, ROWS_SHOWN);
  return ok({
    summary: count === 0 ? "" : `${counted(count, "piece")} at ${counted(steps.length, "step")}`,
    none: all.value.length === 0 ? "No piece of these is waiting." : "Every step is left off.",
    leftOut: count > ROWS_SHOWN ? `The first ${ROWS_SHOWN} rows are shown here; all ${count} are printed.` : "",
    draw: (part) => <BenchPaper steps={part === "whole" ? steps : shown} heading={heading} />,
    steps: all.value,
  });
}

/** The beginning of a bench sheet, so many rows of it. */
function firstRows(steps: readonly BenchStep[], most: number): readonly BenchStep[] {
  let left = most;
  return steps.flatMap((step) => {
    const pieces = step.pieces.slice(0, left);
    left -= pieces.length;
    return pieces.length === 0 ? [] : [{ ...step, pieces }];
  });
}

function madeFirings(source: PaperSource, heading: Heading, chosen: Chosen): Result<Made> {
  const firings = firingSheets(source, chosen);
  if (!firings.ok) return firings;
  const { length } = firings.value;
  const of = { heading, locale: source.locale, stepTitle: (step: string) => stepTitleOfId(source.book, step) };
  return ok({
    summary: length === 0 ? "" : counted(length, "firing"),
    none: "No firing is on the Firings sheet.",
    leftOut:
      length > FIRINGS_SHOWN ? `The first ${FIRINGS_SHOWN} firings are shown here; all ${length} are printed.` : "",
    draw: (part) => (
      <FiringPaper {...of} firings={part === "whole" ? firings.value : firings.value.slice(0, FIRINGS_SHOWN)} />
    ),
  });
}

function madeCards(
  session: Session,
  source: PaperSource,
  heading: Heading,
  choice: PaperChoice,
  chosen: Chosen,
): Result<Made> {
  const settled = choice.withCost ? settledOf(session) : undefined;
  if (settled && !settled.ok) return settled;
  const cards = pieceCards(source, chosen, settled?.value);
  if (!cards.ok) return cards;
  const { length } = cards.value;
  const { currency } = session.formats;
  const of = { heading, currency, digits: session.digits, cardAPage: choice.cardAPage };
  return ok({
    summary: length === 0 ? "" : counted(length, "card"),
    none: "No piece is on the Pieces sheet.",
    leftOut: length > CARDS_SHOWN ? `The first ${CARDS_SHOWN} cards are shown here; all ${length} are printed.` : "",
    draw: (part) => <CardPaper {...of} cards={part === "whole" ? cards.value : cards.value.slice(0, CARDS_SHOWN)} />,
  });
}

/** Why some of the labels are not what was chosen; blank where all are. */
function leftOutOf({ lost, beyond }: PieceLabels): string {
  return [
    lost > 0 ? `${counted(lost, "lost piece is", "lost pieces are")} left out.` : "",
    beyond > 0
      ? `${counted(beyond, "piece has a number", "pieces have numbers")} beyond the edition; finished pieces can be counted from 1 instead.`
      : "",
  ]
    .filter(Boolean)
    .join(" ");
}

const NO_LABELS = "No piece is finished and good yet. Pieces that are named are put on all the same.";

function madeLabels(
  source: PaperSource,
  heading: Heading,
  { startAt }: PaperChoice,
  setup: LabelSetup,
  size: PaperSetup["size"],
  chosen: Chosen,
): Result<Made> {
  const made = labelsOf(source, setup, chosen);
  if (!made.ok) return made;
  const sheet = divideSheet(setup, size);
  if ("code" in sheet) return fail(sheet);
  const { labels } = made.value;
  if (!(Number.isInteger(startAt) && startAt >= 1 && startAt <= sheet.places.length))
    return fail(
      problem({
        code: "label.start",
        where: "Labels begin at place",
        found: Number.isNaN(startAt) ? "" : startAt,
        allowed: `a whole number from 1 to ${sheet.places.length}`,
      }),
    );
  const sheets = onSheets(labels, sheet.places.length, startAt);
  const each = (mm: number) => showNumber(mm, 0, 1, source.locale);
  const words = `${counted(labels.length, "label", "labels")} of ${each(sheet.labelWidthMm)} × ${each(sheet.labelHeightMm)} mm on ${counted(sheets.length, "sheet", "sheets")}`;
  return ok({
    summary: labels.length === 0 ? "" : words,
    none: NO_LABELS,
    leftOut: [
      leftOutOf(made.value),
      sheets.length > SHEETS_SHOWN ? `The first ${SHEETS_SHOWN} sheets are shown here; all are printed.` : "",
    ]
      .filter(Boolean)
      .join(" "),
    draw: (part) => (
      <LabelPaper
        sheet={sheet}
        sheets={part === "whole" ? sheets : sheets.slice(0, SHEETS_SHOWN)}
        edition={heading.edition}
      />
    ),
  });
}

function madeCertificates(
  source: PaperSource,
  heading: Heading,
  { cardAPage }: PaperChoice,
  setup: LabelSetup,
  chosen: Chosen,
): Result<Made> {
  const made = labelsOf(source, setup, chosen);
  if (!made.ok) return made;
  const { labels } = made.value;
  const { length } = labels;
  const leftOut = leftOutOf(made.value);
  return ok({
    summary: length === 0 ? "" : counted(length, "certificate", "certificates"),
    none: NO_LABELS,
    leftOut:
      length > CARDS_SHOWN
        ? `${leftOut} The first ${CARDS_SHOWN} are shown here; all ${length} are printed.`.trim()
        : leftOut,
    draw: (part) => (
      <CertificatePaper
        labels={part === "whole" ? labels : labels.slice(0, CARDS_SHOWN)}
        heading={heading}
        aPage={cardAPage}
      />
    ),
  });
}

function madeStatement(session: Session, source: PaperSource, heading: Heading): Result<Made> {
  const settled = settledOf(session);
  if (!settled.ok) return settled;
  const statement = editionStatement(source, settled.value);
  if (!statement.ok) return statement;
  const { currency } = session.formats;
  return ok({
    ...{ summary: "the whole edition", none: "", leftOut: "" },
    draw: () => (
      <StatementPaper statement={statement.value} heading={heading} currency={currency} locale={source.locale} />
    ),
  });
}

/** Editions side by side, as far as the page of that name has read them. */
function madeEditions(session: Session, heading: Heading): Made {
  const found = sideBySide(session);
  const others = othersMeasuredOf(session).value?.editions ?? [];
  const count = found.groups.reduce((sum, { editions }) => sum + editions.length, 0);
  return {
    summary: others.length === 0 ? "" : counted(count, "edition"),
    none: "No other edition has been read: open the page Side by side first.",
    leftOut: "",
    draw: () => <EditionsPaper found={found} heading={heading} locale={session.formats.locale} />,
  };
}
