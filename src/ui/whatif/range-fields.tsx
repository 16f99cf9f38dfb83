// Which input, and between what it is swept.
import type { Session } from "../../app/edition/session";
import { askCell, findInputs } from "../../app/whatif/whatif-cells";
import { sweepRange } from "../../app/whatif/whatif-ranges";
import type { SweptRange } from "../../app/whatif/whatif-settings";
import { CellPicker } from "./cell-picker";
import { NumberField } from "./number-field";

/** How many matches a list shows. */
export const MOST_LISTED = 120;

interface SweptRangeFieldsProps {
  readonly session: Session;
  readonly label: string;
  readonly range: SweptRange;
  readonly onChange: (range: SweptRange) => void;
}

/** The choice of an input with the ends of its range. */
export function SweptRangeFields({ session, label, range, onChange }: SweptRangeFieldsProps) {
  const book = session.book.value;
  const of = askCell(book, range.input);
  if (!of) return null;
  const usual = sweepRange(session, of);
  return (
    <div class="swept">
      <CellPicker
        label={label}
        chosen={of}
        find={(words) => findInputs(book, words, MOST_LISTED)}
        onChoose={({ cell }) => onChange({ input: cell })}
      />
      <div class="ends">
        <NumberField
          session={session}
          of={of}
          label="from"
          value={range.low ?? usual.low}
          onChange={(low) => onChange({ ...range, low })}
        />
        <NumberField
          session={session}
          of={of}
          label="to"
          value={range.high ?? usual.high}
          onChange={(high) => onChange({ ...range, high })}
        />
      </div>
    </div>
  );
}
