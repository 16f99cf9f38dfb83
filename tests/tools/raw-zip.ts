// A zip put together record by record (PKWARE, APPNOTE.TXT 6.3.10, sections 4.3.7, 4.3.12 and 4.3.16), so that it can lie.
import { deflateRawSync, crc32 as nodeCrc32 } from "node:zlib";

/** A file, and what its records say in place of the truth. */
export interface RawFile {
  readonly name: string;
  readonly content: string | Uint8Array;
  readonly crc?: number;
  /** Size unpacked, in both records. */
  readonly size?: number;
  /** In the list at the end only. */
  readonly listedSize?: number;
  readonly flags?: number;
  readonly method?: 0 | 8 | 99;
  /** The place of an earlier file's header, where this one says it is. */
  readonly at?: number;
}

/** The bytes of that zip; `count` is how many files its end says there are. */
export function rawZip(files: readonly RawFile[], count = files.length): Uint8Array {
  const parts: Uint8Array[] = [];
  const list: Uint8Array[] = [];
  let at = 0;
  for (const file of files) {
    const content = typeof file.content === "string" ? new TextEncoder().encode(file.content) : file.content;
    const name = new TextEncoder().encode(file.name);
    const method = file.method ?? 8;
    const packed = method === 0 ? content : new Uint8Array(deflateRawSync(content));
    const crc = file.crc ?? nodeCrc32(content);
    const size = file.size ?? content.length;
    const flags = file.flags ?? 0;
    const local = record(30, 0x04034b50, [4, 20], [6, flags], [8, method], [26, name.length]);
    const listed = record(46, 0x02014b50, [4, 20], [6, 20], [8, flags], [10, method], [28, name.length]);
    const view = new DataView(local.buffer);
    const other = new DataView(listed.buffer);
    for (const [offset, value] of [crc, packed.length, size].entries()) {
      view.setUint32(14 + 4 * offset, value, true);
      other.setUint32(16 + 4 * offset, offset === 2 ? (file.listedSize ?? size) : value, true);
    }
    other.setUint32(42, file.at ?? at, true);
    parts.push(local, name, packed);
    list.push(listed, name);
    at += local.length + name.length + packed.length;
  }
  const length = list.reduce((sum, part) => sum + part.length, 0);
  const end = record(22, 0x06054b50, [8, count & 0xffff], [10, count & 0xffff]);
  new DataView(end.buffer).setUint32(12, length, true);
  new DataView(end.buffer).setUint32(16, at, true);
  return new Uint8Array(Buffer.concat([...parts, ...list, end]));
}

function record(bytes: number, mark: number, ...fields: readonly (readonly [offset: number, value: number])[]) {
  const made = new Uint8Array(bytes);
  const view = new DataView(made.buffer);
  view.setUint32(0, mark, true);
  for (const [offset, value] of fields) view.setUint16(offset, value, true);
  return made;
}
