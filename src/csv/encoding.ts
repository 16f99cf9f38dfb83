// How the bytes of a file stand for text: seen from the bytes themselves, shown, and open to another choice. A file that
// is no text at all is recognised by its beginning, before the rest of it is read.
import { counted } from "../core/counted";
import { type Problem, problem } from "../core/problem";

/** Names as the Encoding Standard (WHATWG) has them. */
export const ENCODINGS = ["utf-8", "utf-16le", "utf-16be", "windows-1252"] as const;
export type Encoding = (typeof ENCODINGS)[number];

export interface SeenEncoding {
  readonly encoding: Encoding;
  /** Known by a byte-order mark, by the form of the bytes, or only by what the bytes are not. */
  readonly shownBy: "mark" | "form" | "rest";
}

/** Enough of a file to know what kind it is. */
export const HEAD_BYTES = 4096;
/** A text file has hardly any control characters; more than this share of them and it is something else. */
const MOST_CONTROLS = 0.02;
/** Text of letters and digits has a nought in nearly every second byte of UTF-16. */
const UTF_16_NOUGHTS = 0.3;
/** So few bytes that are no UTF-8 may be slips in a file that is. */
const FEW_ODD = 2;
/** What stands for bytes that can't be read. */
export const UNREADABLE = "\ufffd";
/** Bytes that stand for nothing in Windows-1252. */
const NOT_IN_1252 = /[\u0081\u008d\u008f\u0090\u009d]/g;

// Bytes 0x80 to 0x9F (Unicode Consortium, CP1252.TXT). Some decoders give control characters for them; blank is undefined.
const UPPER = "€ ‚ƒ„…†‡ˆ‰Š‹Œ Ž  ‘’“”•–—˜™š›œ žŸ";
const UPPER_CONTROLS = /[\u0080-\u009f]/g;

function fromUpperControl(found: string): string {
  const letter = UPPER[found.charCodeAt(0) - 0x80] ?? " ";
  return letter === " " ? found : letter;
}

const BEGINNINGS: readonly (readonly [what: string, bytes: readonly number[]])[] = [
  ["a zip or an office document", [0x50, 0x4b, 0x03, 0x04]],
  ["an old office document", [0xd0, 0xcf, 0x11, 0xe0]],
  ["a PDF", [0x25, 0x50, 0x44, 0x46]],
  ["a picture", [0x89, 0x50, 0x4e, 0x47]],
  ["a picture", [0xff, 0xd8, 0xff]],
  ["a picture", [0x47, 0x49, 0x46, 0x38]],
  ["a packed file", [0x1f, 0x8b]],
  ["a packed file", [0x52, 0x61, 0x72, 0x21]],
  ["a packed file", [0x37, 0x7a, 0xbc, 0xaf]],
];

/** What is wrong with a file that is no text, by its first bytes. */
export function refuseBinary(head: Uint8Array, where: string): readonly Problem[] {
  const kind = BEGINNINGS.find(([, bytes]) => beginsWith(head, bytes))?.[0];
  if (kind === undefined && !looksBinary(head)) return [];
  return [
    problem({
      code: "csv.binary",
      where,
      found: kind ?? "bytes that are no text",
      allowed: "a text file of values separated by commas, semicolons or tabs",
      fix: "In the program it comes from, save the sheet as CSV.",
    }),
  ];
}

function beginsWith(head: Uint8Array, bytes: readonly number[]): boolean {
  return head.length >= bytes.length && bytes.every((byte, at) => head[at] === byte);
}

function looksBinary(head: Uint8Array): boolean {
  if (markOf(head)?.startsWith("utf-16") || utf16Form(head)) return false;
  let controls = 0;
  for (const byte of head) {
    if (byte === 0) return true;
    // Tab, line feed, line feed's kin, carriage return, and the end mark of old systems are text.
    if (byte < 0x20 && !(byte >= 0x09 && byte <= 0x0d) && byte !== 0x1a) controls += 1;
  }
  return controls > MOST_CONTROLS * head.length;
}

function markOf(bytes: Uint8Array): Encoding | undefined {
  if (beginsWith(bytes, [0xef, 0xbb, 0xbf])) return "utf-8";
  if (beginsWith(bytes, [0xff, 0xfe])) return "utf-16le";
  return beginsWith(bytes, [0xfe, 0xff]) ? "utf-16be" : undefined;
}

function utf16Form(bytes: Uint8Array): Encoding | undefined {
  const length = Math.min(bytes.length, HEAD_BYTES) & ~1;
  if (length < 4) return undefined;
  const noughts = [0, 0];
  for (let at = 0; at < length; at += 1) if (bytes[at] === 0) noughts[at & 1] = (noughts[at & 1] ?? 0) + 1;
  const [even = 0, odd = 0] = noughts.map((count) => count / (length / 2));
  if (odd > UTF_16_NOUGHTS && even < odd / 10) return "utf-16le";
  return even > UTF_16_NOUGHTS && odd < even / 10 ? "utf-16be" : undefined;
}

/** The encoding that the bytes of a whole file show. */
export function seeEncoding(bytes: Uint8Array): SeenEncoding {
  const mark = markOf(bytes);
  if (mark) return { encoding: mark, shownBy: "mark" };
  const wide = utf16Form(bytes);
  if (wide) return { encoding: wide, shownBy: "form" };
  try {
    new TextDecoder("utf-8", { fatal: true }).decode(bytes);
    return { encoding: "utf-8", shownBy: "form" };
  } catch {
    const text = new TextDecoder().decode(bytes);
    const odd = text.match(/\ufffd/g)?.length ?? 0;
    const isMostly = odd <= FEW_ODD || /[\u0080-\ufffc]/.test(text);
    return { encoding: isMostly ? "utf-8" : "windows-1252", shownBy: "rest" };
  }
}

/** The first position that can't be read as UTF-8: its line, and what stands there in either reading. */
export function firstUnreadable(
  bytes: Uint8Array,
): { readonly line: number; readonly read: string; readonly western: string } | undefined {
  const text = new TextDecoder().decode(bytes);
  const at = text.indexOf(UNREADABLE);
  if (at < 0) return undefined;
  const before = text.slice(0, at).match(/\r\n|\r|\n/g)?.length ?? 0;
  // Up to the first such place both readings have the same bytes.
  const byte = new TextEncoder().encode(text.slice(0, at)).length;
  const around = (encoding: Encoding) => {
    const { text: part } = decodeBytes(bytes.subarray(Math.max(0, byte - 12), byte + 12), encoding, "");
    return part.replace(/[\r\n]+/g, " ").trim();
  };
  return { line: before + 1, read: around("utf-8"), western: around("windows-1252") };
}

/** The text that bytes stand for, without a byte-order mark; what can't be read is counted. */
export function decodeBytes(
  bytes: Uint8Array,
  encoding: Encoding,
  where: string,
): { readonly text: string; readonly problems: readonly Problem[] } {
  const decoded = new TextDecoder(encoding).decode(bytes);
  const text = encoding === "windows-1252" ? decoded.replace(UPPER_CONTROLS, fromUpperControl) : decoded;
  const odd = encoding === "windows-1252" ? NOT_IN_1252 : /\ufffd/g;
  const count = text.match(odd)?.length ?? 0;
  if (count === 0) return { text, problems: [] };
  const problems = [
    problem({
      code: "csv.encoding",
      where,
      found: `${counted(count, "character")} that can't be read as ${ENCODING_NAMES[encoding]}`,
      allowed: "text in one encoding",
      fix: "Choose another encoding and look at the letters with accents.",
    }),
  ];
  return { text, problems };
}

/** Encodings as a maker reads them. */
export const ENCODING_NAMES: Readonly<Record<Encoding, string>> = {
  "utf-8": "UTF-8",
  "utf-16le": "UTF-16, low byte first",
  "utf-16be": "UTF-16, high byte first",
  "windows-1252": "Windows-1252 (Western)",
};
