// Programmes to begin with, of our own making: common practice in shape, not taken from any maker's list. Test them on a
// load that can be spared. The last ramp keeps to 60–150 °C an hour, the rates the cone tables give.
import type { ConeProgramme } from "./programme";

/** Lid propped or vent running while damp or resin fumes leave; litres of room air a second. No source. */
const VENTED_START = 2;

/** Slow bisque, glaze at middle and high fire, and a low lustre firing that begins vented. */
export const STARTER_PROGRAMMES: readonly ConeProgramme[] = [
  {
    name: "slow bisque",
    segments: [
      { rateCPerHour: 60, target: { celsius: 95 }, soakMinutes: 90, ventLitresPerSecond: VENTED_START },
      { rateCPerHour: 80, target: { celsius: 620 }, soakMinutes: 0 },
      { rateCPerHour: 120, target: { celsius: 880 }, soakMinutes: 0 },
      { rateCPerHour: 80, target: { cone: "06" }, soakMinutes: 10 },
    ],
  },
  {
    name: "glaze, middle fire",
    segments: [
      { rateCPerHour: 100, target: { celsius: 120 }, soakMinutes: 15 },
      { rateCPerHour: 180, target: { celsius: 1080 }, soakMinutes: 0 },
      { rateCPerHour: 80, target: { cone: "6" }, soakMinutes: 15 },
    ],
  },
  {
    name: "glaze, high fire",
    segments: [
      { rateCPerHour: 100, target: { celsius: 120 }, soakMinutes: 15 },
      { rateCPerHour: 180, target: { celsius: 1130 }, soakMinutes: 0 },
      { rateCPerHour: 70, target: { cone: "10" }, soakMinutes: 20 },
    ],
  },
  {
    name: "low lustre",
    segments: [
      { rateCPerHour: 100, target: { celsius: 480 }, soakMinutes: 20, ventLitresPerSecond: VENTED_START },
      { rateCPerHour: 120, target: { cone: "018" }, soakMinutes: 10 },
    ],
  },
];
