import { useState } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import { amountText, type TypedAmountRules as Field, readAmount } from "../../app/edition/typed-amount";

interface Props {
  readonly session: Session;
  readonly title: string;
  readonly field: Field;
  /** What stands in it. */
  readonly text: string;
  readonly placeholder?: string;
  /** What is said of it while nothing else is. */
  readonly hint?: string | undefined;
  readonly onText: (text: string) => void;
}

/** A field for an amount; says what another unit came to, and why something can't be read. */
export function AmountField({ session, title, field, text, placeholder, hint, onText }: Props) {
  const message = (text === "" ? undefined : readAmount(session, field, text).message) ?? hint;
  return (
    <label class="field">
      <span>{title}</span>
      <input placeholder={placeholder} value={text} onInput={(event) => onText(event.currentTarget.value)} />
      {message ? <small class="quiet">{message}</small> : null}
    </label>
  );
}

interface EntryProps {
  readonly session: Session;
  readonly title: string;
  readonly of: Field;
  readonly value: number | undefined;
  readonly hint?: string;
  /** NaN for what can't be read, nothing for a blank. */
  readonly onValue: (value: number | undefined) => void;
}

/** A field that begins with an amount and gives numbers; what is typed stands as it was typed. */
export function AmountEntry({ session, title, of, value, hint, onValue }: EntryProps) {
  const [field] = useState({ ...of, held: value });
  const [text, setText] = useState(value === undefined ? "" : amountText(session, of, value));
  return (
    <AmountField
      session={session}
      title={title}
      field={field}
      text={text}
      hint={hint}
      onText={(typed) => {
        setText(typed);
        onValue(typed.trim() === "" ? undefined : readAmount(session, field, typed).value);
      }}
    />
  );
}
