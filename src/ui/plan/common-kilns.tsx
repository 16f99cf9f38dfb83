// Common kilns to start from.
import type { Session } from "../../app/edition/session";
import { startFromCommonKiln } from "../../app/plan/card-commands";
import { COMMON_KILNS } from "../../core/sheets/common-kilns";

/** Kilns by size and wall; a press writes one over the kiln. */
export function CommonKilns({ session, row }: { readonly session: Session; readonly row: string }) {
  return (
    <details class="common-kilns">
      <summary>Start from a common kiln</summary>
      <p class="quiet">
        Typical figures, made up from common practice and no source, of no one maker’s kiln. A press writes power,
        hours, size, shelves and wall over what stands here; one Undo takes it back. Put your own in their place as you
        know them.
      </p>
      <ul>
        {COMMON_KILNS.map((kiln) => (
          <li key={kiln.title}>
            <button type="button" onClick={() => startFromCommonKiln(session, row, kiln)}>
              {kiln.title}
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
}
