// Who answers what-ifs: a worker of its own, which is given formulas and numbers by the edition's engine.
import type { Session } from "../../app/edition/session";
import { startWhatIf } from "../../whatif/run/client";
import type { WhatIfClient } from "../../whatif/run/client-port";

/** A client for the open edition. */
export function startClient(session: Session): WhatIfClient {
  return startWhatIf(session.engineClient);
}
