// Orton's temperature equivalents of pyrometric cones, °C, for a 90° bend in air. The heating rate is that of the last
// 100 °C. Three series exist and are easily mixed up; they stay apart here.
//
// Sources: Orton "Temperature Equivalents for Orton Pyrometric Cones (°C) Cone Numbers 022-14", 2016 (rows 022–014 seen,
// another issue seen for 022–08); Orton's large-cone chart 012–12 at 60 and 150 °C/h; cone 13 at cebex.se.
// `seen`: the °C values were seen in a source. `converted`: the self-supporting °C values are the rounded conversion of the
// °F values that were seen. `memory`: not seen. The small-cone values of 07 and hotter are from memory except 06 and 04.

/** How well the self-supporting values of a row are known; `between` lie midway between two cones. */
type ConeEvidence = "seen" | "converted" | "memory" | "between";

/** One cone with its temperatures in °C by series and rate; undefined where the series has no such cone. */
export interface ConeRow {
  /** The number as printed on the cone; “06” and “6” are different cones. */
  readonly cone: string;
  readonly selfSupporting60: number;
  readonly selfSupporting150: number;
  readonly large60: number | undefined;
  readonly large150: number | undefined;
  readonly small300: number | undefined;
  readonly evidence: ConeEvidence;
}

/** The cones from the coolest, 022, to the hottest, 14. */
export const coneTable: readonly ConeRow[] = [
  row("022", 586, 590, undefined, undefined, 630, "seen"),
  row("021", 600, 617, undefined, undefined, 643, "seen"),
  row("020", 626, 638, undefined, undefined, 666, "seen"),
  row("019", 678, 695, 676, 693, 723, "seen"),
  row("018", 715, 734, 712, 732, 752, "seen"),
  row("017", 738, 763, 736, 761, 784, "seen"),
  row("016", 772, 796, 769, 794, 825, "seen"),
  row("015", 791, 818, 788, 816, 843, "seen"),
  row("014", 807, 838, 807, 836, 870, "seen"),
  row("013", 837, 861, 837, 859, 880, "seen"),
  row("012", 861, 882, 858, 880, 900, "seen"),
  row("011", 875, 894, 873, 892, 915, "seen"),
  row("010", 903, 915, 898, 913, 919, "seen"),
  row("09", 920, 930, 917, 928, 955, "seen"),
  row("08", 942, 956, 942, 954, 983, "seen"),
  row("07", 976, 987, 973, 985, 1008, "converted"),
  row("06", 998, 1013, 995, 1011, 1023, "converted"),
  row("05", 1031, 1044, 1030, 1046, 1062, "converted"),
  row("04", 1063, 1077, 1060, 1070, 1098, "converted"),
  row("03", 1086, 1104, 1086, 1101, 1131, "converted"),
  row("02", 1102, 1122, 1101, 1120, 1148, "converted"),
  row("01", 1119, 1138, 1117, 1137, 1178, "converted"),
  row("1", 1137, 1154, 1136, 1154, 1184, "converted"),
  row("2", 1142, 1164, 1142, 1162, 1190, "converted"),
  row("3", 1152, 1170, 1152, 1168, 1196, "converted"),
  row("4", 1162, 1183, 1160, 1181, 1209, "converted"),
  row("5", 1186, 1207, 1184, 1205, 1221, "converted"),
  row("6", 1222, 1243, 1220, 1241, 1255, "converted"),
  row("7", 1239, 1257, 1237, 1255, 1264, "converted"),
  row("8", 1249, 1271, 1247, 1269, 1300, "converted"),
  row("9", 1260, 1280, 1257, 1278, 1317, "converted"),
  row("10", 1285, 1305, 1282, 1303, 1330, "converted"),
  row("11", 1294, 1315, 1293, 1312, 1336, "memory"),
  row("12", 1306, 1326, 1304, 1324, 1355, "memory"),
  row("13", 1331, 1348, undefined, undefined, undefined, "seen"),
  row("14", 1365, 1384, undefined, undefined, undefined, "memory"),
];

function row(
  cone: string,
  selfSupporting60: number,
  selfSupporting150: number,
  large60: number | undefined,
  large150: number | undefined,
  small300: number | undefined,
  evidence: ConeEvidence,
): ConeRow {
  return { cone, selfSupporting60, selfSupporting150, large60, large150, small300, evidence };
}
