// Help: how to do the usual things, words, functions with examples to try, keys, cautions. One box searches them all.
import { useEffect, useState } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import { GLOSSARY } from "../../app/help/glossary";
import { HOW_TO, type HowTo } from "../../app/help/how-to";
import { SHORTCUTS } from "../../app/help/shortcuts";
import { CAUTION_CLOSING, CAUTIONS } from "../../core/sheets/caution-texts";
import { FUNCTIONS } from "../../engine/functions/index";
import { Dialog } from "../controls/dialog";
import { goTo } from "../edition/go-to";
import { closeDialog, helpWishOf } from "../shell/open-dialog";
import { FunctionHelp } from "./function-help";

const PARTS = ["How to", "Words", "Functions", "Keys", "Cautions"] as const;
type HelpPart = (typeof PARTS)[number];

/** Whether every word of a search is in a text. */
function has(text: string, search: string): boolean {
  const low = text.toLowerCase();
  return search
    .toLowerCase()
    .split(/\s+/)
    .every((word) => low.includes(word));
}

export function HelpDialog({ session }: { readonly session: Session }) {
  const [search, setSearch] = useState(() => helpWishOf(session).peek());
  useEffect(() => {
    helpWishOf(session).value = "";
  }, []);
  const [part, setPart] = useState<HelpPart>("How to");
  const howTo = HOW_TO.filter((one) => has(`${one.title} ${one.text}`, search));
  const words = GLOSSARY.filter((one) => has(`${one.word} ${one.meaning}`, search));
  const functions = FUNCTIONS.filter((one) => has(`${one.name} ${one.summary} ${one.family}`, search));
  const keys = SHORTCUTS.filter((one) => has(`${one.title} ${one.keys}`, search));
  const cautions = Object.values(CAUTIONS).filter((one) => has(`${one.title} ${one.text}`, search));
  const found: Readonly<Record<HelpPart, number>> = {
    "How to": howTo.length,
    Words: words.length,
    Functions: functions.length,
    Keys: keys.length,
    Cautions: cautions.length,
  };
  // A search that finds nothing in the part in view shows the first part where it does.
  const shown = found[part] > 0 ? part : (PARTS.find((one) => found[one] > 0) ?? part);
  return (
    <Dialog title="Help" onClose={closeDialog} isWide>
      <label class="field">
        <span>Look for</span>
        <input
          type="search"
          placeholder="a word, a function, a wish: refire, kWh, price…"
          value={search}
          onInput={(event) => setSearch(event.currentTarget.value)}
        />
      </label>
      <fieldset class="parts">
        <legend class="unseen">Part of the help</legend>
        {PARTS.map((one) => (
          <button
            key={one}
            type="button"
            aria-pressed={shown === one}
            disabled={found[one] === 0}
            onClick={() => setPart(one)}
          >
            {one} <span class="count">{found[one]}</span>
          </button>
        ))}
      </fieldset>
      {found[shown] === 0 ? (
        <p class="quiet" role="status">
          Nothing here mentions “{search}”. Ordinary functions, such as SUM, IF and ROUNDUP, work in formulas too.
        </p>
      ) : null}
      <div class="help-part">
        {shown === "How to" ? <HowToHelp session={session} topics={howTo} /> : null}
        {shown === "Words" ? (
          <dl>
            {words.map((one) => (
              <div key={one.word}>
                <dt>
                  {one.word} {one.of === "workbook" ? <small class="quiet">in this workbook</small> : null}
                </dt>
                <dd>{one.meaning}</dd>
              </div>
            ))}
          </dl>
        ) : null}
        {shown === "Functions" ? <FunctionHelp session={session} functions={functions} /> : null}
        {shown === "Keys" ? (
          <table class="plain-table">
            <tbody>
              {keys.map((shortcut) => (
                <tr key={shortcut.id}>
                  <th scope="row">{shortcut.title}</th>
                  <td>{shortcut.keys}</td>
                </tr>
              ))}
            </tbody>
          </table>
        ) : null}
        {shown === "Cautions"
          ? cautions.map((caution) => (
              <p key={caution.id}>
                <b>{caution.title}.</b> {caution.text} <small class="quiet">Published: {caution.source}.</small>
              </p>
            ))
          : null}
        {shown === "Cautions" ? <p>{CAUTION_CLOSING}</p> : null}
      </div>
      <div class="actions">
        <button type="button" class="act" onClick={closeDialog}>
          Close
        </button>
      </div>
    </Dialog>
  );
}

function HowToHelp({ session, topics }: { readonly session: Session; readonly topics: readonly HowTo[] }) {
  const open = (topic: HowTo) => {
    closeDialog();
    session.page.value = topic.page;
    session.sheet.value = topic.sheet;
    if (topic.cell) goTo(session, { sheet: topic.sheet, ...topic.cell });
  };
  return (
    <>
      <dl>
        {topics.map((topic) => (
          <div key={topic.id}>
            <dt>{topic.title}</dt>
            <dd>
              {topic.text}{" "}
              <button type="button" class="link" onClick={() => open(topic)} aria-label={`${topic.title}: go there`}>
                Go there
              </button>
            </dd>
          </div>
        ))}
      </dl>
      <p class="quiet">
        In a sheet, underlined cells take an entry; the others are computed. ◂ marks a computed value that was given by
        hand; slanted grey is what an entry starts from. Arrows move, Enter or F2 edits, Delete clears, Ctrl C and Ctrl
        V copy and paste. Shift with Space takes the whole row, Ctrl with Space the whole column; with the mouse, a
        press in the margin at the left of a row or beside a column's title. Press Escape, then Tab, to leave the sheet
        by keyboard.
      </p>
    </>
  );
}
