// Labelled fields that forms are made of: a line of text, and a choice from a list.
import { Field } from "./dialog";

interface TextProps {
  readonly label: string;
  readonly hint?: string;
  readonly name?: string;
  readonly class?: string;
  readonly value: string;
  readonly required?: boolean;
  readonly maxLength?: number;
  readonly inputMode?: "numeric" | "decimal";
  readonly placeholder?: string;
  readonly onText: (text: string) => void;
}

/** A line of text under its label. */
export function TextField({ label, hint, onText, ...rest }: TextProps) {
  return (
    <Field label={label} {...(hint === undefined ? {} : { hint })}>
      <input {...rest} onInput={({ currentTarget }) => onText(currentTarget.value)} />
    </Field>
  );
}

interface ChoiceProps {
  readonly label: string;
  readonly name: string;
  readonly value: string;
  /** What is chosen from: value and words. */
  readonly choices: readonly (readonly [value: string, words: string])[];
  readonly onChange: (value: string) => void;
}

/** A choice from a list under its label. */
export function ChoiceField({ label, name, value, choices, onChange }: ChoiceProps) {
  return (
    <Field label={label}>
      <select name={name} value={value} onChange={({ currentTarget }) => onChange(currentTarget.value)}>
        {choices.map(([id, words]) => (
          <option key={id} value={id}>
            {words}
          </option>
        ))}
      </select>
    </Field>
  );
}
