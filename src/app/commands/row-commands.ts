// Rows of the short sheets, new ones with sensible first values, and pieces more or fewer; fetched when first wanted.
import { counted, plural } from "../../core/counted";
import { addRows, freshRowId, removeRows } from "../../core/document/edits";
import { rampAfter } from "../../core/document/ramp-edits";
import type { Raw, Row, SheetKey } from "../../core/document/workbook";
import { namePieces } from "../../core/record/choose-pieces";
import { addPieces, nextFiringName, nextName, removeUntouched } from "../../core/record/piece-edits";
import type { Session } from "../edition/session";
import { commit } from "./commands";

const NEW_ROWS: Partial<
  Record<
    SheetKey,
    { readonly prefix: string; readonly label: string; readonly cells: (session: Session) => Record<string, Raw> }
  >
> = {
  firings: {
    prefix: "f",
    label: "Add a firing",
    cells: (session) => ({
      id: nextFiringName(session.book.value),
      kiln: session.book.value.sheets.kilns.rows[0]?.cells.id ?? "",
      date: session.today(),
      basis: "count",
    }),
  },
  materials: {
    prefix: "m",
    label: "Add a material",
    cells: (session) => ({
      id: freshName(session, "materials", "Material"),
      sort: "other",
      pack_price: 0,
      pack_grams: 1000,
    }),
  },
  purchases: {
    prefix: "b",
    label: "Add a purchase",
    cells: (session) => ({
      id: nextName(session.book.value, "purchases", "B"),
      date: session.today(),
      sort: "bought",
      material: session.book.value.sheets.materials.rows[0]?.cells.id ?? "",
      grams: 1000,
    }),
  },
  tariffs: {
    prefix: "t",
    label: "Add a band",
    cells: (session) => ({
      id: freshName(session, "tariffs", "Night"),
      days: "every day",
      from: "22:00",
      to: "06:00",
      price: 0.2,
    }),
  },
  channels: {
    prefix: "c",
    label: "Add a channel",
    cells: (session) => ({ id: freshName(session, "channels", "Channel") }),
  },
  kilns: {
    prefix: "k",
    label: "Add a kiln",
    cells: (session) => ({
      id: freshName(session, "kilns", "Kiln"),
      kw: 7,
      hours: 9,
      duty: 0.6,
      capacity: 20,
      wear: 5,
    }),
  },
};

/** Adds a row with sensible first values to a sheet that takes rows; returns its id. */
export function addSheetRow(session: Session, sheet: SheetKey): string | undefined {
  if (sheet === "programmes") return addRamp(session);
  const rules = NEW_ROWS[sheet];
  if (!rules) return undefined;
  const { rows } = session.book.value.sheets[sheet];
  const row: Row = { id: freshRowId(rows, rules.prefix), cells: rules.cells(session) };
  return session.commit(addRows(session.book.value, sheet, [row], rules.label)) ? row.id : undefined;
}

/** Adds a ramp after the selected one, or at the end of the last programme; the ramps after it are numbered on. */
function addRamp(session: Session): string | undefined {
  const book = session.book.value;
  const selected = session.selection.value?.sheet === "programmes" ? session.selection.value.anchor.row : undefined;
  const target = (id: string) => session.value({ sheet: "programmes", row: id, column: "target" });
  const { change, id } = rampAfter(book, selected, target);
  return session.commit(change) ? id : undefined;
}

function freshName(session: Session, sheet: SheetKey, base: string): string {
  const taken = new Set(session.book.value.sheets[sheet].rows.map((row) => String(row.cells.id).toLowerCase()));
  let name = base;
  for (let count = 2; taken.has(name.toLowerCase()); count += 1) name = `${base} ${count}`;
  return name;
}

/** Adds pieces after the last one. */
export function addMorePieces(session: Session, count: number): boolean {
  return commit(session, addPieces(session.book.value, count));
}

/** Removes those of some pieces that nothing has happened to, and names the others. */
export function removePieces(session: Session, ids: readonly string[]): void {
  const book = session.book.value;
  const { change, left } = removeUntouched(book, ids);
  const named = namePieces(book, left);
  if (change.operations.length > 0 && commit(session, { ok: true, value: change })) session.chosen.value = "";
  if (left.length > 0)
    session.notify(
      "refused",
      `${counted(left.length, "piece stays", "pieces stay")}, because something has been done to them: ${named}. A piece that is no more is recorded as lost.`,
    );
}

/** Removes rows of a sheet; a step of the route goes with its columns, by `removeRouteStep`. */
export function removeSheetRows(session: Session, sheet: Exclude<SheetKey, "route">, rows: readonly string[]): boolean {
  const noun = plural(rows.length, "row");
  return commit(
    session,
    removeRows(
      session.book.value,
      sheet,
      rows,
      `Remove ${rows.length} ${noun} of ${session.book.value.sheets[sheet].title}`,
    ),
  );
}
