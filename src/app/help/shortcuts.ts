// The keys, in one table: the page listens by it and the help shows it.

export interface Shortcut {
  readonly id: "undo" | "redo" | "save" | "find" | "card" | "sheets" | "grid" | "explain" | "search" | "help";
  readonly title: string;
  readonly keys: string;
  readonly matches: (event: KeyEvent) => boolean;
  /** Whether it also works while text is being typed. */
  readonly whileTyping: boolean;
}

/** What of a keyboard event the table looks at. */
interface KeyEvent {
  readonly key: string;
  /** The key by its place, whatever it types. */
  readonly code: string;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly shiftKey: boolean;
  readonly altKey: boolean;
}

const withControl = (event: KeyEvent) => (event.ctrlKey || event.metaKey) && !event.altKey;

/** With Alt, Apple's keyboards type another character than the one on the key, and others have digits behind Shift. */
const withAlt = (event: KeyEvent, key: string, code: string) =>
  event.altKey &&
  !event.ctrlKey &&
  !event.metaKey &&
  (event.key.toLowerCase() === key || (event.code === code && !/^[a-z0-9]$/i.test(event.key)));

/** Whether Alt types what text needs and keys don't show, as `{`, `#` or `€` on many of Apple's keyboards. */
export const typesWithAlt = ({ altKey, key }: KeyEvent) => altKey && /^[!-/:-@[-`{-~€]$/.test(key);

export const SHORTCUTS: readonly Shortcut[] = [
  {
    id: "undo",
    title: "Undo",
    keys: "Ctrl Z",
    whileTyping: false,
    matches: (e) => withControl(e) && !e.shiftKey && e.key.toLowerCase() === "z",
  },
  {
    id: "redo",
    title: "Redo",
    keys: "Ctrl Shift Z or Ctrl Y",
    whileTyping: false,
    matches: (e) => withControl(e) && ((e.shiftKey && e.key.toLowerCase() === "z") || e.key.toLowerCase() === "y"),
  },
  {
    id: "save",
    title: "Save as a file",
    keys: "Ctrl S",
    whileTyping: true,
    matches: (e) => withControl(e) && !e.shiftKey && e.key.toLowerCase() === "s",
  },
  {
    id: "sheets",
    title: "To the list of sheets",
    keys: "Alt 1",
    whileTyping: true,
    matches: (e) => withAlt(e, "1", "Digit1"),
  },
  {
    id: "find",
    title: "To the box that chooses pieces, or finds text",
    keys: "Alt 2",
    whileTyping: true,
    matches: (e) => withAlt(e, "2", "Digit2"),
  },
  { id: "grid", title: "To the sheet", keys: "Alt 3", whileTyping: true, matches: (e) => withAlt(e, "3", "Digit3") },
  {
    id: "card",
    title: "To the card of the selected cell",
    keys: "Alt 4",
    whileTyping: true,
    matches: (e) => withAlt(e, "4", "Digit4"),
  },
  {
    id: "explain",
    title: "Where the selected cell comes from",
    keys: "Alt 5",
    whileTyping: true,
    matches: (e) => withAlt(e, "5", "Digit5"),
  },
  {
    id: "search",
    title: "Search everything",
    keys: "Alt 6",
    whileTyping: true,
    matches: (e) => withAlt(e, "6", "Digit6"),
  },
  {
    id: "help",
    title: "Help: functions, keys, cautions",
    keys: "Alt H",
    whileTyping: true,
    matches: (e) => withAlt(e, "h", "KeyH"),
  },
];
