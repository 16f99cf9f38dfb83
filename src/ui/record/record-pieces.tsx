// Which pieces: typed by number, or tapped, in groups.

import type { Session } from "../../app/edition/session";
import { recordPieces } from "../../app/record/record";
import { counted } from "../../core/counted";
import { rowLabel, rowOf } from "../../core/document/access";
import type { Result } from "../../core/problem";
import { piecesAsText } from "../../core/record/choose-pieces";

/** Pieces that are offered to be chosen together. */
interface PieceGroup {
  readonly name: string;
  readonly pieces: readonly string[];
  /** Whether looking them over is all that is left: they can be passed as good here. */
  readonly isLast?: boolean;
}

interface Props {
  readonly session: Session;
  readonly groups: readonly PieceGroup[];
  /** The pieces named in the box, or what is wrong with them. */
  readonly named: Result<readonly string[]> | undefined;
  /** What is said where there is no group. */
  readonly none: string;
}

/** The box and the groups. */
export function RecordPieces({ session, groups, named, none }: Props) {
  const book = session.book.value;
  const chosen = named?.ok ? named.value : [];
  const isIn = new Set(chosen);
  const choose = (ids: ReadonlySet<string>) => {
    session.chosen.value = piecesAsText(book, [...ids]);
  };
  const toggle = (ids: readonly string[]) => {
    const next = new Set(isIn);
    const areAll = ids.every((id) => next.has(id));
    for (const id of ids) {
      if (areAll) next.delete(id);
      else next.add(id);
    }
    choose(next);
  };
  return (
    <section class="which" aria-labelledby="which-pieces">
      <h3 id="which-pieces">Which pieces?</h3>
      <div class="row">
        <label class="field">
          <span>Piece numbers, such as 41-60, 66, 70-</span>
          <input
            id="choose-pieces"
            class="choose"
            autocomplete="off"
            value={session.chosen.value}
            onInput={(event) => {
              session.chosen.value = event.currentTarget.value;
            }}
            onKeyDown={(event) => {
              const [only, ...others] = groups;
              if (event.key === "Enter" && session.chosen.value === "" && only && others.length === 0)
                toggle(only.pieces);
            }}
          />
        </label>
        <button type="button" disabled={session.chosen.value === ""} onClick={() => choose(new Set())}>
          None
        </button>
      </div>
      <p role="status" data-testid="chosen-count">
        {named?.ok === false ? named.problems[0]?.message : `${counted(chosen.length, "piece")} chosen`}
      </p>
      {groups.length === 0 ? <p class="quiet">{none}</p> : null}
      {groups.map((group) => (
        <Group key={group.name} session={session} group={group} isIn={isIn} toggle={toggle} />
      ))}
    </section>
  );
}

interface GroupProps {
  readonly session: Session;
  readonly group: PieceGroup;
  readonly isIn: ReadonlySet<string>;
  readonly toggle: (ids: readonly string[]) => void;
}

function Group({ session, group, isIn, toggle }: GroupProps) {
  const book = session.book.value;
  const { name, pieces, isLast } = group;
  const count = pieces.filter((id) => isIn.has(id)).length;
  const passed = count === 0 ? pieces : pieces.filter((id) => isIn.has(id));
  return (
    <div class="waiting-group">
      <button type="button" aria-pressed={count === pieces.length} onClick={() => toggle(pieces)}>
        <span>{name}</span>
        <b>{count === 0 ? `${pieces.length}, choose all` : `${count} of ${pieces.length} chosen`}</b>
      </button>
      <details>
        <summary>
          One by one<span class="unseen">: {name}</span>
        </summary>
        <div class="each">
          {pieces.map((id) => {
            const row = rowOf(book, "pieces", id);
            return row ? (
              <button type="button" key={id} aria-pressed={isIn.has(id)} onClick={() => toggle([id])}>
                {rowLabel("pieces", row)}
                {row.cells.tier === "special" ? <small> special</small> : null}
              </button>
            ) : null;
          })}
        </div>
      </details>
      {isLast ? (
        <button
          type="button"
          class="finish"
          onClick={() => {
            const isDone = recordPieces(session, passed, { kind: "passed", grade: "good", isFinished: true });
            if (isDone) session.chosen.value = "";
          }}
        >
          Inspected and good: {count === 0 && pieces.length > 1 ? `all ${pieces.length}` : passed.length}
        </button>
      ) : null}
    </div>
  );
}
