// What a drawing of a kiln is made from: chamber and wall in centimetres, and the same in words.

import { chamberLitres } from "../../ceramics/kiln/geometry";
import { listed } from "../../core/counted";
import { shownAmount, shownText, unitOf } from "../edition/display";
import type { Session } from "../edition/session";

interface DrawnLayer {
  /** The column that says what it is of: the hot face, or the backing behind it. */
  readonly column: "brick" | "backing";
  readonly cm: number;
}

export interface KilnDrawing {
  readonly isRound: boolean;
  /** Inside, in cm; the depth of a round kiln is its diameter. */
  readonly width: number;
  readonly depth: number;
  readonly height: number;
  /** From the chamber outwards. */
  readonly layers: readonly DrawnLayer[];
  readonly levels: number;
  /** The measures as they are written beside it, in the maker's units. */
  readonly measures: { readonly width: string; readonly depth: string; readonly height: string; readonly wall: string };
  /** All of it in words. */
  readonly words: string;
}

/** A kiln of the Kilns sheet as it is drawn; otherwise the words for what is missing. */
export function kilnDrawing(session: Session, row: string): KilnDrawing | string {
  const cell = (column: string) => ({ sheet: "kilns", row, column }) as const;
  const amount = (column: string) => {
    const value = session.value(cell(column));
    return typeof value === "number" && value > 0 ? value : undefined;
  };
  const said = (column: string) => `${shownText(session, cell(column))} ${unitOf(session, cell(column))}`.trim();
  const isRound = session.value(cell("shape")) === "round";
  const [width, height] = [amount("width"), amount("height")];
  const depth = isRound ? width : amount("depth");
  const missing = [
    width ? "" : isRound ? "diameter" : "width",
    depth || isRound ? "" : "depth",
    height ? "" : "chamber height",
  ].filter(Boolean);
  if (!width || !depth || !height) return `To be drawn it needs its ${listed(missing)} inside.`;
  const layers = (["brick", "backing"] as const).flatMap((column): DrawnLayer[] => {
    const mm = amount(`${column}_mm`);
    return mm ? [{ column, cm: mm / 10 }] : [];
  });
  const chamber = isRound
    ? ({ kind: "round", diameterMm: width * 10, heightMm: height * 10 } as const)
    : ({ kind: "rectangular", widthMm: width * 10, depthMm: depth * 10, heightMm: height * 10 } as const);
  const litres = shownAmount(session, chamberLitres(chamber), "L", 0);
  const inside = isRound
    ? `${said("width")} across and ${said("height")} high`
    : `${said("width")} wide, ${said("depth")} deep and ${said("height")} high`;
  const wall = layers.map(
    ({ column }) =>
      `${said(`${column}_mm`)} of ${said(column) || "something not named"}${column === "backing" ? " behind it" : ""}`,
  );
  return {
    ...{ isRound, width, depth, height, layers, levels: amount("levels") ?? 0 },
    measures: {
      ...{ width: said("width"), depth: said("depth"), height: said("height") },
      wall: layers.length > 0 ? `wall ${layers.map(({ column }) => said(`${column}_mm`)).join(" + ")}` : "no wall yet",
    },
    words: `Inside ${inside}: ${litres}. ${wall.length > 0 ? `Wall: ${wall.join(", ")}.` : "Its wall is not given yet."}`,
  };
}
