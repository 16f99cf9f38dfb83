// What lists to choose from hold: lines of the sheets.
import { rowLabel } from "../../core/document/access";
import type { Row, Workbook } from "../../core/document/workbook";

/** Steps of the route, by id. */
export function StepOptions({ steps }: { readonly steps: readonly Row[] }) {
  return (
    <>
      {steps.map((row) => (
        <option key={row.id} value={row.id}>
          {rowLabel("route", row)}
        </option>
      ))}
    </>
  );
}

/** Kilns by name, with the room in them. */
export function KilnOptions({ book }: { readonly book: Workbook }) {
  return (
    <>
      {book.sheets.kilns.rows.map((row) => (
        <option key={row.id} value={String(row.cells.id)}>
          {rowLabel("kilns", row)} · room for {String(row.cells.capacity ?? "?")}
        </option>
      ))}
    </>
  );
}
