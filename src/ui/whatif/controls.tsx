// How each question is asked.
import { chanceSettings, setChance } from "../../app/whatif/whatif-apply";
import { type AskCell, askCell, findInputs, findResults, lossCell, plannedSteps } from "../../app/whatif/whatif-cells";
import type { WhatIfDesk } from "../../app/whatif/whatif-desk";
import { numberToday, sweepRange } from "../../app/whatif/whatif-ranges";
import type { Settings, SweptRange } from "../../app/whatif/whatif-settings";
import { rowLabel } from "../../core/document/access";
import { sameCell } from "../../whatif/run/case-matrix";
import { CellPicker } from "./cell-picker";
import { NumberField, Slider } from "./number-field";
import { MOST_LISTED, SweptRangeFields } from "./range-fields";

interface DeskProps {
  readonly desk: WhatIfDesk;
}

const MOST_RESULTS = 6;

/** The fields and sliders of the question that is asked. */
export function Controls({ desk }: DeskProps) {
  const settings = desk.settings.value;
  switch (settings.question) {
    case "losses":
      return (
        <>
          <LossSliders desk={desk} />
          <ResultsChoice desk={desk} />
        </>
      );
    case "sweep":
      return (
        <>
          <SweptFields desk={desk} label="Input" part="sweep" />
          <TrySliders desk={desk} all={[settings.sweep]} />
          <ResultsChoice desk={desk} />
        </>
      );
    case "table":
      return (
        <>
          <SweptFields desk={desk} label="Across" part="across" />
          <SweptFields desk={desk} label="Down" part="down" />
          <AimChoice desk={desk} />
          <AimNumber desk={desk} label="Line where it is" part="level" />
          <TrySliders desk={desk} all={[settings.across, settings.down]} />
        </>
      );
    case "ranking":
      return (
        <>
          <AimChoice desk={desk} />
          <CellPicker
            label="Rank one more input"
            find={(words) => findInputs(desk.session.book.value, words, MOST_LISTED)}
            onChoose={({ cell }) =>
              settings.ranked.some((one) => sameCell(one, cell)) || desk.change({ ranked: [...settings.ranked, cell] })
            }
          />
          <p class="quiet">
            A range is yours where you type one, Wilson's 95 % interval where losses were counted, and a tenth either
            way otherwise. Ranges are kept in the edition.
          </p>
        </>
      );
    case "breakEven":
      return (
        <>
          <SweptFields desk={desk} label="Which input" part="breakEven" />
          <AimChoice desk={desk} />
          <AimNumber desk={desk} label="is to be" part="target" />
        </>
      );
    case "cases":
      return (
        <>
          <AnyInput desk={desk} />
          <ResultsChoice desk={desk} />
        </>
      );
    case "chance":
      return <ChanceFields desk={desk} />;
  }
}

function LossSliders({ desk }: DeskProps) {
  const { session } = desk;
  const book = session.book.value;
  return (
    <fieldset>
      <legend>Planned loss at each step</legend>
      {plannedSteps(book).map((row) => {
        const of = askCell(book, lossCell(row.id));
        return of ? (
          <OneSlider key={row.id} desk={desk} of={of} title={rowLabel("route", row)} {...sweepRange(session, of)} />
        ) : null;
      })}
    </fieldset>
  );
}

interface OneSliderProps extends DeskProps {
  readonly of: AskCell;
  readonly title: string;
  readonly low: number;
  readonly high: number;
}

function OneSlider({ desk, of, title, low, high }: OneSliderProps) {
  const tried = desk.tried.value.find((one) => sameCell(one.cell, of.cell));
  const value = tried?.value ?? numberToday(desk.session, of.cell);
  return (
    <Slider
      session={desk.session}
      onChange={(moved) => desk.try(of.cell, moved)}
      {...{ of, title, low, high, value }}
    />
  );
}

/** Sliders for inputs that are swept. */
function TrySliders({ desk, all }: DeskProps & { readonly all: readonly SweptRange[] }) {
  return (
    <fieldset>
      <legend>Try it at</legend>
      {all.map((range) => {
        const of = askCell(desk.session.book.value, range.input);
        if (!of) return null;
        const usual = sweepRange(desk.session, of);
        const { low = usual.low, high = usual.high } = range;
        return <OneSlider key={of.title} title={of.title} {...{ desk, of, low, high }} />;
      })}
    </fieldset>
  );
}

type SweptPart = "sweep" | "across" | "down" | "breakEven";

function SweptFields({ desk, label, part }: DeskProps & { readonly label: string; readonly part: SweptPart }) {
  return (
    <SweptRangeFields
      session={desk.session}
      label={label}
      range={desk.settings.value[part]}
      onChange={(range) => desk.change({ [part]: range } as Partial<Settings>)}
    />
  );
}

function AimChoice({ desk }: DeskProps) {
  const book = desk.session.book.value;
  const of = askCell(book, desk.settings.value.aim);
  return of ? (
    <CellPicker
      label="Result"
      chosen={of}
      find={(words) => findResults(book, words)}
      onChoose={({ cell }) => desk.change({ aim: cell })}
    />
  ) : null;
}

function AimNumber({ desk, label, part }: DeskProps & { readonly label: string; readonly part: "level" | "target" }) {
  const of = askCell(desk.session.book.value, desk.settings.value.aim);
  if (!of) return null;
  // A result has no limits of its own, and may be compared with any number.
  const free = { ...of, isWhole: false };
  return (
    <NumberField
      session={desk.session}
      of={free}
      label={label}
      value={desk.settings.value[part]}
      onChange={(value) => desk.change({ [part]: value } as Partial<Settings>)}
    />
  );
}

function ResultsChoice({ desk }: DeskProps) {
  const book = desk.session.book.value;
  const { results } = desk.settings.value;
  return (
    <fieldset>
      <legend>Results looked at</legend>
      <ul class="chips">
        {results.map((cell) => (
          <li key={cell.row}>
            {askCell(book, cell)?.title}
            {results.length > 1 ? (
              <button
                type="button"
                class="plain"
                aria-label={`Leave out ${askCell(book, cell)?.title}`}
                onClick={() => desk.change({ results: results.filter((one) => !sameCell(one, cell)) })}
              >
                ×
              </button>
            ) : null}
          </li>
        ))}
      </ul>
      {results.length < MOST_RESULTS ? (
        <CellPicker
          label="Show one more"
          find={(words) => findResults(book, words)}
          onChoose={({ cell }) =>
            results.some((one) => sameCell(one, cell)) || desk.change({ results: [...results, cell] })
          }
        />
      ) : null}
    </fieldset>
  );
}

/** Any input may be set in the case that is tried. */
function AnyInput({ desk }: DeskProps) {
  const { session } = desk;
  const book = session.book.value;
  return (
    <fieldset>
      <legend>The case being tried</legend>
      {desk.tried.value.map(({ cell }) => {
        const of = askCell(book, cell);
        return of ? (
          <OneSlider key={of.title} desk={desk} of={of} title={of.title} {...sweepRange(session, of)} />
        ) : null;
      })}
      <CellPicker
        label="Change one more input"
        find={(words) => findInputs(book, words, MOST_LISTED)}
        onChoose={(of) => {
          const today = numberToday(session, of.cell);
          const { low, high } = sweepRange(session, of);
          desk.try(of.cell, today === high ? low : high);
        }}
      />
    </fieldset>
  );
}

function ChanceFields({ desk }: DeskProps) {
  const { session } = desk;
  const is = chanceSettings(session);
  const money = askCell(session.book.value, { sheet: "edition", row: "packing", column: "value" });
  if (!money) return null;
  const whole = {
    ...money,
    unit: "",
    isWhole: true,
    spec: { kind: "input", type: "number", min: 0, whole: true },
  } as const;
  const set = (part: keyof typeof is, least: number, most: number) => (value: number) =>
    setChance(session, { [part]: Math.min(most, Math.max(least, value)) });
  return (
    <fieldset>
      <legend>What is at stake</legend>
      <NumberField
        session={session}
        of={money}
        label="A piece short costs, beyond the sale"
        value={is.shortfall}
        onChange={set("shortfall", 0, 1e9)}
      />
      <NumberField
        session={session}
        of={money}
        label="A good piece too many costs, beyond its making"
        value={is.surplus}
        onChange={set("surplus", 0, 1e9)}
      />
      <NumberField session={session} of={whole} label="Draws" value={is.draws} onChange={set("draws", 100, 1e6)} />
      <NumberField
        session={session}
        of={whole}
        label="Seed of the draws"
        value={is.seed}
        onChange={set("seed", 0, 2 ** 31)}
      />
      <p class="quiet">These are kept in the edition. The same seed gives the same draws.</p>
    </fieldset>
  );
}
