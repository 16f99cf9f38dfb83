// CSV out and in: the file is shown with what it would do before anything is touched, and is one undo step after.
import { useEffect, useState } from "preact/hooks";
import { CsvImport } from "../../app/csv/csv-import";
import type { Session } from "../../app/edition/session";
import type { Studio } from "../../app/keeping/studio";
import { openBook } from "../../app/keeping/studio-files";
import { CSV_OR_ZIP_FILE, chooseFile } from "../../storage/files";
import { Dialog } from "../controls/dialog";
import { closeDialog } from "../shell/open-dialog";
import { CsvExport } from "./csv-export";
import { CsvShown } from "./csv-shown";

/** The sheet in view, out as CSV and back in; a whole workbook out and in as a zip. */
export function CsvDialog({ studio, session }: { readonly studio: Studio; readonly session: Session }) {
  const title = session.book.value.sheets[session.sheet.value].title;
  const [importing] = useState(() => new CsvImport(studio.importPlatform(session)));
  useEffect(() => () => importing.close(), []);
  const state = importing.state.value;
  const take = async (file: File) => {
    if (!file.name.toLowerCase().endsWith(".zip")) return importing.takeFile(file);
    const book = await importing.takeZip(file);
    if (!book) return;
    await openBook(studio, book, file.name);
    closeDialog();
  };
  return (
    <Dialog title={`${title} as CSV`} onClose={closeDialog} isWide>
      <DropPlace importing={importing} take={(file) => void take(file)}>
        {state.kind === "waiting" || state.kind === "refused" ? (
          <>
            <CsvExport session={session} />
            <Begin session={session} importing={importing} take={take} />
          </>
        ) : null}
        {state.kind === "working" ? <Working importing={importing} /> : null}
        {state.kind === "shown" ? (
          <CsvShown session={session} importing={importing} preview={state.preview} report={state.report} />
        ) : null}
      </DropPlace>
    </Dialog>
  );
}

interface DropProps {
  readonly importing: CsvImport;
  readonly take: (file: File) => void;
  readonly children: preact.ComponentChildren;
}

/** Takes a file that is dropped, or text that is pasted, anywhere in the dialog but in a field. */
function DropPlace({ importing, take, children }: DropProps) {
  useEffect(() => {
    const paste = (event: ClipboardEvent) => {
      const text = event.clipboardData?.getData("text/plain") ?? "";
      if (text === "" || event.target instanceof HTMLInputElement || event.target instanceof HTMLTextAreaElement)
        return;
      event.preventDefault();
      void importing.takeText(text);
    };
    document.addEventListener("paste", paste);
    return () => document.removeEventListener("paste", paste);
  }, []);
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: dropping is a second way; the button is the first
    <div
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        event.preventDefault();
        const file = event.dataTransfer?.files[0];
        const text = event.dataTransfer?.getData("text/plain") ?? "";
        if (file) take(file);
        else if (text !== "") void importing.takeText(text);
      }}
    >
      {children}
    </div>
  );
}

interface BeginProps {
  readonly session: Session;
  readonly importing: CsvImport;
  readonly take: (file: File) => Promise<void>;
}

function Begin({ session, importing, take }: BeginProps) {
  const state = importing.state.value;
  const choose = async () => {
    const file = await chooseFile(CSV_OR_ZIP_FILE);
    if (!file.ok) importing.state.value = { kind: "refused", problems: file.problems };
    else if (file.value) await take(file.value);
  };
  return (
    <>
      <h3>Bring a file in</h3>
      {state.kind === "refused"
        ? state.problems.slice(0, 8).map((problem) => (
            <p class="wrong" role="alert" key={problem.message}>
              {problem.message}
            </p>
          ))
        : null}
      <p class="quiet">
        Choose it, drop it here, or paste a table. Rows are matched by their{" "}
        {session.sheet.value === "pieces" ? "piece number" : "name"}, and you see what would change before anything
        does. A zip of a whole workbook opens as an edition of its own.
        {session.sheet.value === "route"
          ? " Losses of an earlier edition come in from its Route file, or from losses.csv of its papers for the accountant."
          : ""}
      </p>
      <div class="actions">
        <button type="button" onClick={closeDialog}>
          Close
        </button>
        <button type="button" class="act" onClick={() => void choose()}>
          Choose a file…
        </button>
      </div>
    </>
  );
}

const DOING = {
  reading: "Reading the file",
  packing: "Packing it",
  unpacking: "Unpacking it",
  parting: "Splitting it into columns",
  checking: "Checking its lines",
} as const;

function Working({ importing }: { readonly importing: CsvImport }) {
  const state = importing.state.value;
  const progress = state.kind === "working" ? state.progress : undefined;
  return (
    <>
      <p role="status">
        {progress ? DOING[progress.doing] : "Beginning"}…
        {progress?.doing === "checking" ? ` ${progress.done} of ${progress.of}` : ""}
      </p>
      <progress aria-label="How far the file has been read" max={progress?.of ?? 1} value={progress?.done ?? 0} />
      <div class="actions">
        <button type="button" onClick={() => importing.cancel()}>
          Stop
        </button>
      </div>
    </>
  );
}
