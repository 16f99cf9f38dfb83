// A kiln drawn to scale from its numbers: cut through from the front, and from above.
import "./kiln-picture.css";
import type { ComponentChildren } from "preact";
import type { Session } from "../../app/edition/session";
import { type KilnDrawing, kilnDrawing } from "../../app/plan/kiln-drawing";

/** The drawing of a kiln with its words beneath; the words alone where it can't be drawn yet. */
export function KilnPicture({ session, row }: { readonly session: Session; readonly row: string }) {
  const drawing = kilnDrawing(session, row);
  if (typeof drawing === "string") return <p class="quiet">{drawing}</p>;
  return (
    <figure class="kiln-picture" data-testid="kiln-picture">
      <Drawing kiln={drawing} />
      <figcaption>{drawing.words}</figcaption>
    </figure>
  );
}

/** Both views one over the other in one scale; a centimetre is a unit. */
function Drawing({ kiln }: { readonly kiln: KilnDrawing }) {
  const { width, depth, height, layers, levels, isRound, measures, words } = kiln;
  const wall = layers.reduce((sum, { cm }) => sum + cm, 0);
  const letter = (width + 2 * wall) / 15;
  const between = 2.4 * letter;
  const shelves = Array.from({ length: levels }, (_, level) => height - (level * height) / levels);
  return (
    <svg
      viewBox={`${-wall - between} ${-wall} ${width + 2 * wall + between} ${height + depth + 4 * wall + between}`}
      role="img"
      aria-label={words}
      style={{ fontSize: `${letter}px` }}
    >
      <defs>
        <pattern id="kiln-brick" width={letter} height={letter} patternUnits="userSpaceOnUse">
          <path d={`M0 ${letter} L${letter} 0`} />
        </pattern>
        <pattern id="kiln-backing" width={letter / 2} height={letter / 2} patternUnits="userSpaceOnUse">
          <circle cx={letter / 4} cy={letter / 4} r={letter / 12} />
        </pattern>
      </defs>
      <Walls layers={layers} width={width} deep={height} />
      {shelves.map((y) => (
        <path key={y} class="shelf" d={`M${width * 0.07} ${y} H${width * 0.93}`} />
      ))}
      <text x={width / 2} y={height / 2}>
        {measures.width}
      </text>
      <Upright x={-wall - letter} y={height / 2}>
        {measures.height}
      </Upright>
      <text x={width / 2} y={height + wall + 1.5 * letter}>
        {measures.wall}
      </text>
      <g transform={`translate(0 ${height + 2 * wall + between})`}>
        <Walls layers={layers} width={width} deep={depth} isRound={isRound} />
        <text x={width / 2} y={depth / 2}>
          from above
        </text>
        {isRound ? null : (
          <Upright x={-wall - letter} y={depth / 2}>
            {measures.depth}
          </Upright>
        )}
      </g>
    </svg>
  );
}

interface WallsProps {
  readonly layers: KilnDrawing["layers"];
  readonly width: number;
  readonly deep: number;
  readonly isRound?: boolean;
}

/** The layers of the wall around the chamber, the outermost first, so that each covers what lies behind it. */
function Walls({ layers, width, deep, isRound = false }: WallsProps) {
  const faces = layers.map(({ column }, at) => ({
    className: `layer ${column}`,
    out: layers.slice(0, at + 1).reduce((sum, { cm }) => sum + cm, 0),
  }));
  return (
    <>
      {[...faces.reverse(), { className: "chamber", out: 0 }].map(({ className, out }) =>
        isRound ? (
          <circle key={className} class={className} cx={width / 2} cy={width / 2} r={width / 2 + out} />
        ) : (
          <rect key={className} class={className} x={-out} y={-out} width={width + 2 * out} height={deep + 2 * out} />
        ),
      )}
    </>
  );
}

interface UprightProps {
  readonly x: number;
  readonly y: number;
  readonly children: ComponentChildren;
}

const Upright = ({ x, y, children }: UprightProps) => (
  <text transform={`translate(${x} ${y}) rotate(-90)`}>{children}</text>
);
