// A tab's part in the lock on an edition that is still being opened: what is heard before is kept for it.
import { EditionLock, type LockEvents, type LockPlatform, type News } from "../../storage/edition-lock";

/** A lock whose events are given to the edition once there is one. */
export interface LockListener {
  readonly lock: EditionLock;
  /** What was heard before. */
  readonly early: News[];
  events: LockEvents | undefined;
}

/** Starts to hear what other tabs say of an edition. */
export function listenForLock(id: string, platform: LockPlatform): LockListener {
  const early: News[] = [];
  const later: { events: LockEvents | undefined } = { events: undefined };
  const lock = new EditionLock(id, platform, {
    onLock: (state) => later.events?.onLock(state),
    beforeHandOver: async () => later.events?.beforeHandOver(),
    onNews: (news) => (later.events ? later.events.onNews(news) : early.push(news)),
  });
  return Object.assign(later, { lock, early });
}
