import type { Problem } from "../../core/problem";

/** What makes a calendar impossible. */
export function Impossible({ problems }: { readonly problems: readonly Problem[] }) {
  return (
    <div class="problem" role="alert" data-testid="impossible">
      <b>It can never be ready like this.</b>
      <ul>
        {problems.map(({ message }) => (
          <li key={message}>{message}</li>
        ))}
      </ul>
    </div>
  );
}
