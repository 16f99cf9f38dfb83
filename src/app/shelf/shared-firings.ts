// Firings that editions kept here share: looked for, asked about, and held against each other.
import { signal } from "@preact/signals";
import { counted, listed } from "../../core/counted";
import type { Row, SheetKey } from "../../core/document/workbook";
import {
  countTheirs,
  fireAlone,
  heldByOthers,
  type InKiln,
  inSameLoad,
  isAlike,
  isCopyOf,
  KILN_MEASURES,
  type LoadSide,
  mayBeSame,
  measureOf,
  partOf,
  sidesOf,
  typedIn,
} from "../../core/record/shared-load";
import { shownAmount } from "../edition/display";
import { showNumber } from "../edition/format";
import { perSession } from "../edition/per-session";
import type { Session } from "../edition/session";
import type { Studio } from "../keeping/studio";
import { othersKept, readEach } from "../keeping/studio-editions";

/** A firing of the open edition that another edition's may be, or is. */
export interface SharedFiring {
  readonly side: LoadSide;
  /** Loads it may be: each reported by one edition or more. */
  readonly asked: readonly (readonly LoadSide[])[];
  /** Firings of other editions that are this load. */
  readonly tied: readonly LoadSide[];
  /** What each edition, and other ware, bears by its own document; they are to make 1. */
  readonly parts: readonly { readonly title: string; readonly part: number }[];
  /** What does not fit, in the maker's words; none where all is well. */
  readonly says: readonly string[];
  /** Whether counting theirs anew would mend something. */
  readonly isStale: boolean;
}

/** Firings of all other kept editions; undefined until they have been looked at. */
const othersOf = perSession(() => signal<readonly LoadSide[] | undefined>(undefined));

/** Looks at every kept edition; what can't be read is left out, and reported where it is opened. */
export async function readShared(studio: Studio, session: Session): Promise<void> {
  await studio.refreshList();
  const book = session.book.value;
  const found: LoadSide[] = [];
  for await (const { id, read } of readEach(studio, othersKept(studio))) {
    if (!read.ok) continue;
    const other = read.value.book;
    // A trial never mixes with the studio's own work, and a copy of an edition was not fired again.
    const isApart = other.meta.invented && !book.meta.invented;
    if (!isApart && !isCopyOf(other, book)) found.push(...sidesOf(id, other, typedIn(other)));
  }
  othersOf(session).value = found;
}

/** Firings of the open edition that others share or may share; undefined until the others have been looked at. */
export function sharedFirings(studio: Studio, session: Session): readonly SharedFiring[] | undefined {
  const others = othersOf(session).value;
  if (!others) return undefined;
  const at = (sheet: SheetKey, row: Row, column: string) => {
    const value = session.value({ sheet, row: row.id, column });
    return typeof value === "number" ? value : undefined;
  };
  const sides = sidesOf(studio.editionId.value ?? "", session.book.value, at);
  return sides.flatMap((side): SharedFiring[] => {
    const loads = [...new Set(mayBeSame(side, others).map(({ load }) => load))];
    const asked = loads.map((load) => others.filter((one) => one.load === load));
    const tied = inSameLoad(side, others);
    const isGone = tied.length === 0 && side.with.count + side.with.kg + side.with.cm2 > 0;
    return asked.length === 0 && tied.length === 0 && !isGone ? [] : [checked(session, side, asked, tied)];
  });
}

function checked(
  session: Session,
  side: LoadSide,
  asked: SharedFiring["asked"],
  tied: readonly LoadSide[],
): SharedFiring {
  const all = [side, ...tied];
  const by = measureOf(side.basis);
  const whole = side.own[by] + side.other[by] + side.with[by];
  const wares = whole > 0 ? side.other[by] / whole : 0;
  const parts = all.map((one) => ({ title: one.title, part: partOf(one) }));
  const theirs = heldByOthers(tied);
  const isStale =
    tied.length > 0 && (side.shared === "" || KILN_MEASURES.some((key) => !isAlike(side.with[key], theirs[key])));
  return {
    ...{ side, asked, tied, isStale },
    parts: wares > 0 ? [...parts, { title: "other ware", part: wares }] : parts,
    says: tied.length === 0 ? saysAlone(session, side) : saysOf(session, side, tied),
  };
}

function saysAlone(session: Session, side: LoadSide): readonly string[] {
  if (side.with.count + side.with.kg + side.with.cm2 === 0) return [];
  return [`No edition kept here tells of this load; ${heldText(session, side.with)} of others are counted in it.`];
}

/** What the editions of one load tell otherwise than each other. */
function saysOf(session: Session, side: LoadSide, tied: readonly LoadSide[]): readonly string[] {
  const all = [side, ...tied];
  const here = (one: LoadSide) => (one === side ? "here" : `in ${one.title}`);
  const counts = all.flatMap((one) => {
    const held = heldByOthers(all.filter((other) => other !== one));
    if (KILN_MEASURES.every((key) => isAlike(one.with[key], held[key]))) return [];
    const names = all.filter((other) => other !== one).map((other) => (other === side ? "this edition" : other.title));
    const counting = one === side ? "Counted here" : `${one.title} counts`;
    return [
      `${counting}: ${heldText(session, one.with)} of ${listed(names)}. In it: ${heldText(session, held)}.${one === side ? "" : ` Count it there: open ${one.title}.`}`,
    ];
  });
  const differ = <T>(of: (one: LoadSide) => T, isSame: (a: T, b: T) => boolean, say: (value: T) => string) =>
    tied
      .filter((one) => !isSame(of(side), of(one)))
      .map((one) => [one, `${say(of(side))} here, ${say(of(one))} ${here(one)}`] as const);
  const ware = (one: LoadSide) => one.other;
  const same = (a: InKiln, b: InKiln) => KILN_MEASURES.every((key) => isAlike(a[key], b[key]));
  const kwh = (value: number | undefined) => (value === undefined ? "not read" : shownAmount(session, value, "kWh", 1));
  return [
    ...counts,
    ...differ(ware, same, (value) => heldText(session, value)).map(([, text]) => `Other ware: ${text}.`),
    ...differ(
      (one) => one.basis,
      Object.is,
      (basis) => `by ${basis}`,
    ).map(([, text]) => `Shared ${text}.`),
    ...differ((one) => one.kwh, isSameKwh, kwh).map(([, text]) => `Meter: ${text}.`),
    ...differ(
      (one) => one.programme,
      Object.is,
      (name) => name || "none",
    ).map(([, text]) => `Programme: ${text}.`),
    ...ratesApart(session, side, tied),
  ];
}

const RATES = [
  ["wage", "Wage", "¤/h"],
  ["tariff", "Electricity", "¤/kWh"],
  ["loading", "Loading", "min"],
  ["wear", "Wear of the kiln", "¤"],
] as const;

/** What the editions of one load calculate it with otherwise than this one: each bears its part of another cost. */
function ratesApart(session: Session, side: LoadSide, tied: readonly LoadSide[]): readonly string[] {
  const { currency } = side.rates;
  return tied.flatMap(({ title, rates }) => {
    if (rates.currency !== currency) return [`Money: ${currency} here, ${rates.currency} in ${title}.`];
    return RATES.flatMap(([key, name, unit]) => {
      const [here, there] = [side.rates[key], rates[key]];
      if (here === undefined || there === undefined || isAlike(here, there)) return [];
      const said = (value: number) => shownAmount(session, value, unit, 4, 0);
      return [`${name}: ${said(here)} here, ${said(there)} in ${title}; each edition bears its part at its own.`];
    });
  });
}

const isSameKwh = (a: number | undefined, b: number | undefined) =>
  a === undefined || b === undefined ? a === b : isAlike(a, b);

/** What is in a kiln in words: “12 pieces, 3.6 kg, 960 cm²”. */
export function heldText(session: Session, { count, kg, cm2 }: InKiln): string {
  if (count + kg + cm2 === 0) return "nothing";
  return [
    count > 0 ? counted(count, "piece") : "",
    kg > 0 ? shownAmount(session, kg, "kg", 2) : "",
    cm2 > 0 ? shownAmount(session, cm2, "cm²", 0) : "",
  ]
    .filter(Boolean)
    .join(", ");
}

/** A part as a percentage. */
export const partText = (session: Session, part: number) =>
  `${showNumber(part * 100, 0, 1, session.formats.locale)}\u00a0%`;

/** Says that a firing is the load that other editions tell of, and counts what they hold: one step of the history. */
export function takeAsSame(session: Session, { side }: SharedFiring, load: readonly LoadSide[]): void {
  const change = countTheirs(session.book.value, side, load);
  if (change.operations.length === 0) session.notifyDone("Nothing has changed: theirs are counted already.");
  else if (session.commit(change)) session.notifyDone(`${change.label}; what they hold is counted here.`);
}

/** Says that no other edition is in a firing: one step of the history. */
export function takeAsAlone(session: Session, { side }: SharedFiring): void {
  const change = fireAlone(session.book.value, side);
  if (session.commit(change)) session.notifyDone(`${change.label}.`);
}
