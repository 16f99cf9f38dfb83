import type { Session } from "../../app/session";
import { closeDialog } from "../open-dialog";
import { Dialog } from "./dialog";
export function CsvDialog(_: { readonly session: Session }) {
  return (
    <Dialog title="CSV" onClose={closeDialog}>
      <p>…</p>
    </Dialog>
  );
}
