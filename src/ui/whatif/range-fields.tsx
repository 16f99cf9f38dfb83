// Which input, and between what it is looked over.
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
  readonly looked: SweptRange;
  readonly onChange: (looked: SweptRange) => void;
}

/** The choice of an input with the ends of its range. */
export function SweptRangeFields({ session, label, looked, onChange }: SweptRangeFieldsProps) {
  const book = session.book.value;
  const of = askCell(book, looked.input);
  if (!of) return null;
  const usual = sweepRange(session, of);
  return (
    <div class="looked">
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
          value={looked.low ?? usual.low}
          onChange={(low) => onChange({ ...looked, low })}
        />
        <NumberField
          session={session}
          of={of}
          label="to"
          value={looked.high ?? usual.high}
          onChange={(high) => onChange({ ...looked, high })}
        />
      </div>
    </div>
  );
}
