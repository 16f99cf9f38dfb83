// What a zip says of itself (PKWARE, APPNOTE.TXT 6.3.10), judged before anything is unpacked. The directory at the end is
// the one that counts; whatever contradicts it, lies on top of something else or asks for too much is refused with its place.

import { LARGEST_FILE_BYTES } from "../core/document/write-document";
import { fail, ok, problem, type Result } from "../core/problem";

/** One file in a zip. */
export interface ZipEntry {
  readonly name: string;
  /** How it is packed: as it is, or by deflate. */
  readonly isDeflated: boolean;
  readonly crc: number;
  /** Bytes when unpacked, as the directory has it. */
  readonly size: number;
  readonly packed: Uint8Array;
}

/** How much a zip may ask for. */
export interface ZipBounds {
  readonly files: number;
  /** Bytes of all files together, unpacked; a single one is never larger than an edition may be. */
  readonly bytes: number;
}

/** A workbook has eleven files; other programs add some of their own. */
const WORKBOOK_BOUNDS: ZipBounds = { files: 200, bytes: LARGEST_FILE_BYTES };
/** Deflate gives 1032 bytes for one at most; large tables of mostly blanks were seen to give 50. */
const MOST_RATIO = 300;
/** A small file may be as dense as it likes. */
const RATIO_FREE_BYTES = 1_000_000;

const END = { mark: 0x06054b50, bytes: 22 } as const;
const FILE = { mark: 0x02014b50, bytes: 46 } as const;
const LOCAL = { mark: 0x04034b50, bytes: 30 } as const;
const LONGEST_COMMENT = 0xffff;
const ENCRYPTED = 0x0001;
const SIZES_FOLLOW = 0x0008;
const STORED = 0;
const DEFLATED = 8;

/** A reason and its position; thrown and caught in this file only. */
class Refusal extends Error {
  readonly place: string;
  readonly found: string;
  readonly allowed: string;

  constructor(place: string, found: string, allowed = WHOLE) {
    super(found);
    this.place = place;
    this.found = found;
    this.allowed = allowed;
  }
}

const WHOLE = "a zip as it was saved, whole and unchanged";

/** The problem of a zip that can't be read, at a position in it. */
export function zipProblem(where: string, found: string, allowed = WHOLE) {
  const fix = "Choose another file; nothing here was changed.";
  return problem({ code: "zip.read", where, found, allowed, fix });
}

/** The files that a zip says it holds. */
export function readDirectory(
  bytes: Uint8Array,
  where: string,
  bounds: ZipBounds = WORKBOOK_BOUNDS,
): Result<readonly ZipEntry[]> {
  try {
    return ok(entriesOf(bytes, bounds));
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return fail(zipProblem(error.place === "" ? where : `${where}, ${error.place}`, error.found, error.allowed));
  }
}

interface Located extends ZipEntry {
  /** Where its header begins and its bytes end. */
  readonly from: number;
  readonly to: number;
}

function entriesOf(bytes: Uint8Array, bounds: ZipBounds): readonly ZipEntry[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = endOf(view);
  const count = view.getUint16(end + 10, true);
  const size = view.getUint32(end + 12, true);
  const start = view.getUint32(end + 16, true);
  if (count > bounds.files) throw new Refusal("", `${count} files`, `a zip of ${bounds.files} files or fewer`);
  if (view.getUint32(end + 4, true) !== 0 || view.getUint16(end + 8, true) !== count)
    throw new Refusal("", "one part of several", "a zip in one part");
  if (start + size !== end) throw new Refusal(`byte ${end}`, "a list of files that is not where it should be");
  const found: Located[] = [];
  let at = start;
  for (let index = 0; index < count; index += 1) {
    if (at + FILE.bytes > end || view.getUint32(at, true) !== FILE.mark)
      throw new Refusal(`file ${index + 1} of ${count}`, "no such file in its list");
    const next = at + FILE.bytes + lengthsAt(view, at + 28, 3);
    if (next > end) throw new Refusal(`file ${index + 1} of ${count}`, "a list of files that breaks off");
    found.push(entryAt(bytes, view, at, start));
    at = next;
  }
  if (at !== end) throw new Refusal(`byte ${at}`, "more files than the zip counts");
  checkTogether(found, bounds.bytes);
  return found;
}

/** Where the last record begins; a comment may follow it, and then is exactly as long as it says. */
function endOf(view: DataView): number {
  const last = view.byteLength - END.bytes;
  for (let at = last; at >= Math.max(0, last - LONGEST_COMMENT); at -= 1)
    if (view.getUint32(at, true) === END.mark && at + END.bytes + view.getUint16(at + 20, true) === view.byteLength)
      return at;
  throw new Refusal("", "no end of a zip");
}

/** The sum of so many 16-bit lengths that stand beside each other. */
function lengthsAt(view: DataView, at: number, count: number): number {
  let sum = 0;
  for (let index = 0; index < count; index += 1) sum += view.getUint16(at + 2 * index, true);
  return sum;
}

function entryAt(bytes: Uint8Array, view: DataView, at: number, directory: number): Located {
  const nameBytes = bytes.subarray(at + FILE.bytes, at + FILE.bytes + view.getUint16(at + 28, true));
  const name = nameOf(nameBytes);
  const flags = view.getUint16(at + 8, true);
  const method = view.getUint16(at + 10, true);
  const [crc, packedSize, size] = [16, 20, 24].map((offset) => view.getUint32(at + offset, true)) as [
    number,
    number,
    number,
  ];
  const from = view.getUint32(at + 42, true);
  if (flags & ENCRYPTED) throw new Refusal(name, "a file that is locked with a password", "files without a password");
  if (method !== STORED && method !== DEFLATED)
    throw new Refusal(
      name,
      `a file packed in a way that is not known here (${method})`,
      "files packed in the usual way (deflate), or not at all",
    );
  if (method === STORED && size !== packedSize) throw new Refusal(name, "two sizes of one file");
  checkSize(name, size, packedSize);
  const to = checkLocal(bytes, view, { name, nameBytes, method, crc, packedSize, size, from, directory });
  return { name, isDeflated: method === DEFLATED, crc, size, packed: bytes.subarray(to - packedSize, to), from, to };
}

function checkSize(name: string, size: number, packedSize: number): void {
  if (size > LARGEST_FILE_BYTES)
    throw new Refusal(name, `${megabytes(size)} unpacked`, `files of up to ${megabytes(LARGEST_FILE_BYTES)}`);
  if (size > RATIO_FREE_BYTES && size > packedSize * MOST_RATIO)
    throw new Refusal(
      name,
      `${megabytes(size)} out of ${Math.ceil(packedSize / 1000)} kB`,
      `tables, which are never more than ${MOST_RATIO} times as large unpacked`,
    );
}

interface Claimed {
  readonly name: string;
  readonly nameBytes: Uint8Array;
  readonly method: number;
  readonly crc: number;
  readonly packedSize: number;
  readonly size: number;
  readonly from: number;
  /** Where the directory begins: no file reaches that far. */
  readonly directory: number;
}

/** Where a file's bytes end; what stands before them has to say what the directory says. */
function checkLocal(bytes: Uint8Array, view: DataView, claimed: Claimed): number {
  const { name, nameBytes, from, directory } = claimed;
  if (from + LOCAL.bytes > directory || view.getUint32(from, true) !== LOCAL.mark)
    throw new Refusal(name, "no file where its list has it");
  const begin = from + LOCAL.bytes + lengthsAt(view, from + 26, 2);
  const to = begin + claimed.packedSize;
  if (to > directory) throw new Refusal(name, "a file that breaks off");
  const itsName = bytes.subarray(from + LOCAL.bytes, from + LOCAL.bytes + view.getUint16(from + 26, true));
  const isSameName = itsName.length === nameBytes.length && itsName.every((byte, at) => byte === nameBytes[at]);
  const hasSizes = (view.getUint16(from + 6, true) & SIZES_FOLLOW) === 0;
  const same =
    isSameName &&
    view.getUint16(from + 8, true) === claimed.method &&
    (!hasSizes ||
      (view.getUint32(from + 14, true) === claimed.crc &&
        view.getUint32(from + 18, true) === claimed.packedSize &&
        view.getUint32(from + 22, true) === claimed.size));
  if (!same) throw new Refusal(name, "a file that says of itself what its list does not");
  return to;
}

function nameOf(bytes: Uint8Array): string {
  const name = new TextDecoder().decode(bytes);
  const isOdd =
    name === "" || name.startsWith("/") || /[\\\p{Cc}\ufffd]|^[A-Za-z]:/u.test(name) || name.split("/").includes("..");
  if (isOdd) throw new Refusal("", `a file named ${name}`, "names of files within the zip");
  return name;
}

function checkTogether(found: readonly Located[], most: number): void {
  const names = new Set<string>();
  let total = 0;
  for (const { name, size } of found) {
    const same = name.normalize("NFC").toLowerCase();
    if (names.has(same)) throw new Refusal(name, "the same file twice", "each file once");
    names.add(same);
    total += size;
  }
  if (total > most) throw new Refusal("", `${megabytes(total)} unpacked`, `zips of up to ${megabytes(most)} unpacked`);
  let end = 0;
  for (const { name, from, to } of [...found].sort((a, b) => a.from - b.from)) {
    if (from < end) throw new Refusal(name, "bytes that belong to another file");
    end = to;
  }
}

function megabytes(bytes: number): string {
  return `${(bytes / 1_000_000).toFixed(1)} MB`;
}
