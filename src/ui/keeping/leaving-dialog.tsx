// Asked before an edition is left that can't be saved.

import { useState } from "preact/hooks";
import { saveFile } from "../../app/keeping/file-commands";
import type { Leaving, Studio } from "../../app/keeping/studio";
import { counted } from "../../core/counted";
import { Dialog } from "../controls/dialog";

/** What is lost by leaving, in words. */
function lossOf({ unsaved }: Leaving): string {
  return unsaved === 0 ? "this edition" : counted(unsaved, "edit");
}

/** Stay, save as a file, or leave and lose what is not saved. */
export function LeavingDialog({ studio }: { readonly studio: Studio }) {
  const [isFiled, setFiled] = useState(false);
  const leaving = studio.leaving.value;
  if (!leaving) return null;
  const stay = () => leaving.answer("stay");
  const [first] = leaving.problems;
  const isLost = !isFiled && !leaving.isHeld;
  return (
    <Dialog title={`“${leaving.title}” is not saved`} onClose={stay}>
      <p>{first ? first.message : "It is still being saved, and that takes unusually long."}</p>
      <p>
        {isFiled
          ? "The file holds everything."
          : leaving.isHeld
            ? `If you leave it now, ${lossOf(leaving)} will be put back when it is opened again in this browser.`
            : `If you leave it now, ${lossOf(leaving)} will be lost.`}
      </p>
      <div class="actions">
        <button type="button" onClick={() => leaving.answer("leave")}>
          {isLost ? `Leave and lose ${lossOf(leaving)}` : "Leave it"}
        </button>
        <button type="button" onClick={() => void saveFile(studio).then((isSaved) => setFiled(isFiled || isSaved))}>
          Save as a file
        </button>
        <button type="button" class="act" onClick={stay}>
          Stay
        </button>
      </div>
    </Dialog>
  );
}
