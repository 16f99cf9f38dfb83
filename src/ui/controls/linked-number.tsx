// A number that leads to where it comes from.
import "../settle/story.css";
import type { Session } from "../../app/edition/session";
import type { Sentence, StoryNumber } from "../../app/settle/story";
import { describeCell } from "../../core/document/access";
import { goTo } from "../edition/go-to";

/** A number as a quiet button; it shows its cell on the sheet it comes from. */
export function LinkedNumber({ session, number }: { readonly session: Session; readonly number: StoryNumber }) {
  return (
    <button
      type="button"
      class="linked"
      title={`From ${describeCell(session.book.value, number.cell)}`}
      onClick={() => goTo(session, number.cell)}
    >
      {number.text}
    </button>
  );
}

/** A sentence with its numbers. */
export function SentenceText({ session, parts }: { readonly session: Session; readonly parts: Sentence["parts"] }) {
  return (
    <>
      {parts.map((part, at) =>
        typeof part === "string" ? part : <LinkedNumber key={`${at} ${part.text}`} session={session} number={part} />,
      )}
    </>
  );
}
