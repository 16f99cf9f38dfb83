// The room in a kiln, for formulas: the same calculation as the load builder's and the calendar's (src/ceramics/loads).
import { type LoadKiln, piecesOfSizes, type WaitingPiece } from "../../ceramics/loads/kiln-room";
import { fullLoad, loadWarning, pieceProblem, roomFor } from "../../ceramics/loads/load";
import { fail, ok, type Result } from "../../core/problem";
import { loadKilnFrom, ROOM_KEYS, recordsFrom } from "../kiln-records";
import type { Argument, FunctionDeclaration } from "./declare";

const kilnName = { name: "kiln", what: "a kiln of the Kilns sheet", type: "text" } as const;
const sizes = { name: "sizes", what: "the sizes of its pieces, as SIZES_BY gives them", type: "text" } as const;
const ROOM_COLUMNS = ROOM_KEYS.map((column) => ({ kind: "column", sheet: "kilns", column }) as const);
const SOURCE =
  "own definition: levels of ware as high as their tallest piece with a shelf and a gap, feet side by side on a level; tests/ceramics/loads/levels.test.ts";

const MOST_REMEMBERED = 500;

const kilnOf = (name: Argument | undefined, read: readonly Argument[]) =>
  loadKilnFrom(recordsFrom(ROOM_KEYS, read), String(name ?? ""));

const read = new Map<string, readonly WaitingPiece[]>();

/** Loads are remembered by their text: a change of the wage asks again for all of them. */
function piecesIn(text: string): readonly WaitingPiece[] {
  const known = read.get(text);
  if (known) return known;
  if (read.size >= MOST_REMEMBERED) read.clear();
  const pieces = piecesOfSizes(text);
  read.set(text, pieces);
  return pieces;
}

/** Asks something of a kiln and the pieces of a load. */
function ofLoad<T extends number | string>(
  ask: (pieces: readonly WaitingPiece[], kiln: LoadKiln) => T,
): NonNullable<FunctionDeclaration["run"]> {
  return (name, text, ...columns): Result<T> => {
    const kiln = kilnOf(name, columns);
    return kiln.ok ? ok(ask(piecesIn(String(text ?? "")), kiln.value)) : kiln;
  };
}

export const ROOM_FUNCTIONS: readonly FunctionDeclaration[] = [
  {
    name: "KILN_ROOM",
    family: "Cones and kilns",
    summary: "How many pieces of one size a kiln takes: by count, by shelf area, by height and by its levels.",
    parameters: [
      kilnName,
      { name: "foot", what: "shelf area of a piece", type: "number", unit: "cm²", min: 0 },
      { name: "height", what: "height of a piece", type: "number", unit: "cm", min: 0 },
    ],
    unit: "pieces",
    examples: [],
    source: SOURCE,
    reads: ROOM_COLUMNS,
    run: (name, foot, height, ...read) => {
      const kiln = kilnOf(name, read);
      if (!kiln.ok) return kiln;
      const piece = { id: "", footCm2: Number(foot), heightCm: Number(height), kg: 0, firing: "" };
      const refused = pieceProblem(piece, kiln.value);
      return refused ? fail(refused) : ok(roomFor(piece, kiln.value));
    },
  },
  {
    name: "LOAD_ROOM",
    family: "Cones and kilns",
    summary:
      "Pieces in a full load of the like of these: as tall as the tallest of them, on as much shelf as their mean.",
    parameters: [kilnName, sizes],
    unit: "pieces",
    examples: [],
    source: SOURCE,
    reads: ROOM_COLUMNS,
    run: ofLoad(fullLoad),
  },
  {
    name: "LOAD_WARNING",
    family: "Cones and kilns",
    summary: "Why the pieces of a load do not go into a kiln, briefly; nothing where they do.",
    parameters: [kilnName, sizes],
    unit: "",
    examples: [],
    source: SOURCE,
    reads: ROOM_COLUMNS,
    run: ofLoad(loadWarning),
  },
];
