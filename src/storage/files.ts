// Files of this device, opened and saved by the browser's own dialogs. The only importer of browser-fs-access.
import { fileOpen, fileSave } from "browser-fs-access";
import { LARGEST_FILE_BYTES } from "../core/document/write-document";
import { fail, ok, type Problem, problem, type Result } from "../core/problem";
import { errorName } from "./storage-problems";

/** A kind of file: what the dialog offers and how much of it we read. */
export interface FileKind {
  readonly description: string;
  /** With their points, the one that new files get first. */
  readonly extensions: readonly [string, ...string[]];
  /** Media type without parameters. */
  readonly mime: string;
  readonly largestBytes: number;
}

/** A whole edition. */
export const EDITION_FILE: FileKind = {
  description: "Edition",
  extensions: [".edition.json", ".json"],
  mime: "application/json",
  largestBytes: LARGEST_FILE_BYTES,
};

/** A table as comma-separated values (RFC 4180). */
export const CSV_FILE: FileKind = {
  description: "Comma-separated values",
  extensions: [".csv", ".tsv", ".txt"],
  mime: "text/csv",
  largestBytes: 50_000_000,
};

/** What can be brought in: a table, or a whole workbook as a zip of tables. */
export const CSV_OR_ZIP_FILE: FileKind = {
  ...CSV_FILE,
  description: "Comma-separated values, or a zip of them",
  extensions: [".csv", ".tsv", ".txt", ".zip"],
};

/** Several tables in one file. */
export const ZIP_FILE: FileKind = {
  description: "Zip of comma-separated values",
  extensions: [".zip"],
  mime: "application/zip",
  largestBytes: 50_000_000,
};

/** A whole studio. */
export const STUDIO_FILE: FileKind = {
  description: "Whole studio",
  extensions: [".studio.zip", ".zip"],
  mime: "application/zip",
  largestBytes: LARGEST_FILE_BYTES,
};

export interface OpenedText {
  readonly name: string;
  readonly text: string;
  /** For saving back to the same file, where the browser can. */
  readonly handle: FileSystemFileHandle | undefined;
}

/** Asks for a file without reading it; undefined where the maker chose none. One that is too large is refused. */
export async function chooseFile(kind: FileKind): Promise<Result<File | undefined>> {
  try {
    const file = await fileOpen({ description: kind.description, extensions: [...kind.extensions] });
    const problems = sizeProblems(file, kind.largestBytes);
    return problems.length > 0 ? fail(...problems) : ok(file);
  } catch (error) {
    return wasCancelled(error) ? ok(undefined) : fail(openProblem("The file", error));
  }
}

/** What is wrong with the size of a file (chosen or dropped), before anything of it is read. */
export function sizeProblems(file: File, largestBytes: number): readonly Problem[] {
  if (file.size <= largestBytes) return [];
  return [
    problem({
      code: "file.size",
      where: file.name,
      found: megabytes(file.size),
      allowed: `files of up to ${megabytes(largestBytes)}`,
      fix: "Choose another file.",
    }),
  ];
}

/** Asks for a file and reads it as UTF-8; undefined where the maker chose none. */
export async function openTextFile(kind: FileKind): Promise<Result<OpenedText | undefined>> {
  try {
    const file = await fileOpen({ description: kind.description, extensions: [...kind.extensions] });
    const text = await readTextFile(file, kind.largestBytes);
    return text.ok ? ok({ name: file.name, text: text.value, handle: file.handle }) : text;
  } catch (error) {
    return wasCancelled(error) ? ok(undefined) : fail(openProblem("The file", error));
  }
}

/** Reads a file (chosen or dropped) as UTF-8; one that is too large is refused before it is read. */
export async function readTextFile(file: File, largestBytes: number): Promise<Result<string>> {
  const where = file.name;
  const problems = sizeProblems(file, largestBytes);
  if (problems.length > 0) return fail(...problems);
  let bytes: Uint8Array;
  try {
    bytes = new Uint8Array(await file.arrayBuffer());
  } catch (error) {
    return fail(openProblem(where, error));
  }
  return decodeUtf8(bytes, where);
}

/** Decodes bytes as UTF-8 and leaves a byte-order mark out; any other encoding is a problem, never a guess. */
export function decodeUtf8(bytes: Uint8Array, where: string): Result<string> {
  try {
    return ok(new TextDecoder("utf-8", { fatal: true }).decode(bytes));
  } catch {
    const [first, second] = bytes;
    const isUtf16 = (first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff);
    return fail(
      problem({
        code: "file.encoding",
        where,
        found: isUtf16 ? "text encoded as UTF-16" : "text in another encoding",
        allowed: "text encoded as UTF-8",
        fix: "Save it again as UTF-8 in the program it comes from.",
      }),
    );
  }
}

export interface SavedFile {
  /** The handle to save to next time; undefined where the browser downloads a new copy each time. */
  readonly handle: FileSystemFileHandle | undefined;
}

/** Saves text or bytes to a file, to the same one where its handle is given; undefined where the maker changed their mind. */
export async function saveTextFile(
  name: string,
  text: string | Uint8Array<ArrayBuffer>,
  kind: FileKind,
  existing?: FileSystemFileHandle,
): Promise<Result<SavedFile | undefined>> {
  const blob = new Blob([text], { type: kind.mime });
  const options = { fileName: name, description: kind.description, extensions: [kind.extensions[0]] };
  const target = existing && (await isStillThere(existing)) ? existing : null;
  let isChosen = target !== null;
  const onChosen = () => {
    isChosen = true;
  };
  try {
    const handle = await fileSave(blob, options, target, false, onChosen);
    return ok({ handle: handle ?? undefined });
  } catch (error) {
    // Once there is a place to write to, the same error name means that the browser stopped the write.
    if (wasCancelled(error) && !isChosen) return ok(undefined);
    return fail(
      problem({
        code: "file.save",
        where: name,
        found: `the browser's answer ${errorName(error)}`,
        allowed: "a place that can be written to",
        fix: "Save it under another name or in another folder.",
      }),
    );
  }
}

async function isStillThere(handle: FileSystemFileHandle): Promise<boolean> {
  try {
    await handle.getFile();
    return true;
  } catch {
    return false;
  }
}

/** A file name from a title: what some system does not allow in names is left out. */
export function fileNameFor(title: string, extension: string): string {
  const cleaned = title
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters that names can't hold
    .replace(/[\u0000-\u001f\u007f<>:"/\\|?*]/g, " ")
    .replace(/\s+/g, " ")
    .replace(/^[\s.]+|[\s.]+$/g, "")
    .slice(0, 80)
    .trim();
  return `${cleaned === "" ? "edition" : cleaned}${extension}`;
}

function wasCancelled(error: unknown): boolean {
  return errorName(error) === "AbortError";
}

function openProblem(where: string, error: unknown) {
  return problem({
    code: "file.open",
    where,
    found: `the browser's answer ${errorName(error)}`,
    allowed: "a file that can be read",
    fix: "It may have been moved, changed or locked since it was chosen: choose it again.",
  });
}

function megabytes(bytes: number): string {
  return `${Number((bytes / 1_000_000).toPrecision(3))} MB`;
}
