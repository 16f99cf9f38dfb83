// A field whose text is taken when it is left. What is typed stands until then, whatever is calculated meanwhile.
import { useState } from "preact/hooks";

interface Props {
  /** What the edition has. */
  readonly value: string;
  readonly maxLength: number;
  readonly "aria-label"?: string;
  readonly onTaken: (typed: string) => void;
}

/** A text of the edition, in a field. */
export function TextEntry({ value, onTaken, ...rest }: Props) {
  const [typed, setTyped] = useState<string | undefined>(undefined);
  return (
    <input
      {...rest}
      value={typed ?? value}
      onInput={({ currentTarget }) => setTyped(currentTarget.value)}
      onChange={({ currentTarget }) => {
        onTaken(currentTarget.value);
        // What was refused gives way to what the edition has.
        setTyped(undefined);
      }}
    />
  );
}
