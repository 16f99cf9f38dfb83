// The head of a table; the browser repeats it on every printed page the table runs over.

interface HeadProps {
  readonly titles: readonly string[];
  /** How many of the last columns hold numbers. */
  readonly numbers?: number;
}

/** One title over each column. */
export function TableHead({ titles, numbers = 0 }: HeadProps) {
  return (
    <thead>
      <tr>
        {titles.map((title, at) => (
          <th scope="col" key={`${at}`} class={at >= titles.length - numbers ? "number" : undefined}>
            {title}
          </th>
        ))}
      </tr>
    </thead>
  );
}
