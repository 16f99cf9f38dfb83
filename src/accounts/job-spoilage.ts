// Spoiled and reworked pieces of one job, by who bears them: the job, every job alike, or the period.
import { fail, ok, type Problem, problem, type Result } from "../core/problem";
import { needFromZero, needWhole } from "./checks";

/** Who bears the spoiled pieces of a job: its own good pieces, the good pieces of every job, or the period. */
type SpoilageBearer = "this job" | "all jobs" | "the period";

export interface JobSpoilageInput {
  readonly startedPieces: number;
  readonly spoiledPieces: number;
  /** Cost of a piece up to the inspection that found the spoiled ones. */
  readonly costEach: number;
  /** What a spoiled piece fetches. */
  readonly disposalEach: number;
  readonly bearer: SpoilageBearer;
  /** For `all jobs`: good pieces of every job over which spoilage of this kind is shared. */
  readonly goodPiecesOfAllJobs?: number;
}

export interface JobSpoilage {
  /** Cost of the spoiled pieces less what they fetch. */
  readonly netCost: number;
  readonly perGoodPiece: number;
  readonly toPeriod: number;
}

/** What spoiled pieces add to a good piece of a job, and what goes to the period. */
export function jobSpoilage(input: JobSpoilageInput): Result<JobSpoilage> {
  const { startedPieces, spoiledPieces, costEach, disposalEach, bearer } = input;
  const good = startedPieces - spoiledPieces;
  const sharers = bearer === "all jobs" ? (input.goodPiecesOfAllJobs ?? 0) : good;
  const problems: readonly Problem[] = [
    ...needWhole("Pieces started", startedPieces, 1),
    ...needWhole("Pieces spoiled", spoiledPieces),
    ...needFromZero("Cost of a piece", costEach),
    ...needFromZero("What a spoiled piece fetches", disposalEach),
    ...(spoiledPieces < startedPieces ? [] : [nothingLeft(spoiledPieces)]),
    ...(bearer === "all jobs" ? needWhole("Good pieces of all jobs", sharers, 1) : []),
  ];
  if (problems.length > 0) return fail(...problems);
  const netCost = spoiledPieces * (costEach - disposalEach);
  const isShared = bearer !== "the period";
  return ok({
    netCost,
    perGoodPiece: costEach + (isShared ? netCost / sharers : 0),
    toPeriod: isShared ? 0 : netCost,
  });
}

function nothingLeft(spoiled: number): Problem {
  return problem({
    code: "loss.all",
    where: "Pieces spoiled",
    found: spoiled,
    allowed: "fewer than were started",
    fix: "With nothing left, the whole cost belongs to the period.",
  });
}

export interface ReworkInput {
  readonly pieces: number;
  readonly hoursEach: number;
  readonly wagePerHour: number;
  readonly overheadPerHour: number;
  readonly materialEach: number;
  /** Rework beyond what the route plans for. */
  readonly isAbnormal: boolean;
}

/** What reworking pieces costs, and whether the pieces or the period bear it. */
export function reworkCost(input: ReworkInput): Result<{ readonly toPieces: number; readonly toPeriod: number }> {
  const problems = [
    ...needWhole("Pieces reworked", input.pieces),
    ...needFromZero("Hours of rework", input.hoursEach),
    ...needFromZero("Wage", input.wagePerHour),
    ...needFromZero("Overhead rate", input.overheadPerHour),
    ...needFromZero("Material of rework", input.materialEach),
  ];
  if (problems.length > 0) return fail(...problems);
  const each = input.materialEach + input.hoursEach * (input.wagePerHour + input.overheadPerHour);
  const cost = input.pieces * each;
  return ok(input.isAbnormal ? { toPieces: 0, toPeriod: cost } : { toPieces: cost, toPeriod: 0 });
}
