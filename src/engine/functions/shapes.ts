import { bandArea, discArea, profileArea, zoneArea } from "../../ceramics/shapes";
import { type FunctionDeclaration, numberList, numbers } from "./declare";

const diameter = (name: string, what: string) => ({ name, what, type: "number", unit: "cm", min: 0 }) as const;

export const SHAPE_FUNCTIONS: readonly FunctionDeclaration[] = [
  {
    name: "BAND_AREA",
    family: "Shapes",
    summary: "Area of a band round a piece: the side of a cylinder or cone.",
    parameters: [
      diameter("d1", "diameter at one edge"),
      diameter("d2", "diameter at the other edge"),
      { name: "height", what: "height of the band, measured upright", type: "number", unit: "cm", min: 0 },
    ],
    unit: "cm²",
    examples: [{ formula: "BAND_AREA(32,20,8)", gives: 816.814089933346, within: 1e-12 }],
    source: "lateral area of a frustum, π(R + r)·slant; radii 16 and 10, slant 10 give 260π: esaral.com",
    run: numbers(bandArea),
  },
  {
    name: "DISC_AREA",
    family: "Shapes",
    summary: "Area of a disc, such as a foot or a lid.",
    parameters: [diameter("d", "diameter")],
    unit: "cm²",
    examples: [{ formula: "DISC_AREA(20)", gives: 314.159265358979, within: 1e-12 }],
    source: "π d² ÷ 4",
    run: numbers(discArea),
  },
  {
    name: "ZONE_AREA",
    family: "Shapes",
    summary: "Area of a zone of a sphere, such as the shoulder of a round pot.",
    parameters: [
      diameter("d", "diameter of the sphere"),
      { name: "height", what: "height of the zone", type: "number", unit: "cm", min: 0 },
    ],
    unit: "cm²",
    examples: [{ formula: "ZONE_AREA(20,5)", gives: 314.159265358979, within: 1e-12 }],
    source: "2πRh: Wolfram MathWorld, “Zone”",
    run: numbers(zoneArea),
  },
  {
    name: "PROFILE_AREA",
    family: "Shapes",
    summary: "Outside area of a turned form from diameters measured at several heights.",
    parameters: [
      { name: "heights", what: "heights, from foot to rim", type: "range", unit: "cm" },
      { name: "diameters", what: "the diameter at each height", type: "range", unit: "cm" },
    ],
    unit: "cm²",
    examples: [{ formula: "PROFILE_AREA({0;8},{32;20})", gives: 816.814089933346, within: 1e-12 }],
    source: "sum of frusta between the points; one frustum of 260π: esaral.com",
    run: (heights, diameters) => {
      const up = numberList("heights", heights);
      const across = numberList("diameters", diameters);
      if (!up.ok) return up;
      return across.ok ? profileArea(up.value, across.value) : across;
    },
  },
];
