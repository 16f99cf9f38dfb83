// The case that is tried: what it changes, and what may become of it.
import { useState } from "preact/hooks";
import { caseText, keepCase, useCase } from "../../app/whatif/whatif-apply";
import type { WhatIfDesk } from "../../app/whatif/whatif-desk";

/** The bar at the foot of every question. */
export function TryingBar({ desk }: { readonly desk: WhatIfDesk }) {
  const { session } = desk;
  const tried = desk.tried.value;
  const [name, setName] = useState<string | undefined>(undefined);
  if (tried.length === 0)
    return (
      <section class="trying" aria-label="The case being tried">
        <span class="quiet">Nothing in the edition changes while you try. What you try can then be used or kept.</span>
      </section>
    );
  const keep = (event: Event) => {
    event.preventDefault();
    if (keepCase(session, name ?? "", tried)) setName(undefined);
  };
  return (
    <section class="trying is-on" aria-label="The case being tried">
      <span data-testid="trying">
        <b>Being tried:</b> {caseText(session, tried)}
      </span>
      {name === undefined ? (
        <>
          <button type="button" class="act" onClick={() => useCase(session, tried)}>
            Use this case
          </button>
          <button type="button" onClick={() => setName("")}>
            Keep as a case…
          </button>
          <button type="button" onClick={() => desk.tryAll([])}>
            Back to today
          </button>
        </>
      ) : (
        <form onSubmit={keep}>
          <label>
            <span class="unseen">Name of the case</span>
            <input
              value={name}
              maxLength={120}
              placeholder="Name of the case"
              ref={(element) => element?.focus()}
              onInput={(event) => setName(event.currentTarget.value)}
              onKeyDown={(event) => event.key === "Escape" && setName(undefined)}
            />
          </label>
          <button type="submit" class="act">
            Keep it
          </button>
          <button type="button" onClick={() => setName(undefined)}>
            Do not keep it
          </button>
        </form>
      )}
    </section>
  );
}
