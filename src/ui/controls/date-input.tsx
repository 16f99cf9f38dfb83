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

// The browser writes a day in a form of its own, and WebKit today in an empty field, as if it were set: until the field has the
// keyboard, ours stands over it.

/** A field for a day, written as every day is. */
export function DateInput({ value, ...rest }: Props) {
  return (
    <span class={value === "" ? "written blank" : "written"} data-shown={dayText(value, pageLocale()) || "no day"}>
      <input {...rest} type="date" value={value} />
    </span>
  );
}

/** A field for a time of day, written as in the sheets. */
export function TimeInput({ value, ...rest }: Props) {
  return (
    <span class={value === "" ? "written blank" : "written"} data-shown={value || "no time"}>
      <input {...rest} type="time" value={value} />
    </span>
  );
}
