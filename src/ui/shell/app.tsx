// The whole page.
import { useEffect } from "preact/hooks";
import { redo, undo } from "../../app/commands/commands";
import { isCardSheet } from "../../app/edition/sheet-ways";
import { SHORTCUTS, type Shortcut, typesWithAlt } from "../../app/help/shortcuts";
import { resumeBackup, saveFile } from "../../app/keeping/file-commands";
import type { Studio } from "../../app/keeping/studio";
import { Card, hasCard } from "../card/card";
import { useNarrow } from "../controls/narrow";
import { asGridOf, focusWish } from "../edition/go-to";
import { River } from "../edition/river";
import { shownRows } from "../edition/rows-shown";
import { SheetPane } from "../edition/sheet-pane";
import { Tools } from "../edition/tools";
import { AnyPage } from "./any-page";
import { Figures } from "./figures";
import { Header } from "./header";
import { lazily } from "./lazily";
import { guardLostFocus } from "./lost-focus";
import { openDialog, showDialog, showExplained } from "./open-dialog";
import { SheetList } from "./sheet-list";
import { loadNewest, type Update } from "./update";

const FOCUS_TARGETS = {
  find: "#choose-pieces, input.find",
  card: "#card",
} as const;

/** Brings the keyboard to the sheet, or to the page that stands in its place. */
function toSheet(): void {
  const shown = document.querySelector<HTMLElement>("#sheet");
  if (shown?.matches(".grid-host")) focusWish.value += 1;
  else shown?.focus();
}

function runShortcut(shortcut: Shortcut, studio: Studio): void {
  const session = studio.session.value;
  switch (shortcut.id) {
    case "undo":
      if (session) undo(session);
      break;
    case "redo":
      if (session) redo(session);
      break;
    case "save":
      void saveFile(studio);
      break;
    case "search":
    case "help":
      showDialog(shortcut.id);
      break;
    case "explain": {
      const selection = session?.selection.value;
      if (session) showExplained(session, selection && { sheet: selection.sheet, ...selection.anchor });
      break;
    }
    case "grid":
      toSheet();
      break;
    case "sheets": {
      const list = document.querySelector<HTMLElement>("#sheets");
      // In a narrow window the list is opened first.
      if (list?.checkVisibility() === false) list.showPopover();
      document.querySelector<HTMLElement>("#sheets [aria-current]")?.focus();
      break;
    }
    default:
      document.querySelector<HTMLElement>(FOCUS_TARGETS[shortcut.id])?.focus();
  }
}

function isTyping(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLElement && target.matches("input, textarea, select") && target.closest(".grid-host") === null
  );
}

/** Whether the event writes text on one of Apple's keyboards; the sheet has a field too, empty until a cell is edited. */
function writesText(event: KeyboardEvent): boolean {
  const { target } = event;
  if (!(target instanceof HTMLInputElement || target instanceof HTMLTextAreaElement)) return false;
  return (
    typesWithAlt(event) &&
    /^(Mac|iP)/.test(navigator.platform) &&
    (target.value !== "" || !target.closest(".grid-host"))
  );
}

interface AppProps {
  readonly studio: Studio;
  readonly update: Update;
  readonly openDemo: () => void;
}

/** The page of a studio; `openDemo` makes a fresh demo edition. */
export function App({ studio, update, openDemo }: AppProps) {
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (openDialog.value !== undefined || event.defaultPrevented || writesText(event)) return;
      const shortcut = SHORTCUTS.find((one) => one.matches(event) && (one.whileTyping || !isTyping(event.target)));
      if (!shortcut) return;
      event.preventDefault();
      event.stopPropagation();
      runShortcut(shortcut, studio);
    };
    window.addEventListener("keydown", onKey, { capture: true });
    return () => window.removeEventListener("keydown", onKey, { capture: true });
  }, [studio]);
  useEffect(() => {
    const root = document.querySelector("#app");
    return root ? guardLostFocus(root) : undefined;
  }, []);
  const hasEdits = (studio.open?.edits.value ?? 0) > 0;
  useEffect(() => {
    if (hasEdits) void fetchForKeeping().then(() => offerOnce(studio));
  }, [hasEdits]);
  const edition = studio.editionId.value;
  useEffect(() => {
    if (edition !== undefined) void resumeBackup(studio);
  }, [edition]);
  const session = studio.session.value;
  const dialog = openDialog.value;
  const isNarrow = useNarrow();
  if (!session)
    return (
      <div class="empty">
        {studio.problems.value.length === 0 ? <p>Opening your edition…</p> : null}
        {studio.problems.value.map((problem) => (
          <p key={problem.message} role="alert">
            {problem.message}
          </p>
        ))}
        {studio.problems.value.length === 0 ? null : (
          <button type="button" onClick={() => void loadNewest(update)}>
            Load the page again
          </button>
        )}
      </div>
    );
  const sheet = session.sheet.value;
  const cardSheet = isCardSheet(sheet) && shownRows(session).length > 0 ? sheet : undefined;
  return (
    <div class={hasCard(session) ? "page with-card" : "page"}>
      <button type="button" class="skip" onClick={toSheet}>
        To the sheet
      </button>
      <Header studio={studio} />
      <Figures session={session} />
      <SheetList session={session} />
      <main class="middle">
        {studio.benchTimer.value ? <LazyTimer studio={studio} timer={studio.benchTimer.value} /> : null}
        {hasKeepingNews(studio, update) ? <LazyKeeping studio={studio} update={update} /> : null}
        {session.page.value === undefined ? (
          <div class={session.sheet.value === "results" ? "sheet-view story-first" : "sheet-view"} key={session}>
            {session.book.value.meta.invented ? <LazyInvitation session={session} studio={studio} /> : null}
            {sheet === "pieces" ? <River session={session} /> : null}
            {sheet === "results" ? <LazyResults session={session} /> : null}
            <Tools session={session} />
            {shownRows(session).length === 0 ? <LazyEmpty session={session} /> : null}
            {isNarrow && !asGridOf(session).value && !cardSheet ? (
              <LazyRowList key={sheet} session={session} />
            ) : (
              <SheetPane session={session} />
            )}
            {cardSheet ? <LazyCards key={cardSheet} session={session} sheet={cardSheet} /> : null}
          </div>
        ) : (
          <AnyPage key={session} session={session} page={session.page.value} studio={studio} />
        )}
      </main>
      {hasCard(session) ? <Card key={session} session={session} /> : null}
      <section class="notices" role="log" aria-live="polite" aria-label="Messages">
        {session.notices.value.length > 0 ? <LazyNotices session={session} /> : null}
      </section>
      {studio.leaving.value ? <LazyLeaving studio={studio} /> : null}
      {dialog === undefined ? null : <LazyDialog name={dialog} studio={studio} openDemo={openDemo} />}
    </div>
  );
}

const LazyNotices = lazily(() => import("./notices").then(({ Notices }) => Notices));
/** What an invented edition invites to. */
const LazyInvitation = lazily(() => import("../help/invitation").then(({ Invitation }) => Invitation));
/** The story above the Results sheet. */
const LazyResults = lazily(() => import("../settle/results-panel").then(({ ResultsPanel }) => ResultsPanel));
/** The rows of short sheets as cards. */
const LazyCards = lazily(() => import("../plan/row-cards").then(({ RowCards }) => RowCards));
/** Those of the others as a list, on a phone. */
const LazyRowList = lazily(() => import("../edition/row-list").then(({ RowList }) => RowList));
const LazyEmpty = lazily(() => import("../edition/empty-sheet").then(({ EmptySheet }) => EmptySheet));
const LazyKeeping = lazily(() => import("../keeping/keeping-bar").then(({ KeepingBar }) => KeepingBar));
const LazyTimer = lazily(() => import("../record/timer-strip").then(({ TimerStrip }) => TimerStrip));
const LazyLeaving = lazily(() => import("../keeping/leaving-dialog").then(({ LeavingDialog }) => LeavingDialog));
/** The studio's shelf is offered with the first edit; where its part can't be had, another time. */
const offerOnce = (studio: Studio) =>
  import("../../app/shelf/offer").then(
    ({ offerShelf }) => offerShelf(studio),
    () => undefined,
  );
/** What saving and handing over need, fetched at the first edit: a host that is renewed later has it no more. */
const fetchForKeeping = () =>
  Promise.allSettled([
    import("../keeping/keeping-bar"),
    import("../../app/keeping/studio-files"),
    import("../../core/document/difference"),
  ]);
const LazyDialog = lazily(() => import("./all-dialogs").then(({ AnyDialog }) => AnyDialog));

/** Whether there is anything to say about keeping. */
function hasKeepingNews(studio: Studio, update: Update): boolean {
  return (
    studio.refused.value.length > 0 ||
    studio.saveState.value.kind === "failed" ||
    studio.lock.value === "following" ||
    update.ready.value !== "no" ||
    (studio.open?.unsaved.aside.value.length ?? 0) > 0 ||
    studio.backup.value?.waits === true ||
    [studio.damaged, studio.newer, studio.open?.outrun, studio.preview, studio.files.reminder].some(
      (news) => news?.value !== undefined,
    )
  );
}
