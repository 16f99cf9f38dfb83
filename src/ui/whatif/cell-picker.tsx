// Choosing what is asked about: a field that is searched, with the cells that match listed by sheet beneath it.
import "./cell-picker.css";
import { useId, useRef, useState } from "preact/hooks";
import type { AskCell } from "../../app/whatif/whatif-cells";
import { cellKeyOf } from "../../core/document/access";

interface CellPickerProps {
  readonly label: string;
  /** What is chosen now; nothing where the field only adds to a list. */
  readonly chosen?: AskCell;
  /** What matches the words typed, in order. */
  readonly find: (words: string) => readonly AskCell[];
  readonly onChoose: (cell: AskCell) => void;
}

/** A field to choose a cell by its title. */
export function CellPicker({ label, chosen, find, onChoose }: CellPickerProps) {
  const id = useId();
  const input = useRef<HTMLInputElement>(null);
  const [words, setWords] = useState<string | undefined>(undefined);
  const [at, setAt] = useState(0);
  const isOpen = words !== undefined;
  const matches = isOpen ? find(words) : [];
  const active = Math.min(at, matches.length - 1);
  const close = () => setWords(undefined);
  const choose = (cell: AskCell | undefined) => {
    if (cell) onChoose(cell);
    close();
  };
  const onKeyDown = (event: KeyboardEvent) => {
    const move = { ArrowDown: 1, ArrowUp: -1, PageDown: 8, PageUp: -8 }[event.key];
    if (move !== undefined) {
      event.preventDefault();
      if (!isOpen) setWords("");
      else setAt(Math.min(matches.length - 1, Math.max(0, active + move)));
    } else if (event.key === "Enter" && isOpen) {
      event.preventDefault();
      choose(matches[active]);
    } else if (event.key === "Escape" && isOpen) {
      event.stopPropagation();
      close();
    }
  };
  return (
    <div class="picker">
      <label for={`${id}-field`}>{label}</label>
      <input
        id={`${id}-field`}
        ref={input}
        role="combobox"
        autocomplete="off"
        aria-expanded={isOpen}
        aria-controls={`${id}-list`}
        aria-autocomplete="list"
        aria-activedescendant={isOpen && matches.length > 0 ? `${id}-${active}` : undefined}
        placeholder={chosen ? undefined : "Search…"}
        value={words ?? chosen?.title ?? ""}
        onFocus={(event) => event.currentTarget.select()}
        onClick={() => !isOpen && setWords("")}
        onInput={(event) => {
          setWords(event.currentTarget.value);
          setAt(0);
        }}
        onKeyDown={onKeyDown}
        onBlur={close}
      />
      {isOpen ? (
        <div class="matches" id={`${id}-list`} role="listbox" aria-label={label}>
          {matches.length === 0 ? <div class="none">Nothing is called that.</div> : null}
          {matches.map((one, index) => (
            <Option
              key={cellKeyOf(one.cell)}
              id={`${id}-${index}`}
              of={one}
              heading={one.group === matches[index - 1]?.group ? undefined : one.group}
              isActive={index === active}
              onChoose={() => choose(one)}
            />
          ))}
        </div>
      ) : null}
    </div>
  );
}

interface OptionProps {
  readonly id: string;
  readonly of: AskCell;
  readonly heading: string | undefined;
  readonly isActive: boolean;
  readonly onChoose: () => void;
}

function Option({ id, of, heading, isActive, onChoose }: OptionProps) {
  const element = useRef<HTMLDivElement>(null);
  if (isActive) element.current?.scrollIntoView({ block: "nearest" });
  return (
    <>
      {heading === undefined ? null : (
        <div class="heading" role="presentation">
          {heading}
        </div>
      )}
      {/* biome-ignore lint/a11y/useKeyWithClickEvents: the field has the keyboard, and names the active option */}
      <div
        id={id}
        ref={element}
        role="option"
        tabIndex={-1}
        aria-selected={isActive}
        // The field must keep the keyboard, or the list would close before the click.
        onMouseDown={(event) => event.preventDefault()}
        onClick={onChoose}
      >
        {of.title} {of.unit === "" ? null : <small>{of.unit}</small>}
      </div>
    </>
  );
}
