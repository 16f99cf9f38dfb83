// Every dialog, in one part of the program that is loaded when the first one opens.
import type { Studio } from "../../app/keeping/studio";
import { CsvDialog } from "../csv/csv-dialog";
import { FiringDialog, LostDialog, PassedDialog, PiecesDialog } from "../edition/piece-dialogs";
import { ColumnDialog, EditionDialog, InputDialog, StepDialog } from "../edition/shape-dialogs";
import { ExplainDialog } from "../help/explain-dialog";
import { HelpDialog } from "../help/help-dialog";
import { CopiesDialog } from "../keeping/copies-dialog";
import { EditionsDialog } from "../keeping/editions-dialog";
import { FitDialog } from "../plan/fit-dialog";
import { HeatDialog } from "../plan/heat-dialog";
import { ProgrammeDialog } from "../plan/programme-dialog";
import { StartDialog } from "../plan/start-dialog";
import { PackDialog } from "../settle/pack-dialog";
import type { OpenDialog } from "./open-dialog";

interface Props {
  readonly name: OpenDialog;
  readonly studio: Studio;
  readonly openDemo: () => void;
}

/** The dialog of a name. */
export function AnyDialog({ name, studio, openDemo }: Props) {
  const session = studio.session.value;
  if (!session) return null;
  switch (name) {
    case "start":
      return <StartDialog studio={studio} session={session} />;
    case "editions":
      return <EditionsDialog studio={studio} openDemo={openDemo} />;
    case "copies":
      return <CopiesDialog studio={studio} />;
    case "firing":
      return <FiringDialog session={session} />;
    case "lost":
      return <LostDialog session={session} />;
    case "passed":
      return <PassedDialog session={session} />;
    case "pieces":
      return <PiecesDialog session={session} />;
    case "step":
      return <StepDialog session={session} />;
    case "column":
      return <ColumnDialog session={session} />;
    case "input":
      return <InputDialog session={session} />;
    case "edition":
      return <EditionDialog session={session} />;
    case "csv":
      return <CsvDialog studio={studio} session={session} />;
    case "pack":
      return <PackDialog session={session} />;
    case "heat":
      return <HeatDialog session={session} world={studio.printWorld} />;
    case "fit":
      return <FitDialog session={session} />;
    case "programme":
      return <ProgrammeDialog session={session} />;
    case "explain":
      return <ExplainDialog session={session} />;
    case "help":
      return <HelpDialog session={session} />;
  }
}
