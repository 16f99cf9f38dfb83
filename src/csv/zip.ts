// Several files in one. The only importer of fflate.
import { Inflate, strToU8, zipSync } from "fflate";
import { crc32 } from "../core/checksum";
import { fail, ok, type Result } from "../core/problem";
import { readDirectory, type ZipBounds, type ZipEntry, zipProblem } from "./zip-directory";

/** The same day for every file, so that the same contents give the same bytes: the first a zip can hold. */
const ZIP_DAY = "1980-01-01T12:00:00";
/** What is unpacked at a time: it gives 17 MB at the very most before its size is looked at. */
const CHUNK_BYTES = 16_384;

/** A zip of text files, by name. */
export function zipTexts(files: Readonly<Record<string, string>>): Uint8Array<ArrayBuffer> {
  const packed = Object.fromEntries(Object.entries(files).map(([name, text]) => [name, strToU8(text)]));
  return new Uint8Array(zipSync(packed, { level: 6, mtime: new Date(ZIP_DAY) }));
}

/** Hears how many bytes have been unpacked, and of how many. */
export type OnBytes = (done: number, of: number) => void;

/**
 * The text files in a zip, by name. Everything it says of itself is held against what is in it: sizes while it is
 * unpacked, checksums after; anything else is refused with the file's name.
 */
export function unzipTexts(
  bytes: Uint8Array,
  where: string,
  onBytes: OnBytes = () => undefined,
  bounds?: ZipBounds,
): Result<Readonly<Record<string, string>>> {
  const directory = readDirectory(bytes, where, bounds);
  if (!directory.ok) return directory;
  const wanted = directory.value.filter(({ name }) => /\.(csv|json|txt)$/.test(name));
  const of = wanted.reduce((sum, { size }) => sum + size, 0);
  const texts: [string, string][] = [];
  let before = 0;
  for (const entry of wanted) {
    const text = unpack(entry, `${where}, ${entry.name}`, (done) => onBytes(before + done, of));
    if (!text.ok) return text;
    texts.push([entry.name, text.value]);
    before += entry.size;
  }
  return ok(Object.fromEntries(texts));
}

function unpack(entry: ZipEntry, where: string, onDone: (done: number) => void): Result<string> {
  const { packed, size } = entry;
  const unpacked = new Uint8Array(size);
  let done = 0;
  const take = (chunk: Uint8Array) => {
    if (done + chunk.length <= size) unpacked.set(chunk, done);
    done += chunk.length;
  };
  try {
    const inflate = entry.isDeflated ? new Inflate(take) : undefined;
    for (let at = 0; at < packed.length && done <= size; at += CHUNK_BYTES) {
      const chunk = packed.subarray(at, at + CHUNK_BYTES);
      if (inflate) inflate.push(chunk, at + CHUNK_BYTES >= packed.length);
      else take(chunk);
      onDone(Math.min(done, size));
    }
  } catch {
    return fail(zipProblem(where, "bytes that can't be unpacked"));
  }
  if (done !== size)
    return fail(zipProblem(where, `${done > size ? "more" : "fewer"} bytes than the ${size} that the zip says it has`));
  if (crc32(unpacked) !== entry.crc) return fail(zipProblem(where, "contents that are not those that were packed"));
  try {
    return ok(new TextDecoder("utf-8", { fatal: true }).decode(unpacked));
  } catch {
    return fail(zipProblem(where, "bytes that are no UTF-8", "text encoded as UTF-8"));
  }
}
