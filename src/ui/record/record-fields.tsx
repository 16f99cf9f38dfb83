// The fields of each thing that can be recorded.

import type { Session } from "../../app/edition/session";
import { amountTitle } from "../../app/edition/typed-amount";
import { addReason, lossReasons, removeReason } from "../../app/record/record";
import { otherWay, pricesTyped } from "../../app/settle/price-words";
import { rowLabel, rowOf } from "../../core/document/access";
import type { Row } from "../../core/document/workbook";
import type { FiringWish } from "../../core/record/firing-wish";
import type { AmountColumn } from "../../core/sheets/kinds/kind";
import { AMOUNTS, amountOf, isAmount, rulesOf } from "../../core/sheets/step-kinds";
import { AmountField } from "../controls/amount-field";
import { StepOptions } from "../controls/options";
import { FiringField } from "./firing-field";
import {
  amountField,
  type BenchForm,
  firingsOnTheWay,
  OWN_PRICE,
  ownPriceOf,
  stepsForAct,
  usualText,
} from "./record-form";

interface Props {
  readonly session: Session;
  readonly form: BenchForm;
  /** The step in force: the one chosen, otherwise the likely one. */
  readonly step: string;
  readonly chosen: readonly string[];
  readonly change: (to: Partial<BenchForm>) => void;
}

/** What the act in hand asks for. */
export function RecordFields(props: Props) {
  const { act } = props.form;
  if (isAmount(act)) return <Amount {...props} act={act} />;
  switch (act) {
    case "done":
      return (
        <>
          <StepField {...props} label="Up to and including which step?" />
          <WayFirings {...props} />
        </>
      );
    case "firing":
      return (
        <>
          <StepField {...props} label="For which step?" />
          <OneFiring {...props} step={props.step} title="Into which firing?" />
        </>
      );
    case "lost":
      return (
        <>
          <StepField {...props} label="At which step?" />
          <Reasons {...props} />
        </>
      );
    case "passed":
      return (
        <>
          <Choice {...props} label="Passed as" field="grade" options={GRADES} />
          {props.form.grade === "" ? null : <OwnPrice {...props} />}
        </>
      );
    case "tier":
      return <Choice {...props} label="Tier" field="tier" options={TIERS} />;
    case "note":
      return (
        <label class="field">
          <span>What is to be noted?</span>
          <input
            maxLength={500}
            value={props.form.note}
            onInput={(e) => props.change({ note: e.currentTarget.value })}
          />
        </label>
      );
    case "extra":
      return <Again {...props} />;
    case "not lost":
      return null;
  }
}

const GRADES = [
  ["good", "Good"],
  ["second", "Second"],
  ["", "Not passed yet"],
] as const;
const TIERS = [
  ["standard", "Standard"],
  ["special", "Special"],
] as const;

function StepField({ session, form, step, change, label }: Props & { readonly label: string }) {
  return (
    <label class="field">
      <span>{label}</span>
      <select value={step} onChange={(event) => change({ step: event.currentTarget.value })}>
        <StepOptions steps={stepsForAct(session.book.value, form.act)} />
      </select>
    </label>
  );
}

function withWish(form: BenchForm, step: string, wish: FiringWish | undefined): Partial<BenchForm> {
  const { [step]: _, ...others } = form.firings;
  return { firings: wish ? { ...others, [step]: wish } : others };
}

/** Several new firings get names one after the other. */
const newBefore = (form: BenchForm, step: string) =>
  Object.entries(form.firings).filter(([id, wish]) => id !== step && wish.kind === "new").length;

function OneFiring({ session, form, step, change, title }: Props & { readonly title: string }) {
  return (
    <FiringField
      session={session}
      step={step}
      title={title}
      wish={form.firings[step]}
      at={newBefore(form, step)}
      onWish={(wish) => change(withWish(form, step, wish))}
    />
  );
}

function WayFirings({ session, form, step, chosen, change }: Props) {
  return (
    <>
      {firingsOnTheWay(session.book.value, chosen, step).map((row) => (
        <FiringField
          key={row.id}
          session={session}
          step={row.id}
          title={`${rowLabel("route", row)}: into which firing?`}
          wish={form.firings[row.id]}
          at={newBefore(form, row.id)}
          {...(row.id === step ? {} : { blank: "Leave it blank" })}
          onWish={(wish) => change(withWish(form, row.id, wish))}
        />
      ))}
    </>
  );
}

function Amount(props: Props & { readonly act: AmountColumn }) {
  const { session, form, step, change, act, chosen } = props;
  const amount = AMOUNTS.find(({ column }) => column === act);
  const usual = usualText(session, step);
  const field = amountField(session.book.value, step);
  return (
    <>
      <StepField {...props} label="At which step?" />
      <AmountField
        session={session}
        title={amount?.question ?? amountTitle(session, amount?.title ?? act, field)}
        field={field}
        text={form.amount}
        placeholder={usual}
        hint={usual === "" ? undefined : `Left blank, it is the usual amount from Route: ${usual}.`}
        onText={(text) => change({ amount: text })}
      />
      {act === "minutes" && chosen.length > 1 ? (
        <Choice {...props} label="These minutes are" field="isTogether" options={WHOSE_MINUTES} />
      ) : null}
    </>
  );
}

/** A price for these pieces alone, as one of a kind has it; beside it what that is the other way. */
function OwnPrice({ session, form, chosen, change }: Props) {
  const piece = rowOf(session.book.value, "pieces", chosen[0] ?? "");
  const tier = form.grade === "second" ? "second" : piece?.cells.tier === "special" ? "special" : "standard";
  const price = ownPriceOf(session, form);
  return (
    <AmountField
      session={session}
      title={amountTitle(
        session,
        `A price of ${chosen.length > 1 ? "their" : "its"} own, ${pricesTyped(session)}`,
        OWN_PRICE,
      )}
      field={OWN_PRICE}
      text={form.price}
      hint={price === undefined ? "Left blank, it is the price of the tier." : `${otherWay(session, tier, price)}.`}
      onText={(typed) => change({ price: typed })}
    />
  );
}

function Reasons({ session, form, change }: Props) {
  const reasons = lossReasons(session.book.value);
  const typed = reasons.includes(form.reason) ? "" : form.reason;
  const begun = typed.trim().toLowerCase();
  const likely = begun === "" ? [] : reasons.filter((reason) => reason.toLowerCase().startsWith(begun));
  const one = likely.length === 1 ? likely[0] : undefined;
  return (
    <>
      <fieldset class="field">
        <legend>Why?</legend>
        <div class="each">
          {reasons.map((reason) => (
            <button
              type="button"
              key={reason}
              aria-pressed={form.reason === reason}
              onClick={() => change({ reason: form.reason === reason ? "" : reason })}
            >
              {reason}
            </button>
          ))}
        </div>
      </fieldset>
      <div class="row">
        <label class="field">
          <span>Another reason</span>
          <input
            maxLength={300}
            value={typed}
            onInput={(event) => change({ reason: event.currentTarget.value })}
            onKeyDown={(event) => {
              if (event.key === "Enter" && one !== undefined) change({ reason: one });
            }}
          />
          {one === undefined ? null : <small class="quiet">Enter takes “{one}”.</small>}
        </label>
        {reasons.includes(form.reason) ? (
          <button type="button" onClick={() => removeReason(session, form.reason)}>
            Take “{form.reason}” off my list
          </button>
        ) : (
          <button
            type="button"
            disabled={form.reason.trim() === ""}
            onClick={() => addReason(session, form.reason) && change({ reason: form.reason.trim() })}
          >
            Keep it in my list
          </button>
        )}
      </div>
    </>
  );
}

const WHOSE_MINUTES = [
  [false, "For each piece"],
  [true, "For all of them together"],
] as const;

interface ChoiceProps extends Props {
  readonly label: string;
  readonly field: "grade" | "tier" | "isTogether";
  readonly options: readonly (readonly [value: string | boolean, title: string])[];
}

function Choice({ form, change, label, field, options }: ChoiceProps) {
  return (
    <fieldset class="field">
      <legend>{label}</legend>
      <div class="each">
        {options.map(([value, title]) => (
          <button
            type="button"
            key={title}
            aria-pressed={form[field] === value}
            onClick={() => change({ [field]: value })}
          >
            {title}
          </button>
        ))}
      </div>
    </fieldset>
  );
}

/** Steps to be had once more by these pieces only. */
function Again(props: Props) {
  const { session, form, change } = props;
  const rows = session.book.value.sheets.route.rows.filter(
    (row) => !rulesOf(row)?.isMaking && row.cells.who !== "as needed",
  );
  const toggle = (id: string) =>
    change({ again: form.again.includes(id) ? form.again.filter((one) => one !== id) : [...form.again, id] });
  return (
    <>
      <fieldset class="field">
        <legend>Which steps are done again?</legend>
        <div class="each">
          {rows.map((row) => (
            <button
              type="button"
              key={row.id}
              aria-pressed={form.again.includes(row.id)}
              onClick={() => toggle(row.id)}
            >
              {rowLabel("route", row)}
            </button>
          ))}
        </div>
        <small class="quiet">
          The step is added for these pieces only, as needed; one that is there already and blank for them is used.
        </small>
      </fieldset>
      {rows
        .filter((row) => form.again.includes(row.id))
        .map((row) => (
          <AgainFields key={row.id} {...props} row={row} />
        ))}
    </>
  );
}

function AgainFields({ session, form, change, row }: Props & { readonly row: Row }) {
  const title = rowLabel("route", row);
  const rules = rulesOf(row);
  const amount = rules && amountOf(rules);
  const asked = (amount?.question ?? amount?.title ?? "").toLowerCase();
  if (!amount)
    return (
      <FiringField
        session={session}
        step={row.id}
        title={`${title}, once more: into which firing?`}
        wish={form.firings[row.id]}
        at={newBefore(form, row.id)}
        blank="Not fired yet"
        onWish={(wish) => change(withWish(form, row.id, wish))}
      />
    );
  return (
    <AmountField
      session={session}
      title={`${title}, once more: ${asked}`}
      field={amountField(session.book.value, row.id)}
      text={form.amounts[row.id] ?? ""}
      placeholder={usualText(session, row.id)}
      onText={(amount) => change({ amounts: { ...form.amounts, [row.id]: amount } })}
    />
  );
}
