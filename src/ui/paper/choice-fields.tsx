// The fields in which a paper is chosen.

interface NamedProps {
  readonly label: string;
  readonly hint: string;
  readonly value: string;
  readonly onInput: (text: string) => void;
}

export function NamedRows({ label, hint, value, onInput }: NamedProps) {
  return (
    <label>
      <span>
        {label}, {hint}
      </span>
      <input class="choose" value={value} maxLength={2000} onInput={(event) => onInput(event.currentTarget.value)} />
    </label>
  );
}

interface TickProps {
  readonly label: string;
  readonly value: boolean;
  readonly onChange: (isOn: boolean) => void;
}

export function Tick({ label, value, onChange }: TickProps) {
  return (
    <label class="tick-label">
      <input type="checkbox" checked={value} onChange={(event) => onChange(event.currentTarget.checked)} />
      {label}
    </label>
  );
}

interface SelectProps<T extends string | number> {
  readonly label: string;
  readonly value: T;
  readonly options: readonly (readonly [value: T, title: string])[];
  readonly onChange: (value: T) => void;
}

export function Select<T extends string | number>({ label, value, options, onChange }: SelectProps<T>) {
  return (
    <label>
      <span>{label}</span>
      <select
        value={value}
        onChange={(event) => {
          const chosen = options[event.currentTarget.selectedIndex];
          if (chosen) onChange(chosen[0]);
        }}
      >
        {options.map(([of, title]) => (
          <option key={of} value={of}>
            {title}
          </option>
        ))}
      </select>
    </label>
  );
}
