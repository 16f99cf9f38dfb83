// Areas of turned and cast forms, cm to cm². Formulas: frustum and zone as in Wolfram MathWorld ("Conical Frustum", "Zone").
import { type Problem, problem, type Result } from "../core/problem";
import { checked, finite, fromZero } from "./checks";

/** Outside area in cm² of a band between two diameters (a cone frustum without its ends); height is measured upright, along the axis. */
export function bandArea(firstDiameterCm: number, secondDiameterCm: number, heightCm: number): Result<number> {
  return checked(
    [
      fromZero("first diameter", firstDiameterCm, "cm"),
      fromZero("second diameter", secondDiameterCm, "cm"),
      fromZero("height", heightCm, "cm"),
    ],
    () => frustum(firstDiameterCm, secondDiameterCm, heightCm),
    "area of the band",
  );
}

/** Area in cm² of a flat disc. */
export function discArea(diameterCm: number): Result<number> {
  return checked(
    [fromZero("diameter", diameterCm, "cm")],
    () => (Math.PI * diameterCm * diameterCm) / 4,
    "area of the disc",
  );
}

/** Area in cm² of a slice of a sphere's skin between two level cuts, or of its cap: π × diameter × height; the height can't exceed the diameter. */
export function zoneArea(diameterCm: number, heightCm: number): Result<number> {
  const tooTall = heightCm > diameterCm ? tallerThanSphere(diameterCm, heightCm) : undefined;
  return checked(
    [fromZero("diameter", diameterCm, "cm"), fromZero("height", heightCm, "cm") ?? tooTall],
    () => Math.PI * diameterCm * heightCm,
    "area of the zone",
  );
}

/** Area in cm² swept by a turned profile, as bands between its points; `heightsCm` are distances from one level, in the order of the outline, and may come down again inside. */
export function profileArea(heightsCm: readonly number[], diametersCm: readonly number[]): Result<number> {
  const entries = [
    ...heightsCm.map((height, at) => finite(`height ${at + 1} of the list`, height, "cm")),
    ...diametersCm.map((diameter, at) => fromZero(`diameter ${at + 1} of the list`, diameter, "cm")),
  ];
  return checked(
    [pointsProblem(heightsCm.length, diametersCm.length), ...entries],
    () => {
      let area = 0;
      for (let at = 1; at < heightsCm.length; at += 1) {
        const rise = (heightsCm[at] ?? 0) - (heightsCm[at - 1] ?? 0);
        area += frustum(diametersCm[at - 1] ?? 0, diametersCm[at] ?? 0, rise);
      }
      return area;
    },
    "area of the profile",
  );
}

function frustum(firstDiameterCm: number, secondDiameterCm: number, heightCm: number): number {
  const slantCm = Math.hypot(heightCm, (firstDiameterCm - secondDiameterCm) / 2);
  return (Math.PI * (firstDiameterCm + secondDiameterCm) * slantCm) / 2;
}

function tallerThanSphere(diameterCm: number, heightCm: number): Problem {
  return problem({
    code: "number.range",
    where: "height",
    found: heightCm,
    allowed: `at most the diameter, ${diameterCm} cm`,
    fix: "A slice of a sphere can't be taller than the sphere.",
  });
}

function pointsProblem(heights: number, diameters: number): Problem | undefined {
  if (heights === diameters && heights >= 2) return undefined;
  return problem({
    code: "list.length",
    where: "heights and diameters",
    found: `${heights} heights and ${diameters} diameters`,
    allowed: "two or more points, each with a height and a diameter",
  });
}
