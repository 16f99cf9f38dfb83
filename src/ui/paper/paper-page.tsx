// The page of papers: choose one, see it, print it whole.
import "../shell/pages.css";
import "./paper.css";
import { signal } from "@preact/signals";
import { useEffect, useMemo } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import type { PrintPlatform } from "../../app/keeping/studio-platform";
import { type PaperChoice, type PaperName, paperChoiceOf, usualPaper } from "../../app/paper/choice";
import { type LabelSetup, labelSetupOf } from "../../app/paper/label-setup";
import { MARGINS_MM, PAPER_SIZES, type PaperSetup } from "../../storage/preferences";
import { PageWords } from "../controls/page-words";
import { settledOf, Unsettled } from "../settle/settled";
import { NamedRows, Select, Tick } from "./choice-fields";
import { LabelChoices } from "./label-choices";
import { makePaper } from "./made";
import { Printed } from "./printed";

const TITLES: Readonly<Record<PaperName, string>> = {
  bench: "Bench sheet",
  firing: "Firing sheet",
  card: "Piece card",
  label: "Labels",
  certificate: "Certificate",
  statement: "Edition statement",
  editions: "Editions side by side",
};
const NAMES = Object.keys(TITLES) as PaperName[];

const MARGIN_TITLES: Readonly<Record<PaperSetup["marginMm"], string>> = {
  10: "10 mm",
  15: "15 mm",
  25: "25 mm, room to file",
};

/** The paper of this browser, once it is known. */
const setup = signal<PaperSetup | undefined>(undefined);
/** What stands on labels in this browser. */
const labelSetup = signal<LabelSetup>(labelSetupOf());

interface PaperPageProps {
  readonly session: Session;
  readonly platform: PrintPlatform;
}

/** Bench sheets, firing sheets, piece cards and the edition statement. */
export function PaperPage({ session, platform }: PaperPageProps) {
  const { locale } = session.formats;
  const paper = setup.value ?? usualPaper(locale);
  useEffect(() => {
    void platform.preferences.get("paper").then((held) => {
      if (held.ok && held.value) setup.value = held.value;
    });
    void platform.preferences.get("labels").then((held) => {
      if (held.ok) labelSetup.value = labelSetupOf(held.value);
    });
  }, [platform]);
  const setPaper = (is: Partial<PaperSetup>) => {
    setup.value = { ...paper, ...is };
    void platform.preferences.set("paper", setup.value);
  };
  const putLabels = (is: Partial<LabelSetup>) => {
    labelSetup.value = { ...labelSetup.value, ...is };
    void platform.preferences.set("labels", { ...labelSetup.value });
  };
  const choice = paperChoiceOf(session).value;
  const labels = labelSetup.value;
  // What is made follows from the document, its values and the choice.
  const [book, version] = [session.book.value, session.valuesVersion.value];
  const made = useMemo(
    () => makePaper(session, choice, labels, paper.size),
    [...[session, book, version, choice, labels, paper.size]],
  );
  const isReady = session.engineState.value === "ready";
  const summary = made.ok ? made.value.summary || made.value.none : "";
  return (
    <article class="paper papers" id="sheet" tabIndex={-1} aria-label="Paper" data-testid="papers">
      <style>{choice.paper === "label" ? bareRule(paper) : pageRule(paper)}</style>
      <header class="unprinted">
        <h2>Paper</h2>
        <PageWords page="paper" />
      </header>
      <Which session={session} choice={choice} />
      <Choices
        session={session}
        choice={choice}
        steps={made.ok ? made.value.steps : undefined}
        labels={labels}
        putLabels={putLabels}
      />
      <div class="paper-tools unprinted">
        <Select
          label="Paper size"
          value={paper.size}
          options={PAPER_SIZES.map((size) => [size, size])}
          onChange={(size) => setPaper({ size })}
        />
        {choice.paper === "label" ? null : (
          <Select
            label="Margins"
            value={paper.marginMm}
            options={MARGINS_MM.map((mm) => [mm, MARGIN_TITLES[mm]])}
            onChange={(marginMm) => setPaper({ marginMm })}
          />
        )}
        <button
          type="button"
          class="act"
          disabled={!isReady || !made.ok || made.value.summary === ""}
          onClick={() => platform.print()}
        >
          Print…
        </button>
        <span class="quiet" role="status" data-testid="paper-summary">
          {isReady ? summary : "Printing waits until everything is calculated."}
        </span>
      </div>
      {made.ok ? (
        <>
          {made.value.leftOut === "" ? null : <p class="quiet unprinted">{made.value.leftOut}</p>}
          <div class="on-paper" style={{ "--margin": `${paper.marginMm}mm`, "--width": WIDTHS[paper.size] }}>
            <Printed draw={made.value.draw} />
          </div>
        </>
      ) : (
        <Refused session={session} choice={choice} problems={made.problems.map(({ message }) => message)} />
      )}
    </article>
  );
}

/** Size, margins and, where a browser has boxes in its margins, page numbers; its papers are numbered in any (paper.css). */
const pageRule = ({ size, marginMm }: PaperSetup) =>
  `@page { size: ${size}; margin: ${marginMm}mm; @bottom-right { content: "page " counter(page) " of " counter(pages); font: 8pt sans-serif; } }`;

/** A page without margins: labels bring their own. */
const bareRule = ({ size }: PaperSetup) => `@page { size: ${size}; margin: 0; }`;

const WIDTHS: Readonly<Record<PaperSetup["size"], string>> = { A4: "210mm", Letter: "8.5in" };

interface RefusedProps {
  readonly session: Session;
  readonly choice: PaperChoice;
  readonly problems: readonly string[];
}

/** Why there is no paper: it does not add up, or nothing is called what was typed. */
function Refused({ session, choice, problems }: RefusedProps) {
  const needsSettling = choice.paper === "statement" || (choice.paper === "card" && choice.withCost);
  const settled = needsSettling ? settledOf(session) : undefined;
  if (settled && !settled.ok) return <Unsettled session={session} result={settled} />;
  return (
    <div class="problem unprinted" role="alert" data-testid="paper-refused">
      {problems.map((message) => (
        <p key={message}>{message}</p>
      ))}
    </div>
  );
}

interface WhichProps {
  readonly session: Session;
  readonly choice: PaperChoice;
}

function Which({ session, choice }: WhichProps) {
  return (
    <fieldset class="which unprinted">
      <legend class="unseen">Which paper</legend>
      {NAMES.map((name) => (
        <label key={name}>
          <input
            type="radio"
            name="which-paper"
            checked={choice.paper === name}
            onChange={() => {
              paperChoiceOf(session).value = { ...choice, paper: name };
            }}
          />
          {TITLES[name]}
        </label>
      ))}
    </fieldset>
  );
}

interface ChoicesProps extends WhichProps {
  readonly steps:
    | readonly { readonly step: string; readonly title: string; readonly pieces: readonly unknown[] }[]
    | undefined;
  readonly labels: LabelSetup;
  readonly putLabels: (is: Partial<LabelSetup>) => void;
}

/** What of the chosen paper is to be printed. */
function Choices({ session, choice, steps, labels, putLabels }: ChoicesProps) {
  const set = (is: Partial<PaperChoice>) => {
    paperChoiceOf(session).value = { ...choice, ...is };
  };
  if (choice.paper === "statement" || choice.paper === "editions") return null;
  const isLabel = choice.paper === "label" || choice.paper === "certificate";
  return (
    <div class="paper-tools unprinted">
      {choice.paper === "firing" ? (
        <NamedRows
          label="Firings"
          hint="such as G4, 6-8; blank is all"
          value={choice.firings}
          onInput={(firings) => set({ firings })}
        />
      ) : (
        <NamedRows
          label="Pieces"
          hint={`such as 41-60, 66, 70-; blank is all${isLabel ? " that are finished and good" : ""}`}
          value={choice.pieces}
          onInput={(pieces) => set({ pieces })}
        />
      )}
      {choice.paper === "bench" ? <Steps choice={choice} steps={steps ?? []} set={set} /> : null}
      {choice.paper === "card" ? (
        <>
          <Tick label="With cost and notes" value={choice.withCost} onChange={(withCost) => set({ withCost })} />
          <Tick label="A page for each card" value={choice.cardAPage} onChange={(cardAPage) => set({ cardAPage })} />
        </>
      ) : null}
      {choice.paper === "certificate" ? (
        <Tick label="A page for each" value={choice.cardAPage} onChange={(cardAPage) => set({ cardAPage })} />
      ) : null}
      {isLabel ? <LabelChoices choice={choice} set={set} setup={labels} put={putLabels} /> : null}
    </div>
  );
}

interface StepsProps {
  readonly choice: PaperChoice;
  readonly steps: NonNullable<ChoicesProps["steps"]>;
  readonly set: (is: Partial<PaperChoice>) => void;
}

function Steps({ choice, steps, set }: StepsProps) {
  const put = (step: string, isOn: boolean) => {
    const without = new Set(choice.without);
    if (isOn) without.delete(step);
    else without.add(step);
    set({ without });
  };
  if (steps.length === 0) return null;
  return (
    <fieldset class="steps-on">
      <legend>Steps</legend>
      {steps.map(({ step, title, pieces }) => (
        <Tick
          key={step}
          label={`${title} (${pieces.length})`}
          value={!choice.without.has(step)}
          onChange={(isOn) => put(step, isOn)}
        />
      ))}
    </fieldset>
  );
}
