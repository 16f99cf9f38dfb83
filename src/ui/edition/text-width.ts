// How wide a text stands on the sheet, in px, letter by letter: each is measured once.
const widths = new Map<string, number>();
const rulers: (CanvasRenderingContext2D | null)[] = [];

/** The fonts of a sheet: cells, the names of rows and titles, and units. */
export type SheetFont = "13px" | "600 13px" | "12px";

/** A letter where nothing can be measured. */
const GUESS = 8;

function widthOfLetter(letter: string, font: SheetFont): number {
  const key = font + letter;
  let width = widths.get(key);
  if (width === undefined) {
    if (rulers.length === 0) rulers.push(globalThis.document?.createElement("canvas").getContext("2d") ?? null);
    const [ruler] = rulers;
    if (ruler) ruler.font = `${font} ${getComputedStyle(document.body).fontFamily}`;
    width = ruler?.measureText(letter).width ?? GUESS;
    widths.set(key, width);
  }
  return width;
}

/** The width of a text on one line; kerning, which only brings letters nearer, is left out. */
export function textWidth(text: string, font: SheetFont): number {
  let width = 0;
  for (const letter of text) width += widthOfLetter(letter, font);
  return width;
}

/** The widest word of a text. */
export function widestWord(text: string, font: SheetFont): number {
  return text.split(/\s+/).reduce((most, word) => Math.max(most, textWidth(word, font)), 0);
}

/** How many lines a text takes in a width; a word that is wider is broken. */
export function lineCount(text: string, width: number, font: SheetFont): number {
  const room = Math.max(1, width);
  const space = widthOfLetter(" ", font);
  let lines = 0;
  for (const paragraph of text.split("\n")) {
    lines += 1;
    let used = 0;
    for (const word of paragraph.split(" ")) {
      const wide = textWidth(word, font);
      const together = used === 0 ? wide : used + space + wide;
      if (together <= room) {
        used = together;
        continue;
      }
      if (used > 0) lines += 1;
      lines += Math.ceil(wide / room) - 1;
      used = wide > room ? wide % room : wide;
    }
  }
  return lines;
}
