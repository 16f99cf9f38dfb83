// What is calculated for what: groups of cells, by their numbers, and values that several of them share. Only what leads to
// the cells a question reads is done for every case.

/** Who uses what, as far as a question follows it. */
export class Needs {
  readonly areFollowed: boolean;
  /** For whom something is compiled now. */
  user = NOBODY;
  private readonly used = new Map<number, Set<number>>();
  private next = FIRST_SHARED;

  /** They are followed for a question; where everything is wanted there is nothing to follow. */
  constructor(wanted: "followed" | "everything") {
    this.areFollowed = wanted === "followed";
  }

  /** A number for a value that several share. */
  makeShared(): number {
    this.next -= 1;
    return this.next + 1;
  }

  /** A user, or what is compiled now, uses this. */
  note(used: number, user = this.user): void {
    if (this.areFollowed) this.of(user).add(used);
  }

  /** The set of what a user uses, to be added to. */
  of(user: number): Set<number> {
    let used = this.used.get(user);
    if (!used) {
      used = new Set();
      this.used.set(user, used);
    }
    return used;
  }

  /** All that some users lead to, themselves too, and what is done for everybody. */
  reachedFrom(users: Iterable<number>): ReadonlySet<number> {
    const reached = new Set([...users, NOBODY]);
    // A set gives out what is added while it is gone through.
    for (const user of reached) for (const used of this.used.get(user) ?? []) reached.add(used);
    return reached;
  }
}

/** Who stands for whatever is done in any case. */
export const NOBODY = -1;
const FIRST_SHARED = -2;
