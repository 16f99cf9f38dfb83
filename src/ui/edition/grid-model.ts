// What the grid is to show of the sheet in view.
import { displayOf, editTextOf, shownUnit } from "../../app/edition/display";
import type { Session } from "../../app/edition/session";
import { columnsInView, type SheetView } from "../../app/edition/view";
import { resolveCell, rowLabel, rowOf } from "../../core/document/access";
import { choicesOf } from "../../core/document/entry";
import type { Column, SheetKey } from "../../core/document/workbook";
import type { GridColumn, GridGroup, GridModel } from "../grid/port";

const TYPE_WIDTHS = { number: 78, text: 110, choice: 104, date: 98, time: 70 } as const;

/** Groups of the sheets that have no steps: what is entered, and what comes of it. */
const SHEET_GROUPS: Partial<
  Record<SheetKey, readonly { readonly id: string; readonly title: string; readonly from: string }[]>
> = {
  route: [
    { id: "route_step", title: "", from: "title" },
    { id: "route_plan", title: "Planned for a piece", from: "kind" },
    { id: "route_price", title: "From Materials", from: "per_gram" },
    { id: "route_run", title: "Planned run", from: "plan_entries" },
    { id: "route_count", title: "So far", from: "done" },
    { id: "route_cost", title: "Cost so far", from: "material_cost" },
    { id: "route_loss", title: "Losses", from: "lost_cost" },
    { id: "route_seen", title: "Seen, with earlier editions", from: "seen_entered" },
  ],
  materials: [
    { id: "material_name", title: "", from: "id" },
    { id: "material_pack", title: "By the pack", from: "sort" },
    { id: "material_plan", title: "Planned", from: "plan_grams" },
    { id: "material_used", title: "So far", from: "used" },
  ],
  firings: [
    { id: "firing_name", title: "", from: "id" },
    { id: "firing_what", title: "What and when", from: "kiln" },
    { id: "firing_load", title: "Load", from: "basis" },
    { id: "firing_energy", title: "Energy", from: "meter_before" },
    { id: "firing_cost", title: "Cost", from: "tariff" },
    { id: "firing_note", title: "", from: "note" },
  ],
  kilns: [
    { id: "kiln_name", title: "", from: "id" },
    { id: "kiln_plate", title: "As a rule", from: "kw" },
    { id: "kiln_room", title: "Room", from: "capacity" },
    { id: "kiln_wall", title: "Build, for the heat model", from: "shape" },
    { id: "kiln_fit", title: "Fitted to its meter", from: "wall_factor" },
    { id: "kiln_sofar", title: "So far", from: "firings" },
  ],
};

/** The model of a sheet in a view; `rows` are the ids in view order. */
export function gridModelOf(session: Session, view: SheetView, rows: readonly string[]): GridModel {
  const sheet = session.sheet.value;
  const book = session.book.value;
  const columns = columnsInView(book, sheet, session.folded.value);
  const groupOf = groupsBy(sheet, columns);
  return {
    label: `${book.sheets[sheet].title} of ${book.meta.title}`,
    rows,
    frozen: 1,
    columns: columns.map((column) => toGridColumn(session, column, groupOf(column), view)),
    groups: groupsOf(session, sheet, columns, groupOf),
    display: (row, column) => displayOf(session, { sheet, row, column }),
    editText: (row, column) => editTextOf(session, { sheet, row, column }),
    choices: (row, column) => {
      const found = resolveCell(session.book.value, { sheet, row, column });
      return found ? choicesOf(session.book.value, found.spec).map((choice) => choice.label) : [];
    },
  };
}

function toGridColumn(session: Session, column: Column, group: string, view: SheetView): GridColumn {
  const arrow = view.sort?.column === column.key ? (view.sort.descending ? " ↓" : " ↑") : "";
  return {
    key: column.key,
    title: column.title + arrow,
    unit: column.format === "percent" ? "" : shownUnit(session, column.unit),
    align: column.type === "number" ? "end" : "start",
    width: column.width ?? Math.max(TYPE_WIDTHS[column.type], Math.ceil(column.title.length * 7.4) + 20),
    isInput: column.kind === "input",
    group,
    hasChoices: column.type === "choice",
    sort: view.sort?.column === column.key ? (view.sort.descending ? "descending" : "ascending") : undefined,
  };
}

function groupsBy(sheet: SheetKey, columns: readonly Column[]): (column: Column) => string {
  if (sheet === "pieces")
    return (column) =>
      column.step ?? (column.key === "piece" ? "piece_number" : column.key === "tier" ? "piece_start" : "piece_end");
  const groups = SHEET_GROUPS[sheet];
  if (!groups) return () => "";
  const groupOf = new Map<string, string>();
  let current = groups[0]?.id ?? "";
  for (const column of columns) {
    current = groups.find((group) => group.from === column.key)?.id ?? current;
    groupOf.set(column.key, current);
  }
  return (column) => groupOf.get(column.key) ?? "";
}

function groupsOf(
  session: Session,
  sheet: SheetKey,
  columns: readonly Column[],
  groupOf: (column: Column) => string,
): GridGroup[] {
  const ids = [...new Set(columns.map(groupOf))].filter((id) => id !== "");
  return ids.map((id): GridGroup => {
    const step = sheet === "pieces" ? rowOf(session.book.value, "route", id) : undefined;
    const method = step?.cells.method;
    return {
      id,
      title: step ? rowLabel("route", step) : titleOf(sheet, id),
      note: typeof method === "string" ? method : "",
      canFold: step !== undefined,
      isFolded: session.folded.value.has(id),
    };
  });
}

function titleOf(sheet: SheetKey, id: string): string {
  if (id === "piece_end") return "What came of it";
  return SHEET_GROUPS[sheet]?.find((group) => group.id === id)?.title ?? "";
}
