// Which period is in view, how it is shown, and what becomes of it.
import type { Session } from "../../app/edition/session";
import type { PrintPlatform } from "../../app/keeping/studio-platform";
import { setJournalReference } from "../../app/settle/settle-commands";
import { DateInput } from "../controls/date-input";
import { TextEntry } from "../controls/text-entry";
import { showDialog } from "../shell/open-dialog";
import { periodInView, periodWishOf } from "./books-now";

/** First and last day, rolled up or in detail, and the way to the papers. */
export function PeriodHead({ session, platform }: { readonly session: Session; readonly platform: PrintPlatform }) {
  const { from, to, reference, isDetailed } = periodInView(session);
  const wish = periodWishOf(session);
  return (
    <div class="paper-tools">
      <label>
        <span>First day</span>
        <DateInput
          value={from}
          onChange={({ currentTarget: { value } }) => {
            if (value) wish.value = { ...wish.value, from: value };
          }}
        />
      </label>
      <label>
        <span>Last day</span>
        <DateInput
          value={to}
          onChange={({ currentTarget: { value } }) => {
            if (value) wish.value = { ...wish.value, to: value };
          }}
        />
      </label>
      <label>
        <span>Postings</span>
        <select
          value={isDetailed ? "detailed" : "rolled"}
          onChange={({ currentTarget: { value } }) => {
            wish.value = { ...wish.value, isDetailed: value === "detailed" };
          }}
        >
          <option value="rolled">rolled up</option>
          <option value="detailed">day by day</option>
        </select>
      </label>
      <label>
        <span>References begin with</span>
        <TextEntry value={reference} maxLength={60} onTaken={(typed) => setJournalReference(session, typed)} />
      </label>
      <button type="button" onClick={() => showDialog("pack")}>
        Save the papers…
      </button>
      <button type="button" onClick={() => platform.print()}>
        Print
      </button>
    </div>
  );
}
