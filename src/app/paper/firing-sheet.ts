// The firing sheet: one firing, its programme and its load, and lines for what is read while it runs.

import { counted } from "../../core/counted";
import { rowLabel } from "../../core/document/access";
import type { Row } from "../../core/document/workbook";
import { ok, type Result } from "../../core/problem";
import type { Caution } from "../../core/sheets/caution-texts";
import { isFiringStep } from "../../core/sheets/step-kinds";
import { showNumber } from "../edition/format";
import { dayText } from "../edition/written-days";
import { loadCautions } from "./firing-cautions";
import { othersIn } from "./others-in-it";
import { type RampLine, rampLines } from "./programme";
import { type Fact, factsOf, numberIn, type PaperSource, shownIn, stillComputing, textIn, withUnit } from "./source";

/** A piece in a load. */
export interface LoadPiece {
  readonly row: string;
  readonly label: string;
  readonly tier: string;
  /** The firing step it is in the load for. */
  readonly step: string;
  readonly kg: number;
  readonly footCm2: number;
  readonly heightCm: number;
  /** Its weight and shelf area as the maker reads them; blank where neither is known. */
  readonly size: string;
}

export interface FiringSheet {
  readonly row: string;
  readonly name: string;
  readonly facts: readonly Fact[];
  readonly programme: string;
  readonly ramps: readonly RampLine[];
  /** Pieces really in the load, step by step of the route, each in piece order. */
  readonly load: readonly LoadPiece[];
  readonly kg: number;
  readonly footCm2: number;
  /** Both as the maker reads them. */
  readonly size: string;
  /** What does not fit, in the words of the Firings sheet. */
  readonly warning: string;
  readonly cautions: readonly Caution[];
  /** Lines to fill in, with what is known already. */
  readonly readings: readonly Fact[];
  readonly note: string;
}

/** The sheets of some firings, or of all, in the order of the Firings sheet. */
export function firingSheets(source: PaperSource, chosen?: ReadonlySet<string>): Result<readonly FiringSheet[]> {
  const loads = loadsOf(source);
  if (!loads.ok) return loads;
  const rows = source.book.sheets.firings.rows.filter((row) => chosen?.has(row.id) !== false);
  return ok(rows.map((row) => firingSheet(source, row, loads.value.get(rowLabel("firings", row)) ?? [])));
}

/** Every load by the name of its firing; one walk over the pieces, however many firings there are. */
function loadsOf(source: PaperSource): Result<ReadonlyMap<string, readonly LoadPiece[]>> {
  const { book, read } = source;
  const loads = new Map<string, LoadPiece[]>();
  for (const step of book.sheets.route.rows.filter(isFiringStep))
    for (const row of book.sheets.pieces.rows) {
      // A piece lost before the firing is named in it and is not in its load.
      const firing = read("pieces", row.id, `${step.id}.load`);
      if (firing === undefined) return stillComputing(`Piece ${rowLabel("pieces", row)}`);
      if (typeof firing !== "string" || firing === "") continue;
      const kg = numberIn(source, "pieces", row.id, "kg") ?? 0;
      const footCm2 = numberIn(source, "pieces", row.id, "foot") ?? 0;
      const piece: LoadPiece = {
        ...{ row: row.id, label: rowLabel("pieces", row), tier: textIn(row, "tier"), step: step.id },
        ...{ kg, footCm2, size: sizeText(source, kg, footCm2) },
        heightCm: numberIn(source, "pieces", row.id, "height") ?? 0,
      };
      const held = loads.get(firing);
      if (held) held.push(piece);
      else loads.set(firing, [piece]);
    }
  return ok(loads);
}

function firingSheet(source: PaperSource, row: Row, load: readonly LoadPiece[]): FiringSheet {
  const programme = textIn(row, "programme");
  const sum = (of: (piece: LoadPiece) => number) => load.reduce((total, piece) => total + of(piece), 0);
  const [kg, footCm2] = [sum((piece) => piece.kg), sum((piece) => piece.footCm2)];
  return {
    ...{ row: row.id, name: rowLabel("firings", row), programme, load, kg, footCm2 },
    size: sizeText(source, kg, footCm2),
    facts: firingFacts(source, row, { pieces: load.length, kg, footCm2, heightCm: tallest(load) }),
    ramps: rampLines(source, programme),
    warning: shownIn(source, "firings", row.id, "warning"),
    cautions: loadCautions(source, new Set(load.map(({ step }) => step)), programme),
    readings: readings(source, row),
    note: textIn(row, "note"),
  };
}

function sizeText(source: PaperSource, kg: number, footCm2: number): string {
  const texts = [kg > 0 ? withUnit(source, kg, "kg", 2) : "", footCm2 > 0 ? withUnit(source, footCm2, "cm²", 0) : ""];
  return texts.filter(Boolean).join(", ");
}

interface LoadSum {
  readonly pieces: number;
  readonly kg: number;
  readonly footCm2: number;
  /** The tallest piece. */
  readonly heightCm: number;
}

const tallest = (load: readonly LoadPiece[]) => load.reduce((most, { heightCm }) => Math.max(most, heightCm), 0);

function firingFacts(source: PaperSource, row: Row, load: LoadSum): readonly Fact[] {
  const { book, read, locale } = source;
  const kiln = book.sheets.kilns.rows.find((one) => one.cells.id === row.cells.kiln);
  const ofKiln = (column: string) => (kiln ? numberIn(source, "kilns", kiln.id, column) : undefined);
  const [kw, shelf, height] = [ofKiln("kw"), ofKiln("shelf"), ofKiln("height")];
  const room = numberIn(source, "firings", row.id, "full");
  const levels = ofKiln("levels");
  const of = (amount: string, limit: string | undefined) => (limit ? `${amount} of ${limit}` : amount);
  const others = othersIn(source, row);
  const all = (own: number, column: "count" | "kg" | "cm2") => others.reduce((sum, one) => sum + one[column], own);
  const tallestIn = others.reduce((most, { height }) => Math.max(most, height), load.heightCm);
  const part = numberIn(source, "firings", row.id, "ours");
  const build = [
    textIn(row, "kiln"),
    kw && withUnit(source, kw, "kW"),
    height && `${withUnit(source, height, "cm")} high inside`,
    levels && `${counted(levels, "level")} of ware`,
  ];
  return factsOf([
    ["Kiln", build.filter(Boolean).join(", ")],
    ["Date", dayText(read("firings", row.id, "date"), locale)],
    ["Start", textIn(row, "start")],
    ["Ware", textIn(row, "ware") || "fired"],
    ["Pieces", of(String(all(load.pieces, "count")), room === undefined ? undefined : String(room))],
    ["Also in it", others.map(({ words }) => words).join("; ")],
    ["Weight", withUnit(source, all(load.kg, "kg"), "kg", 2)],
    [
      "Shelf area",
      of(withUnit(source, all(load.footCm2, "cm2"), "cm²", 0), shelf ? withUnit(source, shelf, "cm²", 0) : undefined),
    ],
    ["Tallest piece", tallestIn > 0 ? withUnit(source, tallestIn, "cm") : undefined],
    ["Shared by", textIn(row, "basis")],
    ["Borne here", others.length > 0 && part ? `${showNumber(part * 100, 0, 0, source.locale)}\u00a0%` : undefined],
    ["Expected", expectedText(source, row)],
  ]);
}

/** Energy and hours it will take, while nothing has been read off the meter. */
function expectedText(source: PaperSource, row: Row): string | undefined {
  const number = (column: string) => numberIn(source, "firings", row.id, column);
  if (number("meter") !== undefined) return undefined;
  const kiln = source.book.sheets.kilns.rows.find((one) => one.cells.id === row.cells.kiln);
  const usual = kiln && numberIn(source, "kilns", kiln.id, "hours");
  const [model, rule, hours] = [number("model"), number("rule"), number("hours") ?? usual];
  const energy = model ?? rule;
  if (energy === undefined) return undefined;
  const way = model === undefined ? "rated power × hours × duty" : "the heat model";
  const time = model === undefined && hours !== undefined ? `, ${withUnit(source, hours, "h")}` : "";
  return `${withUnit(source, energy, "kWh")}${time} by ${way}`;
}

const READINGS = [
  ["meter_before", "Meter before, kWh"],
  ["meter_after", "Meter after, kWh"],
  ["meter", "Used, kWh"],
] as const;

function readings(source: PaperSource, row: Row): readonly Fact[] {
  const metered = READINGS.map(([column, label]) => {
    const value = numberIn(source, "firings", row.id, column);
    return { label, text: value === undefined ? "" : showNumber(value, 0, 6, source.locale) };
  });
  const blank = ["Switched on at", "Off at", "Cone seen", "Opened at, °C or °F", "Watched by"];
  return [...metered, ...blank.map((label) => ({ label, text: "" }))];
}
