// The tree of where a number comes from, walked by keyboard: arrows, Home and End, letters; Enter goes to the cell.
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import type { ExplainedPart, Joins } from "../../app/help/explain/part";
import { type Line, linesOf, type Opener } from "../../app/help/explain/rows";
import type { CellName } from "../../core/document/access";
import { isCellError } from "../../engine/values";

interface TreeProps {
  readonly label: string;
  readonly root: ExplainedPart;
  readonly opener: Opener;
  readonly startOpen: readonly string[];
  readonly startAt: string;
  readonly percent: (share: number) => string;
  readonly onGo: (cell: CellName) => void;
}

/** A tree that opens a line at a time. */
export function ExplainTree({ label, root, opener, startOpen, startAt, percent, onGo }: TreeProps) {
  const [open, setOpen] = useState<ReadonlySet<string>>(() => new Set(startOpen));
  const [at, setAt] = useState(startAt);
  const list = useRef<HTMLDivElement>(null);
  const typed = useRef({ text: "", when: 0 });
  const lines = linesOf(root, open, opener);
  const current = Math.max(
    0,
    lines.findIndex(({ path }) => path === at),
  );
  const focusLine = () => list.current?.querySelector<HTMLElement>('[tabindex="0"]')?.focus();
  useLayoutEffect(focusLine, [at]);
  // The first time, once the dialog has opened: opening moves the keyboard to its first button.
  useEffect(() => queueMicrotask(focusLine), []);
  const toggle = (line: Line) => {
    if (!line.part.open) return;
    const next = new Set(open);
    if (line.isOpen) next.delete(line.path);
    else next.add(line.path);
    setOpen(next);
    // A line that gives way to what it stands for leaves the keyboard on the first of them.
    const [first] = line.part.role === "more" ? opener.open(line.part).parts : [];
    if (first) setAt(`${line.path.slice(0, -line.part.key.length)}${first.key}`);
  };
  const act = (line: Line) => (line.part.cell ? onGo(line.part.cell) : toggle(line));
  const onKeyDown = (event: KeyboardEvent) => {
    const line = lines[current];
    if (!line || event.ctrlKey || event.metaKey || event.altKey) return;
    const wanted = keyMove(event, lines, current, typed.current);
    if (wanted !== undefined) setAt(lines[wanted]?.path ?? at);
    else if (event.key === "Enter") act(line);
    else if (event.key === " " || event.key === (line.isOpen ? "ArrowLeft" : "ArrowRight")) toggle(line);
    else if (event.key !== "ArrowLeft" && event.key !== "ArrowRight") return;
    event.preventDefault();
    event.stopPropagation();
  };
  return (
    <div role="tree" aria-label={label} class="explained" ref={list} onKeyDown={onKeyDown} data-testid="explained">
      {lines.map((line, index) => (
        <TreeLine
          key={line.path}
          line={line}
          percent={percent}
          isCurrent={index === current}
          onPick={() => setAt(line.path)}
          onToggle={() => toggle(line)}
          onAct={() => act(line)}
        />
      ))}
    </div>
  );
}

/** Where a key leads, if it only moves: up and down, to the ends, into an open line, out to the one above, or to letters. */
function keyMove(
  { key, timeStamp }: KeyboardEvent,
  lines: readonly Line[],
  at: number,
  typed: { text: string; when: number },
): number | undefined {
  const line = lines[at];
  switch (key) {
    case "ArrowDown":
      return Math.min(lines.length - 1, at + 1);
    case "ArrowUp":
      return Math.max(0, at - 1);
    case "Home":
      return 0;
    case "End":
      return lines.length - 1;
    case "ArrowRight":
      return line?.isOpen && lines[at + 1] ? at + 1 : undefined;
    case "ArrowLeft": {
      if (!line || line.isOpen) return undefined;
      const above = lines.slice(0, at).findLastIndex(({ level }) => level < line.level);
      return above < 0 ? at : above;
    }
    default:
      // A space is a letter only within words that are being typed.
      return key.length === 1 && (key !== " " || timeStamp - typed.when < TYPING_MS)
        ? letterMove(key, timeStamp, lines, at, typed)
        : undefined;
  }
}

/** Letters that follow each other faster than this belong together. */
const TYPING_MS = 800;

/** Letters typed one after the other lead to the next line that begins with them. */
function letterMove(
  key: string,
  when: number,
  lines: readonly Line[],
  at: number,
  typed: { text: string; when: number },
): number {
  typed.text = when - typed.when < TYPING_MS ? typed.text + key.toLowerCase() : key.toLowerCase();
  typed.when = when;
  const from = typed.text.length === 1 ? at + 1 : at;
  const order = [...lines.keys()].map((_, step) => (from + step) % lines.length);
  return order.find((one) => lines[one]?.part.words.toLowerCase().startsWith(typed.text)) ?? at;
}

interface LineProps {
  readonly line: Line;
  readonly percent: (share: number) => string;
  readonly isCurrent: boolean;
  readonly onPick: () => void;
  readonly onToggle: () => void;
  readonly onAct: () => void;
}

function TreeLine({ line, percent, isCurrent, onPick, onToggle, onAct }: LineProps) {
  const { part, level, isOpen, position, among, isCalculated } = line;
  const share = part.joins.kind === "term" ? part.joins.share : undefined;
  const notes = isCalculated ? [...part.notes, "as calculated; these are the cells its formula names"] : part.notes;
  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: the tree handles the keys of all its lines
    <div
      role="treeitem"
      aria-level={level}
      aria-posinset={position}
      aria-setsize={among}
      {...(part.open ? { "aria-expanded": isOpen } : {})}
      aria-selected={isCurrent}
      tabIndex={isCurrent ? 0 : -1}
      class={`${part.role}${isCellError(part.value) ? " has-error" : ""}`}
      style={{ "--level": level }}
      onClick={onPick}
      onDblClick={onAct}
    >
      <span
        class="twist"
        aria-hidden="true"
        onClick={(event) => {
          event.stopPropagation();
          onPick();
          onToggle();
        }}
      >
        {part.open ? (part.role === "more" ? "↓" : isOpen ? "▾" : "▸") : "\u00a0"}
      </span>
      <span class="what">
        {part.joins.kind === "given" && part.joins.name !== "" ? (
          <small class="quiet">{part.joins.name}: </small>
        ) : null}
        {part.words}
        {notes.map((note) => (
          <small class="quiet note" key={note}>
            {note}
          </small>
        ))}
      </span>
      <b class="how-much">
        {signOf(part.joins, position)}
        {part.text}
      </b>
      <Share share={share} percent={percent} />
    </div>
  );
}

function signOf(joins: Joins, position: number): string {
  if (joins.kind === "factor") return joins.sign === "×" && position === 1 ? "" : `${joins.sign}\u00a0`;
  return joins.kind === "term" && joins.sign === "−" ? "−\u00a0" : "";
}

function Share({
  share,
  percent,
}: {
  readonly share: number | undefined;
  readonly percent: (share: number) => string;
}) {
  if (share === undefined) return <span class="share" />;
  const width = `${Math.min(100, Math.abs(share) * 100)}%`;
  return (
    <span class={share < 0 ? "share less" : "share"}>
      <i style={{ inlineSize: width }} />
      <span>{percent(share)}</span>
    </span>
  );
}
