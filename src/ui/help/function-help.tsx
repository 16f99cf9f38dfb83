// The functions of the workbook, each with an example that can be changed and tried.
import { useState } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import { tryFormula } from "../../app/edition/try-formula";
import { allowedArgument } from "../../engine/functions/arguments";
import type { FunctionDeclaration } from "../../engine/functions/declare";

interface Props {
  readonly session: Session;
  readonly functions: readonly FunctionDeclaration[];
}

/** A list of functions, by family. */
export function FunctionHelp({ session, functions }: Props) {
  const families = [...new Set(functions.map((one) => one.family))];
  return (
    <>
      {families.map((family) => (
        <section key={family}>
          <h3>{family}</h3>
          {functions
            .filter((one) => one.family === family)
            .map((one) => (
              <article key={one.name} class="function-help">
                <h4 class="mono">
                  {one.name}({one.parameters.map((parameter) => parameter.name).join(", ")})
                </h4>
                <p>
                  {one.summary} {one.unit ? `Gives ${one.unit}.` : ""}
                </p>
                <ul class="quiet">
                  {one.parameters.map((parameter) => (
                    <li key={parameter.name}>
                      {parameter.name}: {parameter.what} ({allowedArgument(parameter)})
                    </li>
                  ))}
                </ul>
                <TryIt session={session} of={one} />
                <p class="quiet">
                  <small>Source: {one.source}</small>
                </p>
              </article>
            ))}
        </section>
      ))}
    </>
  );
}

/** The example of a function in a field of its own, calculated by the engine of the open edition. */
function TryIt({ session, of }: { readonly session: Session; readonly of: FunctionDeclaration }) {
  const [example] = of.examples;
  const [typed, setTyped] = useState(example?.formula ?? "");
  const [answer, setAnswer] = useState(example ? { good: true, text: String(example.gives) } : undefined);
  // A list in braces stands for a column; in a workbook the column itself is named.
  if (!example || /\{[\d."]/.test(example.formula))
    return example ? (
      <p class="mono">
        {example.formula} gives {example.gives}
      </p>
    ) : null;
  return (
    <form
      class="try"
      onSubmit={(event) => {
        event.preventDefault();
        void tryFormula(session, typed).then((result) =>
          setAnswer(
            result.ok
              ? { good: true, text: result.value }
              : { good: false, text: result.problems.map(({ message }) => message).join(" ") },
          ),
        );
      }}
    >
      <input
        class="mono"
        aria-label={`Example of ${of.name}`}
        value={typed}
        onInput={(event) => {
          setTyped(event.currentTarget.value);
          setAnswer(undefined);
        }}
      />
      <button type="submit">Try it</button>
      <output class={answer && !answer.good ? "wrong" : undefined}>{answer ? `gives ${answer.text}` : ""}</output>
    </form>
  );
}
