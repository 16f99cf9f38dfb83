// Engines that tests leave behind. A document with the same rows and columns as one of theirs is told to it as an edit is, by
// what is different: an engine that is built takes several times as long. Where what was built anew is itself the question,
// a test builds its own (`evaluateAnew`, `new Engine`).
import type { Change } from "../../src/core/document/change";
import { differenceBetween } from "../../src/core/document/difference";
import type { Workbook } from "../../src/core/document/workbook";
import { Engine } from "../../src/engine/engine";

/** The latest first. */
const kept: Engine[] = [];
const MOST_KEPT = 4;
/** Engines of larger documents are not kept. */
const MOST_PIECES = 400;
/** Where more is different an engine is built. */
const MOST_OPERATIONS = 300;

/** An engine that has this book, and is nobody else's. */
export function takeEngine(book: Workbook): Engine {
  for (const [at, engine] of kept.entries()) {
    const change = differenceBetween(engine.source().book, book, "another");
    if (!change || !isSmall(change)) continue;
    kept.splice(at, 1);
    if (change.operations.length > 0) engine.apply(change);
    return engine;
  }
  return new Engine(book);
}

/** Gives an engine back, whatever it has been told since. */
export function keepEngine(engine: Engine): void {
  if (engine.source().book.sheets.pieces.rows.length > MOST_PIECES) engine.close();
  else kept.unshift(engine);
  for (const old of kept.splice(MOST_KEPT)) old.close();
}

/** Whether a change leaves rows and columns where they are, and is told sooner than everything is built. */
function isSmall({ operations }: Change): boolean {
  return (
    operations.length <= MOST_OPERATIONS &&
    operations.every(({ kind }) => kind === "cell" || kind === "meta" || kind === "list")
  );
}
