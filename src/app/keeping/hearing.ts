// A tab's part in the turns over an edition that is still being opened: what is heard before is kept for it.
import { type News, type LockEvents, EditionLock, type LockPlatform } from "../../storage/turn";

/** A taker whose events are given to the edition once there is one. */
export interface Hearing {
  readonly taker: EditionLock;
  /** What was heard before. */
  readonly early: News[];
  events: LockEvents | undefined;
}

/** Starts to hear what other tabs say of an edition. */
export function hearing(id: string, world: LockPlatform): Hearing {
  const early: News[] = [];
  const later: { events: LockEvents | undefined } = { events: undefined };
  const taker = new EditionLock(id, world, {
    onTurn: (turn) => later.events?.onTurn(turn),
    beforeHandOver: async () => later.events?.beforeHandOver(),
    onNews: (news) => (later.events ? later.events.onNews(news) : early.push(news)),
  });
  return Object.assign(later, { taker, early });
}
