// One field that finds everything: a quiet list under it, in groups, each line with where it leads.
import "./search.css";
import { useMemo, useRef, useState } from "preact/hooks";
import { redo, undo } from "../../app/commands/commands";
import type { Session } from "../../app/edition/session";
import { type Found, type Searchable, searchEdition } from "../../app/help/search";
import { saveFile } from "../../app/keeping/file-commands";
import type { Studio } from "../../app/keeping/studio";
import { isShelf, SHELF_SHEETS } from "../../core/document/shelf-kind";
import type { SheetKey } from "../../core/document/workbook";
import { CloseActions, Dialog } from "../controls/dialog";
import { goTo, showPage, showSheet } from "../edition/go-to";
import { closeDialog, helpWishOf, type OpenDialog, showDialog } from "../shell/open-dialog";
import { pageTitles } from "../shell/sheet-list";

interface Action {
  readonly title: string;
  /** The sheet it is done on. */
  readonly sheet?: SheetKey;
  readonly run: OpenDialog | ((studio: Studio, session: Session) => void);
}

const ACTIONS: readonly Action[] = [
  { title: "Start an edition", run: "start" },
  { title: "Editions: open, file, copies", run: "editions" },
  { title: "Title, currency, units", sheet: "edition", run: "edition" },
  { title: "Add an input", sheet: "edition", run: "input" },
  { title: "Add a step", sheet: "route", run: "step" },
  { title: "Add pieces", sheet: "pieces", run: "pieces" },
  { title: "Add a column to the pieces", sheet: "pieces", run: "column" },
  { title: "Draw and add programmes", sheet: "programmes", run: "programme" },
  { title: "Bring pieces in from CSV, or save them as CSV", sheet: "pieces", run: "csv" },
  { title: "Save the papers for the accountant", run: "pack" },
  { title: "Help", run: "help" },
  { title: "Save as a file", run: (studio) => void saveFile(studio) },
  { title: "What was done, and back to any step of it", run: "done" },
  { title: "Undo", run: (_, session) => undo(session) },
  { title: "Redo", run: (_, session) => redo(session) },
];

interface Props {
  readonly studio: Studio;
  readonly session: Session;
}

/** The dialog of the search. */
export function SearchDialog({ studio, session }: Props) {
  const [typed, setTyped] = useState("");
  const [chosen, setChosen] = useState(0);
  const list = useRef<HTMLDivElement>(null);
  // A line chosen is no new question; numbers that have moved are.
  const [book, values] = [session.book.value, session.valuesVersion.value];
  const found = useMemo(
    () => searchEdition(session, typed, { pages: pagesOf(session), actions: actionsOf() }),
    [session, typed, book, values],
  );
  const at = Math.min(chosen, found.length - 1);
  const move = (by: number) => {
    const next = Math.max(0, Math.min(found.length - 1, at + by));
    setChosen(next);
    list.current?.querySelectorAll('[role="option"]')[next]?.scrollIntoView({ block: "nearest" });
  };
  const open = (one: Found) => lead(studio, session, one);
  return (
    <Dialog title="Search everything" onClose={closeDialog} isWide>
      <label class="field">
        <span>What are you looking for?</span>
        <input
          type="text"
          role="combobox"
          autocomplete="off"
          placeholder="a piece number, a step, a price, a word, something to do"
          aria-expanded={found.length > 0}
          aria-controls="search-found"
          aria-activedescendant={found.length > 0 ? `found-${at}` : undefined}
          value={typed}
          onInput={(event) => {
            setTyped(event.currentTarget.value);
            setChosen(0);
          }}
          onKeyDown={(event) => {
            const by = { ArrowDown: 1, ArrowUp: -1, PageDown: 7, PageUp: -7 }[event.key];
            const one = found[at];
            if (by !== undefined) move(by);
            else if (event.key === "Enter" && one) open(one);
            else return;
            event.preventDefault();
          }}
        />
      </label>
      <p class="quiet" role="status">
        {typed.trim() === ""
          ? "Arrow keys choose a line, Enter goes there."
          : found.length === 0
            ? `Nothing is called “${typed.trim()}”, and no cell says so. Fewer or shorter words find more.`
            : `${found.length} found`}
      </p>
      <div class="search-found" id="search-found" role="listbox" aria-label="What was found" ref={list}>
        {found.map((one, index) => (
          <FoundLine
            key={`${one.kind} ${one.title} ${one.note}`}
            one={one}
            id={`found-${index}`}
            isFirst={found[index - 1]?.kind !== one.kind}
            isChosen={index === at}
            onOpen={() => open(one)}
          />
        ))}
      </div>
      <CloseActions onClose={closeDialog} />
    </Dialog>
  );
}

interface LineProps {
  readonly one: Found;
  readonly id: string;
  /** Whether it is the first of its kind, and so stands under a heading. */
  readonly isFirst: boolean;
  readonly isChosen: boolean;
  readonly onOpen: () => void;
}

function FoundLine({ one, id, isFirst, isChosen, onOpen }: LineProps) {
  return (
    <>
      {isFirst ? (
        <h3 role="presentation" class="found-kind">
          {one.kind}
        </h3>
      ) : null}
      {/* biome-ignore lint/a11y/useKeyWithClickEvents: the field has the keyboard, and Enter in it opens the chosen line */}
      {/* biome-ignore lint/a11y/useFocusableInteractive: the field points at it as its active option */}
      <div
        role="option"
        id={id}
        aria-selected={isChosen}
        aria-label={`${one.kind}: ${one.title}, ${one.note}`}
        onClick={onOpen}
      >
        <span>{one.title}</span>
        <small class="quiet">{one.note}</small>
      </div>
    </>
  );
}

function pagesOf(session: Session): readonly Searchable[] {
  const { sheets } = session.book.value;
  const isOfShelf = isShelf(session.book.value);
  const pages = pageTitles().filter(({ page }) => !isOfShelf || page === "shelf");
  return [
    ...pages.map(({ page, title }) => ({ title, note: "page", to: { kind: "page", page } as const })),
    ...(isOfShelf ? SHELF_SHEETS : (Object.keys(sheets) as SheetKey[])).map((sheet) => ({
      title: sheets[sheet].title,
      note: "sheet",
      to: { kind: "sheet", sheet } as const,
    })),
  ];
}

const actionsOf = (): readonly Searchable[] =>
  ACTIONS.map(({ title }) => ({ title, note: "do it", to: { kind: "action", action: title } }));

/** Goes where something found leads. */
function lead(studio: Studio, session: Session, { to }: Found): void {
  closeDialog();
  switch (to.kind) {
    case "cell":
      goTo(session, to.cell);
      return;
    case "page":
      showPage(session, to.page);
      return;
    case "sheet":
      showSheet(session, to.sheet);
      return;
    case "help":
      helpWishOf(session).value = to.word;
      showDialog("help");
      return;
    case "action": {
      const action = ACTIONS.find(({ title }) => title === to.action);
      if (action?.sheet) showSheet(session, action.sheet);
      if (typeof action?.run === "string") showDialog(action.run);
      else action?.run(studio, session);
    }
  }
}
