interface Props {
  readonly value: string;
  readonly id?: string;
  readonly name?: string;
  readonly required?: boolean;
  readonly onInput?: (event: Typed) => void;
  readonly onChange?: (event: Typed) => void;
}
type Typed = { readonly currentTarget: HTMLInputElement };

/** A field for a day. WebKit shows today in an empty one, as if it were set: the style sheet is told which is blank. */
export function DateInput({ value, ...rest }: Props) {
  return <input {...rest} type="date" class={value === "" ? "blank" : undefined} value={value} />;
}
