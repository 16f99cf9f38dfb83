// Every dialog, in one part of the program that is loaded when the first one opens.
import type { JSX } from "preact";
import type { Session } from "../../app/edition/session";
import type { Studio } from "../../app/keeping/studio";
import { CsvDialog } from "../csv/csv-dialog";
import { FiringDialog, LostDialog, PassedDialog, PiecesDialog } from "../edition/piece-dialogs";
import { ColumnDialog, EditionDialog, InputDialog, StepDialog } from "../edition/shape-dialogs";
import { ExplainDialog } from "../help/explain-dialog";
import { HelpDialog } from "../help/help-dialog";
import { SearchDialog } from "../help/search-dialog";
import { CopiesDialog } from "../keeping/copies-dialog";
import { EditionsDialog } from "../keeping/editions-dialog";
import { StudioFileDialog } from "../keeping/studio-file-dialog";
import { FitDialog } from "../plan/fit-dialog";
import { HeatDialog } from "../plan/heat-dialog";
import { ProgrammeDialog } from "../plan/programme-dialog";
import { StartDialog } from "../plan/start-dialog";
import { PackDialog } from "../settle/pack-dialog";
import { SharedDialog } from "../shelf/shared-firings";
import { DoneDialog } from "./done-dialog";
import type { OpenDialog } from "./open-dialog";

interface Given {
  readonly studio: Studio;
  readonly session: Session;
  readonly openDemo: () => void;
}

const DIALOGS: Readonly<Record<OpenDialog, (given: Given) => JSX.Element>> = {
  start: ({ studio, session }) => <StartDialog studio={studio} session={session} />,
  editions: ({ studio, openDemo }) => <EditionsDialog studio={studio} openDemo={openDemo} />,
  copies: ({ studio }) => <CopiesDialog studio={studio} />,
  studio: ({ studio }) => <StudioFileDialog studio={studio} />,
  firing: ({ session }) => <FiringDialog session={session} />,
  lost: ({ session }) => <LostDialog session={session} />,
  passed: ({ session }) => <PassedDialog session={session} />,
  pieces: ({ session }) => <PiecesDialog session={session} />,
  step: ({ session }) => <StepDialog session={session} />,
  column: ({ session }) => <ColumnDialog session={session} />,
  input: ({ session }) => <InputDialog session={session} />,
  edition: ({ session }) => <EditionDialog session={session} />,
  csv: ({ studio, session }) => <CsvDialog studio={studio} session={session} />,
  pack: ({ session }) => <PackDialog session={session} />,
  heat: ({ studio, session }) => <HeatDialog session={session} platform={studio.printPlatform} />,
  fit: ({ session }) => <FitDialog session={session} />,
  programme: ({ session }) => <ProgrammeDialog session={session} />,
  shared: ({ studio, session }) => <SharedDialog studio={studio} session={session} />,
  done: ({ session }) => <DoneDialog session={session} />,
  explain: ({ session }) => <ExplainDialog session={session} />,
  search: ({ studio, session }) => <SearchDialog studio={studio} session={session} />,
  help: ({ session }) => <HelpDialog session={session} />,
};

interface Props {
  readonly name: OpenDialog;
  readonly studio: Studio;
  readonly openDemo: () => void;
}

/** The dialog of a name. */
export function AnyDialog({ name, studio, openDemo }: Props) {
  const session = studio.session.value;
  return session ? DIALOGS[name]({ studio, session, openDemo }) : null;
}
