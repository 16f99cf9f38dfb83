// Who answers what-ifs: the one place where it is chosen.
import type { Session } from "../../../app/session";
import { askByEngine } from "../../../app/whatif-slow";
import type { WhatIfClient } from "../../../whatif/client-port";

/** A client for the open edition. */
export function startClient(session: Session, breathe: () => Promise<void>): WhatIfClient {
  return askByEngine(() => session.book.value, breathe);
}
