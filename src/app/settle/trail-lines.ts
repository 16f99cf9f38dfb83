// The audit trail of books, in the words of the open edition: parts of postings, firings, hours, and lost pieces by number.
import { roundToTotal } from "../../accounts/allocate";
import type { BooksAsOf } from "../../accounts/as-of";
import type { PieceCost } from "../../accounts/edition-costs";
import { lossTable } from "../../accounts/loss-table";
import type { PeriodBooks } from "../../accounts/period";
import { rowLabel, rowOf } from "../../core/document/access";
import type { Row, Workbook } from "../../core/document/workbook";
import type { FiredLine, HoursLine, LostLine, PackTrail, TrailLine } from "../../csv/pack-content";

/** Everything that the postings of a period are made of. */
export function trailOf(book: Workbook, period: PeriodBooks): PackTrail {
  return {
    parts: partLines(book, period),
    fired: firedLines(book, period),
    hours: hoursLines(book, period),
    lost: lostLines(book, period),
  };
}

/** The title of a step, by its id. */
const titleOf = (book: Workbook, step: string | undefined) => {
  const row = step === undefined ? undefined : rowOf(book, "route", step);
  return row ? rowLabel("route", row) : (step ?? "");
};

function partLines(book: Workbook, { posted }: PeriodBooks): readonly TrailLine[] {
  return posted.flatMap(({ reference, day: on, moves }) =>
    moves.map(
      ({ day, piece, step, firing, element, document, debit, credit, minor }): TrailLine => ({
        ...{
          reference,
          posted: on,
          day: day ?? "",
          piece: piece ?? "",
          step: titleOf(book, step),
          firing: firing ?? "",
        },
        ...{ element: element ?? "", document: document ?? "", debit, credit, minor },
      }),
    ),
  );
}

function firedLines(book: Workbook, { terms, after }: PeriodBooks): readonly FiredLine[] {
  const costs = new Map(after.costs.firings.map((firing) => [firing.id, firing]));
  const rows = new Map(book.sheets.firings.rows.map((row) => [rowLabel("firings", row), row]));
  return after.edition.firings.flatMap((firing): FiredLine[] => {
    const cost = costs.get(firing.id);
    if (!cost?.isFired || firing.day === undefined || firing.day < terms.from) return [];
    const all = cost.sharedOver + (firing.others ?? 0);
    return [
      {
        ...{ firing: firing.id, day: firing.day, kiln: String(rows.get(firing.id)?.cells.kiln ?? "") },
        ...{ kwh: firing.kwh, tariff: firing.pricePerKwh, pieces: cost.pieces, basis: firing.basis },
        share: all === 0 ? 1 : cost.sharedOver / all,
        ...{ energy: cost.energy, wear: cost.wear },
        ...{ loadingHours: cost.hours, loading: cost.labour, overhead: cost.overhead },
      },
    ];
  });
}

interface Work {
  pieces: number;
  minutes: number;
  labour: number;
  overhead: number;
}

function workOf({ costs }: BooksAsOf): ReadonlyMap<string, Work> {
  const found = new Map<string, Work>();
  for (const { steps } of costs.pieces)
    for (const [step, { minutes, labour, overhead }] of Object.entries(steps)) {
      const held = found.get(step) ?? { pieces: 0, minutes: 0, labour: 0, overhead: 0 };
      found.set(step, {
        pieces: held.pieces + 1,
        minutes: held.minutes + minutes,
        labour: held.labour + labour,
        overhead: held.overhead + overhead,
      });
    }
  return found;
}

function hoursLines(book: Workbook, { before, after }: PeriodBooks): readonly HoursLine[] {
  const [was, is] = [workOf(before), workOf(after)];
  const steps = after.edition.steps.flatMap(({ id }): HoursLine[] => {
    const none = { pieces: 0, minutes: 0, labour: 0, overhead: 0 };
    const [then, now] = [was.get(id) ?? none, is.get(id) ?? none];
    const minutes = now.minutes - then.minutes;
    if (Math.abs(minutes) < 1e-9) return [];
    return [
      {
        step: titleOf(book, id),
        pieces: now.pieces - then.pieces,
        hours: minutes / 60,
        labour: now.labour - then.labour,
        overhead: now.overhead - then.overhead,
      },
    ];
  });
  const fired = (of: BooksAsOf, what: "hours" | "labour" | "overhead" | "pieces") =>
    of.costs.firings.reduce((sum, firing) => sum + firing[what], 0);
  const moved = (what: "hours" | "labour" | "overhead" | "pieces") => fired(after, what) - fired(before, what);
  const loading = { hours: moved("hours"), labour: moved("labour"), overhead: moved("overhead") };
  return Math.abs(loading.hours) < 1e-9
    ? steps
    : [...steps, { step: "Loading of kilns", pieces: moved("pieces"), ...loading }];
}

/** Those lost in the period; rounded together with all that were lost at their step, so that each step is as in its losses. */
function lostLines(book: Workbook, { terms, after }: PeriodBooks): readonly LostLine[] {
  const lostAt = new Map(after.edition.pieces.map((piece) => [piece.id, piece]));
  const rows = new Map(book.sheets.pieces.rows.map((row) => [rowLabel("pieces", row), row]));
  const { digits } = after.ledger;
  return lossTable(after.costs, after.ledger).flatMap((losses) => {
    const here = after.costs.pieces.filter(({ id }) => lostAt.get(id)?.lostAt === losses.step.id);
    const net = here.map(netOf);
    const all = net.reduce((sum, one) => sum + one, 0);
    const part = (total: number) => net.map((one) => (all === 0 ? total / here.length : (one * total) / all));
    const reclaimed = roundToTotal(
      here.map((one) => one.reclaimed),
      digits,
      losses.reclaimed,
    );
    const scrap = roundToTotal(
      here.map((one) => one.scrap),
      digits,
      losses.scrap,
    );
    const normal = roundToTotal(part(losses.step.normal), digits, losses.normal);
    const abnormal = roundToTotal(part(losses.step.abnormal), digits, losses.abnormal);
    return here.flatMap(({ id }, at): LostLine[] => {
      const day = lostAt.get(id)?.lostOn ?? "";
      if (day < terms.from) return [];
      const parts = {
        ...{ reclaimed: reclaimed[at] ?? 0, scrap: scrap[at] ?? 0 },
        ...{ normal: normal[at] ?? 0, abnormal: abnormal[at] ?? 0 },
      };
      const cost = parts.reclaimed + parts.scrap + parts.normal + parts.abnormal;
      return [{ piece: id, step: titleOf(book, losses.step.id), day, why: reasonOf(rows.get(id)), cost, ...parts }];
    });
  });
}

const netOf = ({ own, reclaimed, scrap }: PieceCost) => own - reclaimed - scrap;
const reasonOf = (row: Row | undefined) => (typeof row?.cells.reason === "string" ? row.cells.reason : "");
