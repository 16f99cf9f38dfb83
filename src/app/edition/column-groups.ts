// Columns that belong together, on the sheets that have no steps: over the grid, and in the card of a row.
import type { Column, SheetKey } from "../../core/document/workbook";

export interface ColumnGroup {
  readonly id: string;
  readonly title: string;
  /** The first column of the group. */
  readonly from: string;
}

/** Groups of the sheets that have no steps: what is entered, and what comes of it. */
const SHEET_GROUPS: Partial<Record<SheetKey, readonly ColumnGroup[]>> = {
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
    { id: "firing_others", title: "Also in it", from: "other_count" },
    { id: "firing_whole", title: "The whole load", from: "weight" },
    { id: "firing_energy", title: "Energy", from: "meter_before" },
    { id: "firing_cost", title: "Cost", from: "tariff" },
    { id: "firing_note", title: "", from: "note" },
  ],
  channels: [
    { id: "channel_terms", title: "What it takes", from: "tax_rate" },
    { id: "channel_sales", title: "Sold through it", from: "sold" },
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

/** The group that each column of a sheet stands in, by the column's key; empty where the sheet has none. */
export function columnGroups(sheet: SheetKey, columns: readonly Column[]): ReadonlyMap<string, ColumnGroup> {
  const groups = SHEET_GROUPS[sheet] ?? [];
  const groupOf = new Map<string, ColumnGroup>();
  let current = groups[0];
  for (const { key } of columns) {
    current = groups.find(({ from }) => from === key) ?? current;
    if (current) groupOf.set(key, current);
  }
  return groupOf;
}

/** The title of a group of columns. */
export function groupTitle(sheet: SheetKey, id: string): string {
  return SHEET_GROUPS[sheet]?.find((group) => group.id === id)?.title ?? "";
}
