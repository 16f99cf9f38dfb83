import { describe, expect, it } from "vitest";
import type { LoadKiln, WaitingPiece } from "../../../src/ceramics/loads/kiln-room";
import { fitsKiln, fullLoad, roomFor, typicalPiece, weighLoad } from "../../../src/ceramics/loads/load";

const piece = (id: string, footCm2: number, heightCm: number): WaitingPiece => ({
  id,
  footCm2,
  heightCm,
  kg: 2,
  firing: "glaze",
});
const KILN: LoadKiln = { id: "Kiln", capacity: 12, shelfCm2: 600, levels: 3, gapCm: 3, heightCm: 50 };

describe("levels of a kiln", () => {
  it("puts tall pieces together: 20+3 and 10+3 and 8+3 make 47 of 50 cm", () => {
    // One level is 600 ÷ 3 = 200 cm²: two pieces of 100.
    const load = [10, 20, 8, 20, 10, 8].map((height, at) => piece(String(at), 100, height));
    const state = weighLoad(load, KILN);
    expect(state.levels.map((level) => [level.tallestCm, level.pieces.length])).toEqual([
      [20, 2],
      [10, 2],
      [8, 2],
    ]);
    expect(state).toMatchObject({ heightCm: 47, footCm2: 600, kg: 12, pieces: 6, problems: [] });
  });

  it("refuses what stands too high in all: 22+3, 14+3 and 8+3 make 53", () => {
    const load = [22, 22, 14, 14, 8, 8].map((height, at) => piece(String(at), 100, height));
    expect(fitsKiln(load, KILN)).toBe(false);
    expect(weighLoad(load, KILN).problems.map(({ code }) => code)).toEqual(["load.levels"]);
    expect(weighLoad(load, KILN).heightCm).toBe(53);
  });

  it("needs a way that is not first fit: feet of 60, 60, 80, 100 and 100 on two levels of 200", () => {
    // First fit by height puts 60+60 together and leaves 80+100+100; 100+100 with 60+60+80 goes.
    const load = [60, 60, 80, 100, 100].map((foot, at) => piece(String(at), foot, 10));
    expect(fitsKiln(load, { ...KILN, levels: 2, shelfCm2: 400, heightCm: 26 })).toBe(true);
    const taller = [60, 60, 80, 100, 100].map((foot, at) => piece(String(at), foot, 14 - at));
    expect(fitsKiln(taller, { ...KILN, levels: 2, shelfCm2: 400, heightCm: 32 })).toBe(true);
  });

  it("has no more levels than there are shelves: feet of 150, 120 and 90 go on three of 200, not on two", () => {
    const load = [150, 120, 90].map((foot, at) => piece(String(at), foot, 5));
    expect(fitsKiln(load, KILN)).toBe(true);
    expect(fitsKiln(load, { ...KILN, levels: 2, shelfCm2: 400 })).toBe(false);
  });

  it("names each limit that is broken, with the numbers", () => {
    const messages = (load: readonly WaitingPiece[]) => weighLoad(load, KILN).problems.map(({ message }) => message);
    expect(messages([piece("7", 100, 48)])).toEqual([
      "Piece 7 in Kiln: found “a height of 48 cm”, but it takes pieces up to 47 cm tall.",
    ]);
    expect(messages([piece("7", 210, 10)])).toEqual([
      "Piece 7 in Kiln: found “a foot of 210 cm²”, but it takes up to 200 cm² on a shelf.",
    ]);
    expect(messages(Array.from({ length: 13 }, (_, at) => piece(String(at), 1, 1)))).toEqual([
      "Kiln: found “13 pieces”, but it takes 12 pieces.",
    ]);
    expect(messages(Array.from({ length: 7 }, (_, at) => piece(String(at), 100, 1)))).toEqual([
      "Kiln: found “700 cm² of ware”, but it takes 600 cm² on all its shelves.",
    ]);
  });

  it("is one shelf where levels are not known, and without limit where nothing is", () => {
    const plain: LoadKiln = { id: "Plain", capacity: 40, shelfCm2: 1000, heightCm: 30, gapCm: 5 };
    expect(fitsKiln([piece("a", 500, 30), piece("b", 500, 30)], plain)).toBe(true);
    expect(fitsKiln([piece("a", 500, 30.5)], plain)).toBe(false);
    expect(fitsKiln([piece("a", 9999, 999)], { id: "Any", capacity: 1 })).toBe(true);
  });

  it("says how many pieces of a kind it takes", () => {
    // 200 ÷ 60 = 3 on a level; (13 + 3) goes 3 times into 50: 9. With 15 + 3 twice: 6. Count limits at 12.
    expect(roomFor(piece("a", 60, 13), KILN)).toBe(9);
    expect(roomFor(piece("a", 60, 15), KILN)).toBe(6);
    expect(roomFor(piece("a", 20, 5), KILN)).toBe(12);
    expect(roomFor(piece("a", 20, 60), KILN)).toBe(0);
  });
});

describe("a full load of the like of some pieces", () => {
  const LOW = { id: "K", capacity: 30, shelfCm2: 1800, levels: 3, gapCm: 3, heightCm: 75 };
  const sized = (heightCm: number, footCm2: number, kg: number) => ({ id: "", heightCm, footCm2, kg, firing: "" });

  it("is counted with one as tall as the tallest, wherever it stands, and the mean foot and weight", () => {
    expect(typicalPiece([sized(10, 100, 1), sized(40, 300, 3), sized(10, 200, 2)])).toMatchObject({
      ...{ heightCm: 40, footCm2: 200, kg: 2 },
    });
    // One level of 600 cm² under 40 cm and 3 cm of shelf: three of 200.
    expect(fullLoad([sized(10, 100, 1), sized(40, 300, 3)], LOW)).toBe(3);
  });

  it("is never fewer than are in it already", () => {
    const low = Array.from({ length: 8 }, () => sized(8, 130, 1));
    expect(fullLoad([sized(40, 130, 1), ...low], LOW)).toBe(9);
  });
});
