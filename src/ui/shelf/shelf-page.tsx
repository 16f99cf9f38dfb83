// The studio's shelf: beside an edition what differs and what one of the two lacks; by itself what it holds.
import "./shelf.css";
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Session } from "../../app/edition/session";
import type { Studio } from "../../app/keeping/studio";
import { fieldTitle, openShelf, putOnShelf, readShelf, sharedText, takeFromShelf } from "../../app/shelf/shelf";
import {
  compareShelf,
  emptyShelf,
  type ShelfDifference,
  type ShelfItem,
  type ShelfKind,
  type Wanted,
} from "../../core/document/shelf";
import { isShelf, SHELF } from "../../core/document/shelf-kind";
import type { Workbook } from "../../core/document/workbook";
import { DayPricesPart } from "./day-prices-part";
import { KilnHistory } from "./kiln-history";
import { ShelfAlone } from "./shelf-alone";

interface Props {
  readonly session: Session;
  readonly studio: Studio;
}

/** The page “The shelf”. */
export function ShelfPage({ session, studio }: Props) {
  return (
    <article class="shelf" id="sheet" tabIndex={-1} aria-label="The studio’s shelf" data-testid="shelf-page">
      {isShelf(session.book.value) && studio.editionId.value === SHELF ? (
        <ShelfAlone session={session} studio={studio} />
      ) : (
        <Beside session={session} studio={studio} />
      )}
      <KilnHistory session={session} studio={studio} />
    </article>
  );
}

/** The open edition and the shelf, held against each other. */
function Beside({ session, studio }: Props) {
  const [shelf, setShelf] = useState<Workbook | "none" | undefined>(undefined);
  const refresh = () => void readShelf(studio).then((book) => setShelf(book ?? "none"));
  useEffect(() => {
    refresh();
    // Another tab may have put something on it.
    window.addEventListener("focus", refresh);
    return () => window.removeEventListener("focus", refresh);
  }, []);
  const book = session.book.value;
  const held = shelf === "none" ? emptyShelf(book, session.today()) : shelf;
  const put = (wanted: readonly Wanted[]) => void putOnShelf(studio, session, wanted).then(refresh);
  return (
    <>
      <header>
        <h2>The studio’s shelf</h2>
        <button type="button" onClick={() => void openShelf(studio, session)}>
          Open the shelf
        </button>
      </header>
      <p class="quiet">
        Kilns, materials, programmes, tariffs, channels, wage and overhead, recipes, hours and names of accounts that
        all editions share. An edition has a copy of its own: its numbers move only when you take something over here.
      </p>
      {held === undefined ? (
        <p role="status">Looking…</p>
      ) : held.meta.currency === book.meta.currency ? (
        <>
          <Compared session={session} shelf={held} put={put} />
          {held.sheets.purchases.rows.length > 0 ? (
            <DayPricesPart session={session} studio={studio} shelf={held} />
          ) : null}
        </>
      ) : (
        <p role="status">
          The shelf is in {held.meta.currency} and this edition in {book.meta.currency}: prices can’t be held against
          each other, so nothing is taken over.
        </p>
      )}
    </>
  );
}

interface ComparedProps {
  readonly session: Session;
  readonly shelf: Workbook;
  readonly put: (wanted: readonly Wanted[]) => void;
}

function Compared({ session, shelf, put }: ComparedProps) {
  const { differences, onlyHere, onlyThere } = compareShelf(session.book.value, shelf);
  const take = (wanted: readonly Wanted[]) => takeFromShelf(session, wanted);
  const all = (items: readonly ShelfItem[]) => items.map((item): Wanted => ({ item }));
  return (
    <>
      <Part
        title="Differs"
        none="What both have is the same in both."
        count={differences.length}
        act="Take all from the shelf"
        onAll={() => take(differences.map(({ there, key }) => ({ item: there, key })))}
      >
        {differences.map((one) => (
          <Difference key={`${one.here.id} ${one.key}`} session={session} one={one} take={take} put={put} />
        ))}
      </Part>
      <Part
        title="Here, not on the shelf"
        none="Everything of this edition is on the shelf."
        count={onlyHere.length}
        act="Put all on the shelf"
        onAll={() => put(all(onlyHere))}
      >
        {onlyHere.map((item) => (
          <Item key={item.id} item={item} act="Put it on the shelf" onAct={() => put([{ item }])} />
        ))}
      </Part>
      <Part
        title="On the shelf, not here"
        none="There is nothing more on the shelf."
        count={onlyThere.length}
        act="Take all"
        onAll={() => take(all(onlyThere))}
      >
        {onlyThere.map((item) => (
          <Item key={item.id} item={item} act="Take it" onAct={() => take([{ item }])} />
        ))}
      </Part>
    </>
  );
}

interface PartProps {
  readonly title: string;
  readonly none: string;
  readonly count: number;
  readonly act: string;
  readonly onAll: () => void;
  readonly children: ComponentChildren;
}

function Part({ title, none, count, act, onAll, children }: PartProps) {
  return (
    <section aria-label={title}>
      <div class="head">
        <h3>{title}</h3>
        {count > 1 ? (
          <button type="button" onClick={onAll}>
            {act} ({count})
          </button>
        ) : null}
      </div>
      {count === 0 ? <p class="quiet">{none}</p> : <ul>{children}</ul>}
    </section>
  );
}

const KINDS: Readonly<Record<ShelfKind, string>> = {
  line: "",
  materials: "material",
  kilns: "kiln",
  programmes: "programme",
  tariffs: "tariff band",
  channels: "channel",
  recipe: "rescue recipe",
  accounts: "",
  days: "",
};

interface DifferenceProps {
  readonly session: Session;
  readonly one: ShelfDifference;
  readonly take: (wanted: readonly Wanted[]) => void;
  readonly put: (wanted: readonly Wanted[]) => void;
}

function Difference({ session, one: { here, there, key, value }, take, put }: DifferenceProps) {
  const field = fieldTitle(session.book.value, here, key);
  const name = field === "" ? here.title : `${here.title}, ${field}`;
  const like = value.here ?? value.there;
  const text = (which: "here" | "there") => sharedText(session, value[which], like);
  const words =
    like?.cell || here.kind === "programmes"
      ? `${text("here")} here, ${text("there")} on the shelf`
      : "not the same here and on the shelf";
  return (
    <li>
      <span>
        <b>{name}</b>: {words}
      </span>
      <span class="acts">
        <button type="button" onClick={() => take([{ item: there, key }])}>
          Take from the shelf<span class="unseen">: {name}</span>
        </button>
        <button type="button" class="plain" onClick={() => put([{ item: here, key }])}>
          Put on the shelf<span class="unseen">: {name}</span>
        </button>
      </span>
    </li>
  );
}

interface ItemProps {
  readonly item: ShelfItem;
  readonly act: string;
  readonly onAct: () => void;
}

function Item({ item, act, onAct }: ItemProps) {
  return (
    <li>
      <span>
        <b>{item.title}</b> <span class="quiet">{KINDS[item.kind]}</span>
      </span>
      <button type="button" onClick={onAct}>
        {act}
        <span class="unseen">: {item.title}</span>
      </button>
    </li>
  );
}
