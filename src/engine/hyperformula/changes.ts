// The engine notes what moved in a table by the text of sheet, row and column, and copies the table before it gives it
// out. Every cell is recalculated once, so a list does; where a cell is noted again, its later value counts.
import type { Changes, EngineChange } from "./library";
import type { EnginePatch } from "./patch";

/** What of a table the engine uses. */
class ChangeList {
  readonly list: EngineChange[];

  constructor(list: EngineChange[]) {
    this.list = list;
  }

  get size(): number {
    return this.list.length;
  }

  values(): Iterable<EngineChange> {
    return this.list;
  }

  forEach(each: (change: EngineChange) => void): void {
    for (const change of this.list) each(change);
  }
}

export const CHANGES: EnginePatch = {
  name: "changes",
  buys: "what moved is noted in a list, not in a table by address",
  replaces: { changes: ["add", "addAll"] },
  uses: { changes: ["changes"] },
  apply: ({ changes }) => noteInOrder(changes),
};

/** Makes everything that has this prototype note changes in order. */
function noteInOrder(prototype: Changes): void {
  prototype.add = function addAtEnd(this: Changes, _, change) {
    listOf(this).push(change);
  };
  prototype.addAll = function takeOver(this: Changes, others) {
    const [own, other] = [listOf(this), listOf(others)];
    if (own.length === 0) this.changes = new ChangeList(other);
    else for (const change of other) own.push(change);
    return this;
  };
}

function listOf(noted: Changes): EngineChange[] {
  if (!(noted.changes instanceof ChangeList)) noted.changes = new ChangeList([...noted.changes.values()]);
  return (noted.changes as ChangeList).list;
}
