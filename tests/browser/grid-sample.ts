// A small sheet of invented lantern pieces for the tests of the grid, and a grid that notes what it reports.
import { vi } from "vitest";
import type { CellDisplay } from "../../src/app/edition/display";
import { loadGrid } from "../../src/ui/grid/chosen";
import type {
  Grid,
  GridCell,
  GridColumn,
  GridEntry,
  GridEvents,
  GridGroup,
  GridModel,
  GridSelection,
} from "../../src/ui/grid/port";

/** Whether the tests run on the grid of our own; else on the library. */
export const isFree = import.meta.env.VITE_GRID !== "handsontable";
const { createGrid } = await loadGrid();

export const LOOK: CellDisplay = {
  text: "",
  isInput: false,
  isOverride: false,
  isDefault: false,
  isError: false,
  isFaded: false,
  description: "",
};

export function column(key: string, group: string, more: Partial<GridColumn> = {}): GridColumn {
  return {
    key,
    title: key,
    unit: "",
    align: "end",
    width: 70,
    isInput: false,
    group,
    hasChoices: false,
    ...more,
  };
}

export function group(id: string, more: Partial<GridGroup> = {}): GridGroup {
  return { id, title: id, note: "", canFold: true, isFolded: false, ...more };
}

const COLUMNS: readonly GridColumn[] = [
  column("piece", "", { title: "Piece", align: "start", width: 84 }),
  column("coats", "glaze", { isInput: true, width: 66 }),
  column("used", "glaze", { unit: "g", width: 62 }),
  column("firing", "fired", { isInput: true, hasChoices: true, width: 92 }),
  column("share", "fired", { unit: "€", width: 96 }),
  column("firing2", "refire", { title: "firing", isInput: true, hasChoices: true, width: 66 }),
  column("share2", "refire", { title: "share", unit: "€", width: 70 }),
  column("band", "lustre", { isInput: true, unit: "cm²", width: 62 }),
  column("coats2", "lustre", { title: "coats", isInput: true, width: 66 }),
  column("used2", "lustre", { title: "used", unit: "g", width: 62 }),
  column("cost", "low", { unit: "€", width: 120 }),
  column("own", "piece-cost", { unit: "€", width: 66 }),
  column("full", "piece-cost", { unit: "€", width: 66 }),
];

const GROUPS: readonly GridGroup[] = [
  group("glaze", { title: "Glaze", note: "spray" }),
  group("fired", { title: "Glaze firing", note: "cone 6" }),
  group("refire", { title: "Refire", note: "alone" }),
  group("lustre", { title: "Lustre", note: "platinum" }),
  group("low", { title: "Low firing", isFolded: true }),
  group("piece-cost", { title: "Piece", canFold: false }),
];

const TEXTS: Readonly<Record<string, readonly string[]>> = {
  "017": ["017", "3", "118", "G2", "0.74", "", "", "86", "2", "0.47", "0.61", "58.10", "59.88"],
  "018": ["018", "3", "118", "G2", "0.74", "", "", "", "", "", "", "31.26", "33.04"],
  "019": ["019", "4", "151", "G2", "0.74", "G5", "24.36", "", "", "", "", "57.02", "58.80"],
  "020": ["020 lost", "3", "118", "G2", "0.74", "", "", "", "", "", "", "31.26", "–"],
  "021": ["021", "3", "118", "G3", "0.81", "", "", "", "", "", "no area", "31.33", "33.11"],
  "022": ["022", "3", "118", "G3", "0.81", "", "", "86", "2", "0.47", "0.61", "58.17", "59.95"],
};

function displayOf(row: string, key: string): CellDisplay {
  const column = COLUMNS.findIndex((one) => one.key === key);
  const text = TEXTS[row]?.[column] ?? "";
  return {
    text,
    isInput: COLUMNS[column]?.isInput ?? false,
    isOverride: row === "019" && key === "used",
    isDefault: key === "coats" && row !== "019",
    isError: text === "no area",
    isFaded: row === "020",
    description: row === "019" && key === "used" ? "151 g, given by hand; the formula says 118 g" : "",
  };
}

/** The sample sheet; its parts can be replaced. */
export function sampleModel(more: Partial<GridModel> = {}): GridModel {
  return {
    label: "Pieces",
    columns: COLUMNS,
    groups: GROUPS,
    rows: Object.keys(TEXTS),
    frozen: 1,
    display: vi.fn(displayOf),
    editText: (row, key) => `=${row}:${key}`,
    choices: () => ["G2", "G3", "G5", "Trial"],
    ...more,
  };
}

/** A sheet of any size whose cells read "row:column". */
export function largeModel(rowCount: number, columnCount: number, more: Partial<GridModel> = {}): GridModel {
  const columns = Array.from({ length: columnCount }, (_, index) =>
    column(`c${index}`, `g${Math.floor((index + 8) / 10)}`, { width: 80, unit: "g", isInput: index % 3 === 0 }),
  );
  const groups = [...new Set(columns.map((one) => one.group))].map((id) => group(id, { title: `Group ${id}` }));
  return {
    ...sampleModel(),
    columns,
    groups,
    rows: Array.from({ length: rowCount }, (_, index) => `r${index}`),
    frozen: 2,
    display: vi.fn((row: string, key: string) => ({ ...LOOK, text: `${row}:${key}` })),
    ...more,
  };
}

interface Written {
  readonly entries: readonly GridEntry[];
  readonly how: string;
  readonly overflow: number;
}

/** A grid on a page of its own, with everything it reported. */
export interface Trial {
  readonly host: HTMLElement;
  readonly grid: Grid;
  readonly written: Written[];
  readonly selected: GridSelection[];
  readonly toggled: string[];
  readonly activated: string[];
  readonly explained: GridCell[];
  readonly resized: (readonly [string, number | "fit"])[];
  readonly begun: GridCell[];
  readonly kept: { text: string; cell: GridCell }[];
  close(): void;
}

const TOKENS = `
:root { --paper: #f7f4ee; --card: #fffdf9; --line: #ddd5c8; --line-soft: #ece6db; --ink: #26221d; --ink-2: #6a6157;
  --ink-3: #726a5f; --iron: #8f3b22; --iron-soft: #f3e3da; --lost: #7a7268; --warn: #8a5a00; --radius: 5px;
  --font: "Source Sans 3", "Segoe UI", system-ui, sans-serif; --step-1: 12px; --step-2: 13px; }
:root.dark { --paper: #1c1a17; --card: #24211d; --line: #3b362f; --line-soft: #2e2a25; --ink: #efe9df; --ink-2: #b3a99b;
  --ink-3: #9b9184; --iron: #e0876a; --iron-soft: #3a261e; --lost: #8d8478; --warn: #e2b04a; color-scheme: dark; }
body { margin: 0; background: var(--paper); font: 13px/1.4 var(--font); }`;

export function startTrial(model: GridModel, size = "width: 980px; height: 420px"): Trial {
  const style = document.createElement("style");
  style.textContent = TOKENS;
  const host = document.createElement("div");
  host.style.cssText = size;
  const before = document.createElement("button");
  before.textContent = "before";
  const after = document.createElement("button");
  after.textContent = "after";
  document.head.append(style);
  document.body.append(before, host, after);
  const trial = {
    host,
    written: [] as Written[],
    selected: [] as GridSelection[],
    toggled: [] as string[],
    activated: [] as string[],
    explained: [] as GridCell[],
    resized: [] as (readonly [string, number | "fit"])[],
    begun: [] as GridCell[],
    kept: [] as { text: string; cell: GridCell }[],
  };
  const events: GridEvents = {
    write: (entries, how, overflow) => trial.written.push({ entries, how, overflow }),
    select: (selection) => trial.selected.push(selection),
    toggleGroup: (id) => trial.toggled.push(id),
    activateColumn: (key) => trial.activated.push(key),
    resizeColumn: (key, width) => trial.resized.push([key, width]),
    copyText: (row, key) => `${row}/${key}`,
    explain: (cell) => trial.explained.push(cell),
    beginTyping: (cell) => trial.begun.push(cell),
    keep: (text, { row, column }) => trial.kept.push({ text, cell: { row, column } }),
  };
  const grid = createGrid(host, model, events);
  return {
    ...trial,
    grid,
    close: () => {
      grid.close();
      for (const element of [style, before, host, after]) element.remove();
    },
  };
}

function placeOf(model: GridModel, key: string): number {
  return model.columns.findIndex((one) => one.key === key);
}

/** The cell element in sight for a row and column of the model, or null where it is not drawn. */
export function cellOf(trial: Trial, model: GridModel, row: string, key: string): HTMLTableCellElement | null {
  const rowIndex = model.rows.indexOf(row) + (model.columns.some(isGrouped(model)) ? 2 : 1) + 1;
  const columnIndex = placeOf(model, key) + 1;
  const part = isFree ? "" : placeOf(model, key) < model.frozen ? ".ht_clone_inline_start" : ".ht_master";
  return trial.host.querySelector(`${part} tr[aria-rowindex="${rowIndex}"] > td[aria-colindex="${columnIndex}"]`);
}

const isGrouped = (model: GridModel) => (one: GridColumn) => model.groups.some(({ id }) => id === one.group);

/** The part of the grid that scrolls. */
export function scrollerOf({ host }: Pick<Trial, "host">): HTMLElement {
  return host.querySelector(isFree ? ".free-scroller" : ".ht_master > .wtHolder") as HTMLElement;
}

/** The headers in sight. */
export function headsOf({ host }: Pick<Trial, "host">, selector = ""): readonly HTMLElement[] {
  const parts = isFree ? ["thead"] : [".ht_clone_top_inline_start_corner", ".ht_clone_top"];
  return parts.flatMap((part) => [...host.querySelectorAll<HTMLElement>(`${part} th${selector}:not([data-under])`)]);
}

/** The first cell of every row drawn. */
export function firstCellsOf({ host }: Pick<Trial, "host">): readonly HTMLElement[] {
  return [...host.querySelectorAll<HTMLElement>(`${isFree ? "" : ".ht_clone_inline_start"} td[aria-colindex="1"]`)];
}

/** What fills down when it is dragged. */
export function handleOf({ host }: Pick<Trial, "host">): HTMLElement {
  const found = host.querySelectorAll<HTMLElement>(isFree ? ".free-handle" : ".ht_master .wtBorder.corner");
  return [...found].find((handle) => handle.style.display !== "none") as HTMLElement;
}

/** Waits until the next frame has been painted. */
export function nextFrame(): Promise<void> {
  return new Promise((done) => requestAnimationFrame(() => setTimeout(done, 0)));
}
