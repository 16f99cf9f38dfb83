// What has no day, in groups, with the day that is proposed: taken all at once, or given group by group.

import type { Session } from "../../app/edition/session";
import { takeDays } from "../../app/settle/settle-commands";
import { undatedGroups } from "../../app/settle/undated-groups";
import { counted } from "../../core/counted";
import { DateInput } from "../controls/date-input";
import { Scrolled } from "../controls/scrolled";
import { TableHead } from "../controls/table-head";

/** Nothing where everything has its day. */
export function DaysPart({ session }: { readonly session: Session }) {
  const groups = undatedGroups(session);
  if (groups.length === 0) return null;
  const all = groups.flatMap(({ undated }) => undated);
  return (
    <section aria-label="Days" data-testid="undated">
      <h3>Days</h3>
      <p>
        {counted(all.length, "entry has", "entries have")} no day: typed on a sheet, and not recorded. Books are made by
        the day, so that none are made until each has one. These are the days nearest to being known.
      </p>
      <p>
        <button type="button" class="act" onClick={() => takeDays(session, all)}>
          Take the proposed days
        </button>
      </p>
      <Scrolled label="Entries without a day">
        <table class="plain-table wide">
          <TableHead titles={["what", "entries", "proposed from", "day"]} />
          <tbody>
            {groups.map(({ what, from, day, undated }) => (
              <tr key={`${what} ${from} ${day}`}>
                <th scope="row">{what}</th>
                <td>{undated.length}</td>
                <td>{from}</td>
                <td>
                  <DateInput
                    aria-label={`Day of ${what}, ${counted(undated.length, "entry", "entries")}`}
                    value={day}
                    onChange={({ currentTarget: { value } }) => {
                      if (value) takeDays(session, undated, value);
                    }}
                  />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scrolled>
    </section>
  );
}
