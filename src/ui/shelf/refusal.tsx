import type { Problem } from "../../core/problem";

interface Props {
  readonly problems: readonly Problem[];
  readonly id?: string;
}

/** Why something is not done; it is read out when it comes. */
export function Refusal({ problems, id }: Props) {
  return (
    <div id={id} class="refused" role="alert">
      {problems.map(({ message }) => (
        <p key={message}>{message}</p>
      ))}
    </div>
  );
}
