// Where a number comes from, in full: its tree down to the inputs, the way of an error, and the cells that use it.
import "./explain.css";
import { useMemo, useState } from "preact/hooks";
import { showNumber } from "../../app/edition/format";
import type { Session } from "../../app/edition/session";
import { Opener, openAlong } from "../../app/help/explain/rows";
import { explainViewOf } from "../../app/help/explain/session-view";
import { errorTrail } from "../../app/help/explain/trail";
import { explain } from "../../app/help/explain/tree";
import { type Users, usersOf } from "../../app/help/explain/users";
import { cellFormat, type View } from "../../app/help/explain/view";
import { columnWords } from "../../app/help/explain/words";
import { type CellName, cellKeyOf, describeCell, resolveCell, rowLabel, rowOf } from "../../core/document/access";
import { isCellError } from "../../engine/values";
import { CloseActions, Dialog } from "../controls/dialog";
import { goTo } from "../edition/go-to";
import { closeDialog, explainedCellOf } from "../shell/open-dialog";
import { ExplainTree } from "./explain-tree";

/** The panel for the cell that is to be explained. */
export function ExplainDialog({ session }: { readonly session: Session }) {
  const version = session.valuesVersion.value;
  const book = session.book.value;
  const cell = explainedCellOf(session).value;
  const view = useMemo(() => explainViewOf(session), [book, version]);
  if (!cell || !resolveCell(book, cell))
    return (
      <Dialog title="Where it comes from" onClose={closeDialog}>
        <p>Select a cell first: any number on any sheet can be followed back to what was typed.</p>
      </Dialog>
    );
  return <Explained session={session} view={view} cell={cell} key={cellKeyOf(cell)} />;
}

interface ExplainedProps {
  readonly session: Session;
  readonly view: View;
  readonly cell: CellName;
}

function Explained({ session, view, cell }: ExplainedProps) {
  const { root, opener, start, trail } = useMemo(() => {
    const made = { root: explain(view, cell), opener: new Opener(), trail: errorTrail(view, cell) };
    return { ...made, start: openAlong(made.root, made.trail, made.opener) };
  }, [view, cell]);
  const go = (to: CellName) => {
    closeDialog();
    goTo(session, to);
  };
  const percent = (share: number) => `${showNumber(share * 100, 1, 1, session.formats.locale)}\u202f%`;
  return (
    <Dialog title={`Where it comes from: ${root.words}`} onClose={closeDialog} isWide>
      <Head view={view} cell={cell} trail={trail} onGo={go} />
      <p class="quiet" id="explain-keys">
        Arrow keys walk the lines and open them, letters find one, Enter goes to its cell. A bar is a line's share of
        the line it stands under.
      </p>
      <ExplainTree
        label={`What ${root.words} comes from`}
        root={root}
        opener={opener}
        startOpen={start.open}
        startAt={start.last}
        percent={percent}
        onGo={go}
      />
      <UsedBy view={view} cell={cell} onGo={go} />
      <CloseActions onClose={closeDialog}>
        <button type="button" onClick={() => go(cell)}>
          Go to the cell
        </button>
      </CloseActions>
    </Dialog>
  );
}

interface HeadProps {
  readonly view: View;
  readonly cell: CellName;
  readonly trail: readonly CellName[];
  readonly onGo: (cell: CellName) => void;
}

/** What the cell is in words; of an error what is wrong, what to do, and where it began. */
function Head({ view, cell, trail, onGo }: HeadProps) {
  const value = view.value(cell);
  const words = resolveCell(view.book, cell)?.spec.words;
  const start = trail.at(-1);
  return (
    <>
      {words ? <p class="words">{words}</p> : null}
      {isCellError(value) ? (
        <div class="wrong" role="alert">
          <b>{value.title}</b>
          <p>{value.message}</p>
          {start && trail.length > 1 ? (
            <button type="button" onClick={() => onGo(start)} data-testid="error-start">
              It began in {describeCell(view.book, start)}: go there
            </button>
          ) : (
            <p>It begins in this cell.</p>
          )}
        </div>
      ) : null}
    </>
  );
}

interface UsedByProps {
  readonly view: View;
  readonly cell: CellName;
  readonly onGo: (cell: CellName) => void;
}

/** The cells that use this one; looked up when the list is first opened. */
function UsedBy({ view, cell, onGo }: UsedByProps) {
  const [isOpen, setOpen] = useState(false);
  const users = useMemo(() => (isOpen ? usersOf(view, cell) : []), [isOpen, view, cell]);
  return (
    <details class="used-by" onToggle={(event) => setOpen(event.currentTarget.open)} data-testid="used-by">
      <summary>Used by</summary>
      {isOpen && users.length === 0 ? <p class="quiet">No formula names this cell.</p> : null}
      {users.map((one) => (
        <UserList key={`${one.sheet} ${one.column}`} view={view} users={one} onGo={onGo} />
      ))}
    </details>
  );
}

/** How many of a column's cells are listed without being asked for. */
const FEW = 3;
const PAGE = 50;

function UserList({ view, users, onGo }: { view: View; users: Users; onGo: (cell: CellName) => void }) {
  const [shown, setShown] = useState(PAGE);
  const { sheet, column, rows } = users;
  const { book } = view;
  const title = book.sheets[sheet].title;
  const isLines = column === "value";
  const links = rows.slice(0, shown).map((row) => {
    const cell = { sheet, row, column };
    const found = rowOf(book, sheet, row);
    const label = isLines || rows.length <= FEW ? describeCell(book, cell) : found ? rowLabel(sheet, found) : row;
    return (
      <button type="button" class="plain" key={row} onClick={() => onGo(cell)}>
        {label} <b>{view.text(view.value(cell), cellFormat(book, cell))}</b>
      </button>
    );
  });
  if (isLines || rows.length <= FEW) return <div class="users">{links}</div>;
  return (
    <details>
      <summary>
        {view.text(rows.length, undefined)} cells of {title}, {columnWords(book, sheet, column)}
      </summary>
      <div class="users">{links}</div>
      {rows.length > shown ? (
        <button type="button" onClick={() => setShown(shown + PAGE)}>
          {Math.min(PAGE, rows.length - shown)} more
        </button>
      ) : null}
    </details>
  );
}
