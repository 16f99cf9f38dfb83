// A tab's part in the turns over an edition that is still being opened: what is heard before is kept for it.
import { type News, type TurnEvents, TurnTaker, type TurnWorld } from "../../storage/turn";

/** A taker whose events are given to the edition once there is one. */
export interface Hearing {
  readonly taker: TurnTaker;
  /** What was heard before. */
  readonly early: News[];
  events: TurnEvents | undefined;
}

/** Starts to hear what other tabs say of an edition. */
export function hearing(id: string, world: TurnWorld): Hearing {
  const early: News[] = [];
  const later: { events: TurnEvents | undefined } = { events: undefined };
  const taker = new TurnTaker(id, world, {
    onTurn: (turn) => later.events?.onTurn(turn),
    beforeHandOver: async () => later.events?.beforeHandOver(),
    onNews: (news) => (later.events ? later.events.onNews(news) : early.push(news)),
  });
  return Object.assign(later, { taker, early });
}
