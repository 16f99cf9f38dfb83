// How labels and certificates are made: the sheet, what stands on them, the words.
import "./labels.css";
import type { PaperChoice } from "../../app/paper/choice";
import {
  LABEL_PARTS,
  type LabelPart,
  type LabelSetup,
  MEASURE_NAMES,
  MEASURES,
  WORDS_MOST,
} from "../../app/paper/label-setup";
import { Select, Tick } from "./choice-fields";

const PART_TITLES: Readonly<Record<LabelPart, string>> = {
  materials: "What it is made of",
  firings: "How it was fired",
  finished: "When it was finished",
  words: "My own words",
  care: "How to care for it",
  food: "Food",
};

const NUMBERING_TITLES = [
  ["own", "By its own number"],
  ["counted", "Finished ones counted from 1"],
] as const;

const FOOD_TITLES = [
  ["decoration", "For decoration, not for food"],
  ["tested", "What a laboratory found"],
  ["unsaid", "Nothing"],
] as const;

interface Props {
  readonly choice: PaperChoice;
  readonly set: (is: Partial<PaperChoice>) => void;
  readonly setup: LabelSetup;
  readonly put: (is: Partial<LabelSetup>) => void;
}

/** The fields for both papers; those of the sheet for labels only. */
export function LabelChoices({ choice, set, setup, put }: Props) {
  const { without } = setup;
  const isLabel = choice.paper === "label";
  return (
    <div class="label-fields">
      {isLabel ? <SheetFields choice={choice} set={set} setup={setup} put={put} /> : null}
      <fieldset class="steps-on">
        <legend>On it</legend>
        {LABEL_PARTS.map((part) => (
          <Tick
            key={part}
            label={PART_TITLES[part]}
            value={!without.includes(part)}
            onChange={(isOn) => put({ without: isOn ? without.filter((one) => one !== part) : [...without, part] })}
          />
        ))}
      </fieldset>
      <Select
        label="Numbered"
        value={setup.numbering}
        options={NUMBERING_TITLES}
        onChange={(numbering) => put({ numbering })}
      />
      <Select label="Of food it says" value={setup.food} options={FOOD_TITLES} onChange={(food) => put({ food })} />
      {setup.food === "tested" ? (
        <Words
          label="What was found: laboratory, report, day"
          value={setup.tested}
          onInput={(tested) => put({ tested })}
        />
      ) : null}
      <Words label="My own words" value={setup.words} onInput={(words) => put({ words })} />
      <Words label="How to care for it" value={setup.care} onInput={(care) => put({ care })} />
      <p class="quiet">
        {setup.numbering === "counted"
          ? "Counting moves when an earlier piece is finished later: number for good once the edition is. "
          : ""}
        Saggar can’t know whether a piece is fit for food. A laboratory’s test and the rules where it is sold come
        first; some prescribe the words and how large they are (in the United States, <cite>21 CFR 109.16</cite>). On a
        piece with lustre it always stands that the lustre is decoration.
      </p>
    </div>
  );
}

function SheetFields({ choice, set, setup, put }: Props) {
  return (
    <>
      {MEASURE_NAMES.map((name) => {
        const [least, most, title] = MEASURES[name];
        const isCount = name === "columns" || name === "rows";
        return (
          <NumberField
            key={name}
            label={title}
            value={setup[name]}
            least={least}
            most={most}
            step={isCount ? 1 : 0.1}
            onValue={(value) => put({ [name]: value })}
          />
        );
      })}
      <NumberField
        label="Begin at label"
        value={choice.startAt}
        least={1}
        most={300}
        step={1}
        onValue={(startAt) => set({ startAt })}
      />
    </>
  );
}

interface NumberProps {
  readonly label: string;
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly step: number;
  /** NaN for what is blank or no number. */
  readonly onValue: (value: number) => void;
}

function NumberField({ label, value, least, most, step, onValue }: NumberProps) {
  return (
    <label>
      <span>{label}</span>
      <input
        type="number"
        min={least}
        max={most}
        step={step}
        defaultValue={Number.isNaN(value) ? "" : String(value)}
        onInput={(event) => onValue(event.currentTarget.valueAsNumber)}
      />
    </label>
  );
}

interface WordsProps {
  readonly label: string;
  readonly value: string;
  readonly onInput: (text: string) => void;
}

function Words({ label, value, onInput }: WordsProps) {
  return (
    <label>
      <span>{label}</span>
      <textarea maxLength={WORDS_MOST} value={value} onInput={(event) => onInput(event.currentTarget.value)} />
    </label>
  );
}
