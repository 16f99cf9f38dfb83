// The rule by which losses are parted and shared, in the words of whoever reads a statement.

/** The rule as it stands in an edition; `runs` is its line on the Edition sheet, undefined or 0 where it is blank. */
export function lossRule(runs: number | undefined): string {
  const beyond = "what exceeds the plan is abnormal and an expense of the period (IAS 2 §16(a); ASC 330-10-30-7)";
  return [
    "Losses are judged over the whole edition, steps below plan setting off steps above.",
    runs
      ? `As many as chance gives at the planned losses in at least 1 run of ${runs} are normal; once there are more, ${beyond}.`
      : `W${beyond.slice(1)}.`,
    "Normal losses, less clay won back and scrap, are borne by the pieces that have passed the step where they were lost, at a step for special pieces by those alone; a second bears no more than it fetches.",
    "Steps done as needed are judged in the same way and stay in the cost of the pieces that had them; what goes beyond plan and chance is told beside.",
  ].join(" ");
}
