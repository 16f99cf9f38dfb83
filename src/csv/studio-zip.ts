// A whole studio as one zip: every edition as the text that is stored of it, and a list that says what each one is. Reading
// believes nothing: the zip is bounded before it is unpacked, the list is checked, and each edition is opened as any file is.

import { checksumOf } from "../core/checksum";
import { counted } from "../core/counted";
import { openDocument, readBoundedJson } from "../core/document/document-file";
import type { Workbook } from "../core/document/workbook";
import { fail, ok, type Problem, problem, type Result } from "../core/problem";
import type { Progress } from "./client";
import type { PackedEdition, StudioContents, StudioEntry, StudioPart } from "./studio-contents";
import { unzipTexts, zipTexts } from "./zip";
import type { ZipBounds } from "./zip-directory";

const LIST = "studio.json";
const KIND = "saggar studio";
const VERSION = 1;
/** 50 editions of 1,000 pieces are 12 MB (tests/bench/studio.mjs). */
const STUDIO_BOUNDS: ZipBounds = { files: 1001, bytes: 400_000_000 };

const fileOf = (index: number) => `editions/${String(index + 1).padStart(4, "0")}.json`;

/** The bytes of a studio file; refused where it could not be read again. */
export function writeStudioZip(at: string, parts: readonly StudioPart[]): Result<Uint8Array<ArrayBuffer>> {
  const letters = parts.reduce((sum, { text }) => sum + text.length, 0);
  if (parts.length >= STUDIO_BOUNDS.files || letters > STUDIO_BOUNDS.bytes)
    return fail(
      problem({
        code: "studio.size",
        where: "The whole studio in one file",
        found: `${counted(parts.length, "edition")}, ${Math.round(letters / 1_000_000)} MB`,
        allowed: `up to ${STUDIO_BOUNDS.files - 1} editions and ${STUDIO_BOUNDS.bytes / 1_000_000} MB`,
        fix: "Save old editions as files of their own and delete them here.",
      }),
    );
  const editions = parts.map(({ text: _, ...entry }) => entry);
  return ok(
    zipTexts({
      [LIST]: JSON.stringify({ kind: KIND, version: VERSION, at, editions }),
      ...Object.fromEntries(parts.map(({ text }, index) => [fileOf(index), text])),
    }),
  );
}

/** Reads a studio file: what it holds, and the editions that can be opened, by their indices. */
export function readStudioZip(
  bytes: Uint8Array,
  where: string,
  onProgress: (progress: Progress) => void = () => undefined,
): Result<{ readonly contents: StudioContents; readonly books: readonly (Workbook | undefined)[] }> {
  const unpacking = (done: number, of: number) => onProgress({ doing: "unpacking", done, of });
  const files = unzipTexts(bytes, where, unpacking, STUDIO_BOUNDS);
  if (!files.ok) return files;
  const list = readList(files.value[LIST], where);
  if (!list.ok) return list;
  const { at, entries } = list.value;
  const books: (Workbook | undefined)[] = [];
  const editions = entries.map((entry, index): PackedEdition => {
    onProgress({ doing: "checking", done: index, of: entries.length });
    const text = files.value[fileOf(index)];
    const itsPlace = `${where}, ${fileOf(index)}`;
    const opened = text === undefined ? fail(listProblem(itsPlace, "no such file")) : openDocument(text, itsPlace);
    books.push(opened.ok ? opened.value.book : undefined);
    return { ...entry, sum: checksumOf(text ?? ""), problems: opened.ok ? [] : opened.problems };
  });
  return ok({ contents: { at, editions }, books });
}

function listProblem(where: string, found: string): Problem {
  return problem({
    code: "studio.list",
    where,
    found,
    allowed: "a studio file as it was saved here",
    fix: "Choose another file; nothing here was changed.",
  });
}

function readList(
  text: string | undefined,
  where: string,
): Result<{ readonly at: string; readonly entries: readonly StudioEntry[] }> {
  const refuse = (found: string, within = "") => fail(listProblem(`${where}, ${LIST}${within}`, found));
  if (text === undefined) return refuse("no such file");
  const held = readBoundedJson(text);
  if ("found" in held) return refuse(held.found);
  const { data } = held;
  if (!isObject(data) || data.kind !== KIND || !Array.isArray(data.editions)) return refuse("no list of editions");
  if (data.version !== VERSION) return refuse(`version ${String(data.version).slice(0, 20)}, of a newer Saggar`);
  const ids = new Set<string>();
  const entries: StudioEntry[] = [];
  for (const [index, one] of data.editions.entries()) {
    const entry = entryOf(one);
    if (!entry) return refuse("an entry that is none", `, edition ${index + 1}`);
    if (ids.has(entry.id)) return refuse("the same edition twice", `, edition ${index + 1}`);
    ids.add(entry.id);
    entries.push(entry);
  }
  return ok({ at: momentOf(data.at), entries });
}

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** A moment, or the first there was where it is none. */
function momentOf(value: unknown): string {
  return typeof value === "string" && !Number.isNaN(Date.parse(value)) ? value : new Date(0).toISOString();
}

function entryOf(one: unknown): StudioEntry | undefined {
  if (!isObject(one)) return undefined;
  const { id, title, updatedAt, pieces, mark, edit } = one;
  if (typeof id !== "string" || !/^[\w-]{1,64}$/.test(id) || typeof title !== "string") return undefined;
  return {
    ...{ id, title: title.slice(0, 200), updatedAt: momentOf(updatedAt) },
    pieces: typeof pieces === "number" && pieces >= 0 ? pieces : 0,
    ...(mark === undefined ? {} : { mark }),
    ...(edit === undefined ? {} : { edit }),
  };
}
