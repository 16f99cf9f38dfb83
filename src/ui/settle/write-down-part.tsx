// Writing stock down by hand: which pieces, by how much, why and on which day; and the standard that the books follow.
import "../record/record.css";
import { useState } from "preact/hooks";
import { writeCells } from "../../app/commands/commands";
import type { Session } from "../../app/edition/session";
import { amountTitle, readAmount } from "../../app/edition/typed-amount";
import { carriedPieces, downGroups, stockRule } from "../../app/settle/write-downs";
import type { WriteDownAsked } from "../../core/record/write-down-edits";
import { STOCK_RULES } from "../../core/sheets/stage-columns";
import { AmountField } from "../controls/amount-field";
import { DateInput } from "../controls/date-input";
import { namedInBox } from "../edition/chosen";
import { RecordFoot } from "../record/record-foot";
import { RecordPieces } from "../record/record-pieces";
import { useRecording } from "../record/use-recording";

/** What each standard does with a write-down when prices rise again. */
const RULE_WORDS = {
  "IAS 2":
    "Stock stands at the lower of cost and net realisable value. When that rises again, the write-down is taken back, up to cost (IAS 2 §9, §33).",
  "ASC 330":
    "Stock stands at the lower of cost and net realisable value. What was written down at the close of a year is the cost from then on: it is not taken back (ASC 330-10-35-1B, 35-14). Within the year of an interim write-down it may be (ASC 270-10-45-6).",
} as const;

/** The choice between the standards, kept on the Edition sheet. */
export function RulePart({ session }: { readonly session: Session }) {
  const rule = stockRule(session);
  return (
    <label>
      <span>Written-down stock follows</span>
      <select
        value={rule}
        onChange={(event) =>
          writeCells(
            session,
            [
              {
                cell: { sheet: "edition", row: "stock_rule", column: "value" },
                typed: event.currentTarget.value,
              },
            ],
            "typed",
          )
        }
      >
        {STOCK_RULES.map((one) => (
          <option key={one}>{one}</option>
        ))}
      </select>
    </label>
  );
}

const AMOUNT = { unit: "¤", least: 0 } as const;

const WAYS = [
  ["by", "Down by an amount"],
  ["to", "Down to a value"],
  ["back", "Take back"],
] as const;
const KEEP = ["keep", "Keep as cost"] as const;

interface Form {
  readonly down: WriteDownAsked["down"];
  readonly amount: string;
  readonly day: string;
  readonly reason: string;
}

function askedOf(session: Session, { down, amount, day, reason }: Form): WriteDownAsked {
  const typed = amount.trim() === "" ? undefined : readAmount(session, AMOUNT, amount).value;
  return {
    ...{
      kind: "write-down",
      down,
      day,
      reason,
      today: session.today(),
      rule: stockRule(session),
      digits: session.digits,
    },
    ...(typed === undefined ? {} : { amount: typed }),
    carried: carriedPieces(session),
  };
}

/** The form. */
export function WriteDownPart({ session }: { readonly session: Session }) {
  const rule = stockRule(session);
  const [form, setForm] = useState<Form>(() => ({ down: "by", amount: "", day: session.today(), reason: "" }));
  const named = namedInBox(session);
  const chosen = named?.ok ? named.value : [];
  const change = (to: Partial<Form>) => setForm({ ...form, ...to });
  const recording = useRecording(session, chosen, askedOf(session, form), () => change({ amount: "", reason: "" }));
  const takesAmount = form.down === "by" || form.down === "to";
  return (
    <section class="bench in-paper" aria-labelledby="write-down">
      <h3 id="write-down">Write down by hand</h3>
      <p class="quiet">{RULE_WORDS[rule]}</p>
      <div class="bench-columns">
        <RecordPieces
          session={session}
          groups={downGroups(session)}
          named={named}
          none="Nothing is in stock or in progress."
        />
        <section class="what" aria-labelledby="down-how">
          <h3 id="down-how">How far?</h3>
          <fieldset class="each" aria-labelledby="down-how">
            {(rule === "ASC 330" ? [...WAYS, KEEP] : WAYS).map(([down, title]) => (
              <button type="button" key={down} aria-pressed={form.down === down} onClick={() => change({ down })}>
                {title}
              </button>
            ))}
          </fieldset>
          {form.down === "keep" ? (
            <p class="quiet">
              At the close of a year: what the chosen pieces are carried at becomes their cost from then on.
            </p>
          ) : null}
          <div class="row">
            {takesAmount ? (
              <AmountField
                session={session}
                title={amountTitle(session, form.down === "by" ? "By, each" : "To, each", AMOUNT)}
                field={AMOUNT}
                text={form.amount}
                hint={form.down === "by" ? "On top of what is written down by hand already." : "Never above cost."}
                onText={(amount) => change({ amount })}
              />
            ) : null}
            <label class="field">
              <span>Day</span>
              <DateInput required value={form.day} onInput={(event) => change({ day: event.currentTarget.value })} />
            </label>
          </div>
          {form.down === "back" ? null : (
            <label class="field">
              <span>Why</span>
              <input
                list="down-reasons"
                maxLength={200}
                autocomplete="off"
                value={form.reason}
                onInput={(event) => change({ reason: event.currentTarget.value })}
              />
              <datalist id="down-reasons">
                {["damaged", "out of fashion", "price cut"].map((reason) => (
                  <option key={reason} value={reason} />
                ))}
              </datalist>
            </label>
          )}
        </section>
      </div>
      <RecordFoot session={session} recording={recording} />
    </section>
  );
}
