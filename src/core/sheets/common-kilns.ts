// Kilns as studios have them, by size and wall, to start from: round figures of common practice, no source, and no one
// maker's. They stand in for a studio's own until it has measured its kiln and read its plate.
import type { Raw } from "../document/workbook";

export interface CommonKiln {
  /** Size and wall, such as “About 60 litres, light fibre and brick wall”. */
  readonly title: string;
  /** Cells of the Kilns sheet by column. */
  readonly cells: Readonly<Record<string, Raw>>;
}

const kiln = (title: string, cells: CommonKiln["cells"]): CommonKiln => ({ title, cells });
const round = (width: number, height: number) => ({ shape: "round", width, height });
const square = (width: number, depth: number, height: number) => ({ shape: "rectangular", width, depth, height });
const wall = (brick: string, brick_mm: number, backing: string, backing_mm: number) => ({
  brick,
  brick_mm,
  backing,
  backing_mm,
});

/** From a test kiln to one that is loaded from a car; what each firing wears out and how many pieces fit are the maker's. */
export const COMMON_KILNS: readonly CommonKiln[] = [
  kiln("About 20 litres, light brick wall", {
    ...{ kw: 2.4, hours: 6, duty: 0.55, shelf: 1200, levels: 2, gap: 3, furniture: 2 },
    ...square(27, 27, 27),
    ...wall("brick-1260", 64, "board", 13),
  }),
  kiln("About 60 litres, light fibre and brick wall", {
    ...{ kw: 4.5, hours: 8, duty: 0.6, shelf: 3300, levels: 3, gap: 3, furniture: 7 },
    ...round(42, 43),
    ...wall("brick-1260", 64, "fibre", 25),
  }),
  kiln("About 100 litres, light brick wall", {
    ...{ kw: 7, hours: 9, duty: 0.6, shelf: 3900, levels: 3, gap: 3, furniture: 11 },
    ...round(46, 60),
    ...wall("brick-1260", 64, "board", 13),
  }),
  kiln("About 150 litres, brick wall with fibre behind it", {
    ...{ kw: 9, hours: 10, duty: 0.6, shelf: 8000, levels: 4, gap: 3, furniture: 18 },
    ...round(56, 61),
    ...wall("brick-1260", 76, "fibre", 25),
  }),
  kiln("About 200 litres, thick brick wall, loaded from the front", {
    ...{ kw: 13, hours: 11, duty: 0.6, shelf: 11_250, levels: 5, gap: 3.5, furniture: 28 },
    ...square(50, 55, 73),
    ...wall("brick-1400", 114, "board", 25),
  }),
  kiln("About 300 litres, thick brick wall with fibre behind it, loaded from the front", {
    ...{ kw: 18, hours: 12, duty: 0.6, shelf: 16_500, levels: 5, gap: 3.5, furniture: 42 },
    ...square(60, 65, 77),
    ...wall("brick-1400", 114, "fibre", 50),
  }),
  kiln("About 500 litres, all fibre wall, loaded from a car", {
    ...{ kw: 26, hours: 12, duty: 0.6, shelf: 27_300, levels: 6, gap: 4, furniture: 75 },
    ...square(70, 75, 95),
    ...wall("fibre", 125, "board", 25),
  }),
];

/** What the note of a kiln says that begins with one of them. */
export const commonKilnNote = ({ title }: CommonKiln) =>
  `${title}: typical figures, common practice, no source. Put your own in their place.`;
