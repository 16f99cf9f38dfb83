// What the papers share: their heads, facts, boxes to tick, lines to write on and cautions.

import type { ComponentChildren } from "preact";
import type { Fact } from "../../app/paper/source";
import { listed } from "../../core/counted";
import { CAUTION_CLOSING, type Caution } from "../../core/sheets/caution-texts";

/** What stands at the head of every paper. */
export interface Heading {
  readonly edition: string;
  readonly day: string;
  readonly isInvented: boolean;
}

interface LeafProps {
  readonly heading: Heading;
  readonly paper: string;
  readonly title: string;
  readonly count?: string;
  /** Whether it goes on where the leaf before it ends. */
  readonly follows?: boolean;
  readonly children: ComponentChildren;
}

/** One paper: a step, a firing, a card or a statement. */
export function Leaf({ heading, paper, title, count, follows, children }: LeafProps) {
  return (
    <section class={follows ? "leaf follows" : "leaf"}>
      <header>
        <h3>
          {title} {count ? <small>{count}</small> : null}
        </h3>
        <p>
          {paper} · {heading.edition} · {heading.day}
          {heading.isInvented ? " · invented, to try things on" : ""}
        </p>
      </header>
      {children}
    </section>
  );
}

/** Facts side by side. */
export function Facts({ facts }: { readonly facts: readonly Fact[] }) {
  if (facts.length === 0) return null;
  return (
    <dl class="facts">
      {facts.map(({ label, text }) => (
        <div key={label}>
          <dt>{label}</dt>
          <dd>{text}</dd>
        </div>
      ))}
    </dl>
  );
}

/** Facts to be filled in by hand: a line where nothing is known yet. */
export function Lines({ lines }: { readonly lines: readonly Fact[] }) {
  return (
    <dl class="facts to-fill">
      {lines.map(({ label, text }) => (
        <div key={label}>
          <dt>{label}</dt>
          <dd class={text === "" ? "rule" : ""}>{text}</dd>
        </div>
      ))}
    </dl>
  );
}

/** Room to write. */
export function NoteLines({ title, count }: { readonly title: string; readonly count: number }) {
  return (
    <div class="note-lines">
      <h4>{title}</h4>
      {Array.from({ length: count }, (_, at) => (
        <div class="rule" key={at} />
      ))}
    </div>
  );
}

/** A box to tick with a pencil. */
export function Box() {
  return <span class="box" aria-hidden="true" />;
}

/** The names of the cautions, to be seen before the work is begun. */
export function CautionList({ cautions }: { readonly cautions: readonly Caution[] }) {
  if (cautions.length === 0) return null;
  return (
    <p class="mind">
      <b>Mind:</b> {listed(cautions.map(({ title }) => title.toLowerCase()))}. In full at the end of this sheet.
    </p>
  );
}

/** Cautions in full, with where they were published, and whose word comes first. */
export function Cautions({ cautions }: { readonly cautions: readonly Caution[] }) {
  if (cautions.length === 0) return null;
  return (
    <section class="cautions" aria-label="Cautions">
      {cautions.map(({ id, title, text, source }) => (
        <p key={id}>
          <b>{title}.</b> {text} <small>Published: {source}.</small>
        </p>
      ))}
      <p>
        <b>{CAUTION_CLOSING}</b>
      </p>
    </section>
  );
}
