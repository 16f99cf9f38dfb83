// Giving books out: the pack is saved, and listed in the edition with its references, totals and the checksum of its file, so that
// the next period goes on from it. It is one step of the history like any other: undone, the list no longer has it, and says that
// the file may be in other hands.
import type { PeriodBooks } from "../../accounts/period";
import type { Operation } from "../../core/document/change";
import { addEntry, changeEntry, freshEntryId } from "../../core/document/list-edits";
import type { Workbook } from "../../core/document/workbook";
import { fail, ok, problem, type Result } from "../../core/problem";
import { sha256 } from "../../core/sha-256";
import type { PackForm } from "../../csv/pack-table";
import { zipTexts } from "../../csv/zip";
import type { Session } from "../edition/session";
import { accountantPack } from "./accountant-pack";
import { readerOf } from "./cell-reader";
import { type GivenOut, goesOn, openPeriod, type PeriodAsked, stoodById } from "./dated-books";

/** A pack as the bytes of its zip, and the line of the list that giving it out would add. */
export interface PackMade {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly entry: GivenOut;
}

/** Makes the pack of a period as a zip; `at` is now, ISO 8601. */
export function makePack(session: Session, asked: PeriodAsked, form: PackForm): Result<PackMade> {
  const book = session.book.value;
  const pack = accountantPack(book, readerOf(session), asked, form);
  if (!pack.ok) return pack;
  const bytes = zipTexts(pack.value.files);
  return ok({ bytes, entry: entryOf(book, pack.value.period, sha256(bytes), session.now()) });
}

function entryOf(
  book: Workbook,
  { terms, posted, closing, after }: PeriodBooks,
  checksum: string,
  at: string,
): GivenOut {
  const total = posted.flatMap(({ lines }) => lines).reduce((sum, { minor }) => sum + Math.max(0, minor), 0);
  const pieces = stoodById(book, after);
  return {
    ...{ id: freshEntryId(book, "packs"), from: terms.from, to: terms.to, at, reference: terms.reference },
    ...{ first: terms.first, last: terms.first + posted.length - 1, total, checksum },
    balances: Object.fromEntries(Object.entries(closing).map(([key, minor]) => [key, minor ?? 0])),
    ...(pieces ? { pieces } : {}),
  };
}

/** Lists a pack as given out, in one step; refused where it does not go on from the last one. */
export function giveOut(session: Session, { entry }: PackMade): Result<undefined> {
  const book = session.book.value;
  if (!goesOn(book, entry.from))
    return fail(
      problem({
        code: "pack.goes-on",
        where: "The period",
        found: `${entry.from} to ${entry.to}`,
        allowed: `one that begins on ${openPeriod(book).from}`,
        fix: "What was changed before is posted there as a correction.",
      }),
    );
  session.commit({ label: `Given out: ${entry.from} to ${entry.to}`, operations: givingOut(book, entry) });
  return ok(undefined);
}

/** The pack at the end of the list; how the pieces stood is kept of the last one only. */
function givingOut(book: Workbook, entry: GivenOut): readonly Operation[] {
  const earlier = book.lists.packs.flatMap(({ pieces, ...rest }): Operation[] =>
    pieces === undefined ? [] : changeEntry(book, "packs", rest),
  );
  return [...earlier, addEntry(book, "packs", entry)];
}
