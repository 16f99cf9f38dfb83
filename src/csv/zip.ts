// Several files in one. The only importer of fflate.
import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import { fail, ok, problem, type Result } from "../core/problem";

/** The same day for every file, so that the same contents give the same bytes: the first a zip can hold. */
const ZIP_DAY = "1980-01-01T12:00:00";
const MOST_FILES = 200;
const LARGEST_UNPACKED = 200_000_000;

/** A zip of text files, by name. */
export function zipTexts(files: Readonly<Record<string, string>>): Uint8Array<ArrayBuffer> {
  const packed = Object.fromEntries(Object.entries(files).map(([name, text]) => [name, strToU8(text)]));
  return new Uint8Array(zipSync(packed, { level: 6, mtime: new Date(ZIP_DAY) }));
}

/** The text files in a zip, by name; one that would grow too large is refused before it is unpacked. */
export function unzipTexts(bytes: Uint8Array, where: string): Result<Readonly<Record<string, string>>> {
  let size = 0;
  let count = 0;
  const refuse = (found: string) =>
    fail(problem({ code: "zip.read", where, found, allowed: "a zip that was saved here, whole and unchanged" }));
  try {
    const files = unzipSync(bytes, {
      filter: ({ originalSize, name }) => {
        size += originalSize;
        count += 1;
        return size <= LARGEST_UNPACKED && count <= MOST_FILES && /\.(csv|json|txt)$/.test(name);
      },
    });
    if (size > LARGEST_UNPACKED || count > MOST_FILES) return refuse("more than an edition can hold");
    return ok(Object.fromEntries(Object.entries(files).map(([name, data]) => [name, strFromU8(data)])));
  } catch (error) {
    return refuse(error instanceof Error ? error.message : String(error));
  }
}
