import "./date-input.css";
import { dayText } from "../../app/edition/written-days";
import { pageLocale } from "./page-locale";

interface Props {
  readonly value: string;
  readonly id?: string;
  readonly name?: string;
  readonly required?: boolean;
  readonly "aria-label"?: string;
  readonly onInput?: (event: Typed) => void;
  readonly onChange?: (event: Typed) => void;
}
type Typed = { readonly currentTarget: HTMLInputElement };

// The browser writes a day in a form of its own: until the field has the keyboard, ours stands over it. WebKit shows today in
// an empty field, as if it were set: the style sheet is told which is blank.
const classOf = (value: string) => (value === "" ? "blank" : undefined);

/** A field for a day, written as every day is. */
export function DateInput({ value, ...rest }: Props) {
  const shown = dayText(value, pageLocale());
  return (
    <span class="written" data-shown={shown}>
      <input {...rest} type="date" class={classOf(value)} value={value} />
    </span>
  );
}

/** A field for a time of day, written as in the sheets. */
export function TimeInput({ value, ...rest }: Props) {
  return (
    <span class="written" data-shown={value}>
      <input {...rest} type="time" class={classOf(value)} value={value} />
    </span>
  );
}
