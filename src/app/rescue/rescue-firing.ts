// What a rescue's firing costs from now on: the little that one piece more adds to a load that is fired anyway, or a
// whole firing where it is fired for these pieces alone.
import { bodyKjPerKg, STONEWARE_BODY } from "../../ceramics/kiln/enthalpy";
import { peakOf } from "../../ceramics/kiln/programme";
import { simulateFiring } from "../../ceramics/kiln/simulate";
import { roomFor } from "../../ceramics/loads/load";
import type { Raw } from "../../core/document/workbook";
import { kilnFrom, loadFrom, loadKilnFrom, programmeFrom } from "../../engine/kiln-records";
import type { Session } from "../edition/session";
import { recordsOf } from "../plan/kiln-heat";
import { loadingHour } from "../record/firing-sums";

/** A firing as a rescue needs it, for each of its pieces. */
export interface FiringEstimate {
  /** One piece more in a load that is fired anyway: the heat the piece takes, at the tariff. */
  readonly marginalEach: number;
  readonly marginalKwh: number;
  /** A firing for these pieces alone, shared over them. */
  readonly aloneEach: number;
  readonly aloneKwh: number;
  /** Pieces the kiln has room for. */
  readonly places: number;
  /** Where the energy of the firing alone comes from, in words. */
  readonly from: string;
}

const KJ_PER_KWH = 3600;
/** What a firing of no stated programme is taken to reach. */
const PEAK_WHERE_UNSAID_C = 1000;

interface Needed {
  readonly kiln: Raw | undefined;
  readonly programme: Raw | undefined;
  readonly pieceKg: number;
  readonly pieces: number;
}

/** What a firing of a kiln and programme costs, by this edition's tariff, wear and wage. */
export function estimateFiring(session: Session, needed: Needed): FiringEstimate {
  const line = (id: string) => numberOr(session.result(id, "edition"), 0);
  const kiln = recordsOf(session, "kilns").find((one) => one.id === needed.kiln);
  const programme = programmeFrom(recordsOf(session, "programmes"), String(needed.programme ?? ""));
  const peak = programme.ok ? peakOf(programme.value) : PEAK_WHERE_UNSAID_C;
  const marginalKwh = (needed.pieceKg * bodyKjPerKg(STONEWARE_BODY, peak)) / KJ_PER_KWH;
  const { kwh, from } = energyAlone(session, needed);
  const loading = (line("loading_minutes") / 60) * loadingHour(session);
  const tariff = line("tariff");
  return {
    marginalKwh,
    marginalEach: marginalKwh * tariff,
    aloneKwh: kwh,
    aloneEach: (kwh * tariff + numberOr(kiln?.wear, 0) + loading) / needed.pieces,
    places: placesOf(session, needed),
    from,
  };
}

/** Pieces of the planned size that the kiln takes; at least one, since one is to be fired. */
function placesOf(session: Session, { kiln, pieceKg }: Needed): number {
  const size = (id: string) => numberOr(session.result(id, "edition"), 0);
  const room = loadKilnFrom(recordsOf(session, "kilns"), String(kiln ?? ""));
  const piece = { id: "", footCm2: size("piece_foot"), heightCm: size("piece_height"), kg: pieceKg, firing: "" };
  return room.ok ? Math.max(1, roomFor(piece, room.value)) : 1;
}

const numberOr = (value: unknown, other: number) => (typeof value === "number" ? value : other);

/** Energy of a firing for these pieces alone: as an earlier one with the fewest pieces took, else by the model, else by the rule. */
function energyAlone(session: Session, needed: Needed): { readonly kwh: number; readonly from: string } {
  // Of several with as few pieces the last one counts: the kiln has aged since the others.
  const earlier = recordsOf(session, "firings")
    .toReversed()
    .filter(
      (one) =>
        one.kiln === needed.kiln &&
        one.programme === (needed.programme ?? null) &&
        typeof one.meter === "number" &&
        numberOr(one.all, 0) > 0,
    )
    .sort((a, b) => numberOr(a.all, 0) - numberOr(b.all, 0))[0];
  if (earlier)
    return { kwh: numberOr(earlier.kwh, 0), from: `as ${earlier.id} took, with ${earlier.all} in it, by the meter` };
  const kilns = recordsOf(session, "kilns");
  const kiln = kilnFrom(kilns, String(needed.kiln ?? ""));
  const programme = programmeFrom(recordsOf(session, "programmes"), String(needed.programme ?? ""));
  if (kiln.ok && programme.ok) {
    const load = loadFrom(needed.pieceKg * needed.pieces, 0, 0, kiln.value.furnitureKg);
    const fired = simulateFiring(kiln.value.kiln, programme.value, load);
    if (fired.ok) return { kwh: fired.value.kwh, from: "by the heat model of the kiln" };
  }
  const record = kilns.find((one) => one.id === needed.kiln);
  const kwh = numberOr(record?.kw, 0) * numberOr(record?.hours, 0) * numberOr(record?.duty, 0);
  return { kwh, from: "by rated power × hours × duty" };
}
