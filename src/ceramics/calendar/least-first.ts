// Whole numbers of which the least is taken first: a binary heap (J. W. J. Williams, Algorithm 232, Communications of the
// ACM 7, 1964, 347–348).

export class LeastFirst {
  private readonly held: number[] = [];

  add(number: number): void {
    const { held } = this;
    let at = held.push(number) - 1;
    while (at > 0) {
      const above = (at - 1) >> 1;
      const other = held[above] as number;
      if (other <= number) break;
      held[at] = other;
      at = above;
    }
    held[at] = number;
  }

  /** The least that is held, which is held no more; undefined where there is none. */
  take(): number | undefined {
    const { held } = this;
    const least = held[0];
    const last = held.pop();
    if (last === undefined || held.length === 0) return least;
    let at = 0;
    for (let below = 1; below < held.length; below = 2 * at + 1) {
      if (below + 1 < held.length && (held[below + 1] as number) < (held[below] as number)) below += 1;
      const other = held[below] as number;
      if (other >= last) break;
      held[at] = other;
      at = below;
    }
    held[at] = last;
    return least;
  }
}
