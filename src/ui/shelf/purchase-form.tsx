// A purchase or a stock-take, typed in one line: Enter writes it down, and the next one can be typed.
import { useRef, useState } from "preact/hooks";
import { shownUnit } from "../../app/edition/display";
import type { Session } from "../../app/edition/session";
import { addPurchase, type PurchaseTyped } from "../../app/shelf/purchases";
import type { Problem } from "../../core/problem";
import { DateInput } from "../controls/date-input";
import { showSheet } from "../edition/go-to";
import { showDialog } from "../shell/open-dialog";
import { Refusal } from "./refusal";

interface Props {
  readonly session: Session;
  /** The material that is looked at. */
  readonly material: string;
  readonly onMaterial: (material: string) => void;
}

const BLANK = { grams: "", paid: "", reference: "" };
const SORTS = [
  ["bought", "Bought"],
  ["counted", "Counted at a stock-take"],
] as const;

/** The form “Add a purchase”. */
export function PurchaseForm({ session, material, onMaterial }: Props) {
  const [sort, setSort] = useState<PurchaseTyped["sort"]>("bought");
  const [date, setDate] = useState(session.today());
  const [typed, setTyped] = useState(BLANK);
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const first = useRef<HTMLInputElement>(null);
  const book = session.book.value;
  const isBought = sort === "bought";
  const field = (key: keyof typeof BLANK, title: string, ref?: typeof first) => (
    <label class="field">
      <span>{title}</span>
      <input
        {...(ref ? { ref } : {})}
        value={typed[key]}
        autocomplete="off"
        maxLength={300}
        aria-describedby={problems.length > 0 ? "purchase-problems" : undefined}
        onInput={(event) => setTyped({ ...typed, [key]: event.currentTarget.value })}
      />
    </label>
  );
  return (
    <form
      class="purchase"
      aria-label={isBought ? "Add a purchase" : "Add a stock-take"}
      onSubmit={(event) => {
        event.preventDefault();
        const found = addPurchase(session, { sort, material, date, ...typed });
        setProblems(found);
        // Several of one delivery share day and reference.
        if (found.length === 0) setTyped({ ...BLANK, reference: isBought ? typed.reference : "" });
        first.current?.focus();
      }}
    >
      <fieldset class="which">
        <legend class="unseen">What is added</legend>
        {SORTS.map(([name, title]) => (
          <label key={name}>
            <input type="radio" name="purchase-sort" checked={sort === name} onChange={() => setSort(name)} />
            {title}
          </label>
        ))}
      </fieldset>
      <label class="field">
        <span>Material</span>
        <select value={material} onChange={(event) => onMaterial(event.currentTarget.value)}>
          {book.sheets.materials.rows.map(({ id, cells }) => (
            <option key={id} value={String(cells.id)}>
              {String(cells.id)}
            </option>
          ))}
        </select>
      </label>
      <label class="field">
        <span>Date</span>
        <DateInput value={date} required onInput={(event) => setDate(event.currentTarget.value)} />
      </label>
      {field("grams", `${isBought ? "Quantity" : "Found"}, ${shownUnit(session, "g")} or as in 5 kg`, first)}
      {isBought ? field("paid", `Paid for it, ${book.meta.currency}`) : null}
      {field("reference", isBought ? "Reference of the bill" : "By whom")}
      <div class="acts">
        <button type="submit" class="act">
          {isBought ? "Add the purchase" : "Add the count"}
        </button>
        <button
          type="button"
          onClick={() => {
            showSheet(session, "purchases");
            showDialog("csv");
          }}
        >
          Many, from a CSV…
        </button>
      </div>
      {problems.length > 0 ? <Refusal id="purchase-problems" problems={problems} /> : null}
    </form>
  );
}
