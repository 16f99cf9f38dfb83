// The schema of a template.json.
import * as z from "zod/mini";
import { SHEET_KEYS, STEP_KINDS } from "./sheet-keys";

const text = (most: number) => z.string().check(z.minLength(1), z.maxLength(most));
const cell = z.union([z.string().check(z.maxLength(5000)), z.number()], "text or a number");
const cells = z.record(z.string().check(z.regex(/^[a-z][a-z0-9_]*$/)), cell);
const rows = (most: number) => z.array(cells).check(z.maxLength(most));
const id = z.string().check(z.regex(/^[a-z][a-z0-9_]{0,39}$/, "an id of small letters, digits and _"));

/** What a template.json may hold. */
export const templateSchema = z.strictObject({
  id: z.string().check(z.regex(/^[a-z][a-z0-9-]*$/, "an id of small letters, digits and -")),
  version: z.int().check(z.minimum(1)),
  title: text(120),
  summary: text(600),
  /** The wanted number the start dialog proposes. */
  wanted: z.int().check(z.minimum(1), z.maximum(20_000)),
  inputs: z.record(id, z.number()),
  materials: rows(200),
  kilns: rows(50).check(z.minLength(1)),
  programmes: z.optional(rows(400)),
  tariffs: z.optional(rows(100)),
  route: z
    .array(z.strictObject({ id, kind: z.enum(STEP_KINDS), title: text(80), cells }))
    .check(z.minLength(1), z.maxLength(60)),
  /** Columns beyond those every edition has, as a maker could add them. */
  columns: z.optional(
    z
      .array(
        z.strictObject({
          sheet: z.enum(SHEET_KEYS),
          title: text(80),
          unit: z.string().check(z.maxLength(40)),
          type: z.optional(z.enum(["number", "text"])),
          formula: z.optional(text(4000)),
        }),
      )
      .check(z.maxLength(100)),
  ),
});

export type Template = z.infer<typeof templateSchema>;
