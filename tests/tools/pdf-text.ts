// Reads the text off a PDF as Chromium writes it: pages in order, each run of text through its font's ToUnicode map
// (ISO 32000-1, 9.4 and 9.10). No general reader: object streams and encryption are not known here.
import { inflateSync } from "node:zlib";

export interface PdfPage {
  /** Points, 72 to the inch. */
  readonly width: number;
  readonly height: number;
  /** What stands between BT and ET, in the order in which it was painted. */
  readonly runs: readonly string[];
}

type Objects = ReadonlyMap<number, string>;

/** The pages of a PDF with their text. */
export function readPdf(bytes: Uint8Array): readonly PdfPage[] {
  const file = Buffer.from(bytes).toString("latin1");
  const objects = new Map(
    [...file.matchAll(/(?:^|\n)(\d+) 0 obj\s([\s\S]*?)\nendobj/g)].map((match) => [Number(match[1]), match[2] ?? ""]),
  );
  const root = [...objects.values()].find((object) => /\/Type \/Catalog\b/.test(object)) ?? "";
  return pagesUnder(objects, refOf(root, "Pages"));
}

function refOf(object: string, name: string): number {
  return Number(new RegExp(`/${name} (\\d+) 0 R`).exec(object)?.[1]);
}

function pagesUnder(objects: Objects, id: number): readonly PdfPage[] {
  const object = objects.get(id) ?? "";
  const kids = /\/Kids \[([^\]]*)\]/.exec(object)?.[1];
  if (kids !== undefined) return [...kids.matchAll(/(\d+) 0 R/g)].flatMap((kid) => pagesUnder(objects, Number(kid[1])));
  const box = /\/MediaBox \[([^\]]*)\]/.exec(object)?.[1]?.split(" ").map(Number) ?? [];
  return [{ width: box[2] ?? 0, height: box[3] ?? 0, runs: runsOf(objects, object) }];
}

function streamOf(object: string): string {
  const start = object.indexOf("stream\n") + "stream\n".length;
  const raw = Buffer.from(object.slice(start, object.lastIndexOf("\nendstream")), "latin1");
  return /\/FlateDecode/.test(object.slice(0, start)) ? inflateSync(raw).toString("latin1") : raw.toString("latin1");
}

function runsOf(objects: Objects, page: string): readonly string[] {
  const content = streamOf(objects.get(refOf(page, "Contents")) ?? "");
  const maps = new Map(
    [...page.matchAll(/\/(F\d+) (\d+) 0 R/g)].map((font) => [
      font[1] ?? "",
      unicodeMap(streamOf(objects.get(refOf(objects.get(Number(font[2])) ?? "", "ToUnicode")) ?? "")),
    ]),
  );
  return [...content.matchAll(/\bBT\b([\s\S]*?)\bET\b/g)].map((block) => textOf(block[1] ?? "", maps));
}

function textOf(block: string, maps: ReadonlyMap<string, ReadonlyMap<number, string>>): string {
  let map: ReadonlyMap<number, string> | undefined;
  let text = "";
  for (const [, font, hex] of block.matchAll(/\/(F\d+) [\d.]+ Tf|<([0-9A-Fa-f]+)>/g)) {
    if (font !== undefined) map = maps.get(font);
    for (const code of hex?.match(/.{4}/g) ?? []) text += map?.get(Number.parseInt(code, 16)) ?? "\ufffd";
  }
  // Ligatures come as one character.
  return text.replace(/[\ufb00-\ufb04]/g, (joined) => joined.normalize("NFKC"));
}

function unicodeMap(cmap: string): ReadonlyMap<number, string> {
  const map = new Map<number, string>();
  const number = (hex: string | undefined) => Number.parseInt(hex ?? "", 16);
  for (const [, section] of cmap.matchAll(/beginbfchar\s([\s\S]*?)endbfchar/g))
    for (const [, code, to] of (section ?? "").matchAll(/<(\w+)> <(\w+)>/g))
      map.set(number(code), String.fromCharCode(...(to?.match(/.{4}/g) ?? []).map(number)));
  for (const [, section] of cmap.matchAll(/beginbfrange\s([\s\S]*?)endbfrange/g))
    for (const [, from, to, first] of (section ?? "").matchAll(/<(\w+)> <(\w+)> <(\w+)>/g))
      for (let code = number(from); code <= number(to); code += 1)
        map.set(code, String.fromCharCode(number(first) + code - number(from)));
  return map;
}
