// Numbers of a what-if: typed with every digit, or drawn along a range.
import "./number-field.css";
import { useEffect, useId, useState } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import { type AskCell, fieldText, readField, valueText } from "../../app/whatif/whatif-cells";
import { numberToday, sliderStep } from "../../app/whatif/whatif-ranges";

interface NumberFieldProps {
  readonly session: Session;
  readonly of: AskCell;
  readonly label: string;
  /** Whether the label is only read out. */
  readonly isLabelUnseen?: boolean;
  readonly value: number;
  readonly onChange: (value: number) => void;
}

/** A number typed by the rules of its cell; what can't be read gets a message and changes nothing. */
export function NumberField({ session, of, label, isLabelUnseen, value, onChange }: NumberFieldProps) {
  const id = useId();
  const shown = fieldText(session, of, value);
  const [typed, setTyped] = useState(shown);
  const [wrong, setWrong] = useState("");
  useEffect(() => {
    setTyped(shown);
    setWrong("");
  }, [shown]);
  const take = () => {
    if (typed === shown) return setWrong("");
    const read = readField(session, of, typed);
    if (!read.ok) return setWrong(read.problems[0]?.message ?? "");
    setWrong("");
    onChange(read.value);
  };
  return (
    <span class="number">
      <label for={id} class={isLabelUnseen ? "unseen" : ""}>
        {label}
      </label>
      <span class="with-unit">
        <input
          id={id}
          autocomplete="off"
          value={typed}
          aria-invalid={wrong !== ""}
          aria-describedby={wrong === "" ? undefined : `${id}-wrong`}
          onInput={(event) => setTyped(event.currentTarget.value)}
          onChange={take}
          onBlur={take}
          onKeyDown={(event) => event.key === "Enter" && take()}
        />
        <small>{of.spec.format === "percent" ? "%" : of.unit}</small>
      </span>
      {wrong === "" ? null : (
        <small class="wrong" id={`${id}-wrong`} role="alert">
          {wrong}
        </small>
      )}
    </span>
  );
}

interface SliderProps {
  readonly session: Session;
  readonly of: AskCell;
  readonly title: string;
  readonly low: number;
  readonly high: number;
  readonly value: number;
  readonly onChange: (value: number | undefined) => void;
}

/** A slider with an exact field beside it; says what the input is today, and gives it back. */
export function Slider({ session, of, title, low, high, value, onChange }: SliderProps) {
  const id = useId();
  const today = numberToday(session, of.cell);
  const from = Number.isNaN(today) ? low : Math.min(low, today);
  const to = Number.isNaN(today) ? high : Math.max(high, today);
  const step = sliderStep(of, from, to);
  const stands = Number.isNaN(value) ? 0 : value;
  const isMoved = stands !== (today || 0);
  const tidy = (moved: number) => {
    // The browser counts its steps from the low end; today's own value and round numbers are what a finger means.
    const round = Number((Math.round(moved / step) * step).toPrecision(10));
    const kept = Math.min(to, Math.max(from, round));
    return Math.abs(kept - today) < step / 2 ? today : kept;
  };
  return (
    <div class={`slider${isMoved ? " moved" : ""}`} data-testid={`slider-${of.cell.row}`}>
      <label for={id}>{title}</label>
      <NumberField session={session} of={of} label={title} isLabelUnseen value={stands} onChange={onChange} />
      <input
        id={id}
        type="range"
        min={from}
        max={to}
        step="any"
        value={stands}
        aria-valuetext={valueText(session, of, stands)}
        onInput={(event) => onChange(tidy(event.currentTarget.valueAsNumber))}
        onKeyDown={(event) => {
          const steps = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 10, PageDown: -10 }[
            event.key
          ];
          if (steps === undefined) return;
          event.preventDefault();
          const moved = Math.min(to, Math.max(from, stands + steps * step));
          onChange(Number((Math.round(moved / step) * step).toPrecision(10)));
        }}
      />
      <small class="quiet">
        {isMoved ? (
          <button type="button" class="linked" onClick={() => onChange(undefined)} title={`${title}: back to today`}>
            today {valueText(session, of, today || 0)}
          </button>
        ) : (
          "as today"
        )}
      </small>
    </div>
  );
}
