// Seeded mutations of files of ours: of what JSON means, of text, and of the records of a zip (PKWARE, APPNOTE.TXT).
import { seeded } from "./random-workbook";

/** Whole numbers from 0 to below a limit. */
export interface Random {
  readonly below: (limit: number) => number;
}

/** The same numbers for the same seed. */
export function randomOf(seed: number): Random {
  const next = seeded(seed);
  return { below: (limit) => Math.floor(next() * limit) };
}

type Json = unknown;
type Holder = Record<string, Json> | Json[];

const ODD: readonly Json[] = [
  ...[null, true, false, 0, -1, 1e308, -1e308, 1e-320, 9007199254740992, 0.1, "", " ", "=", "=1/0", "=OFFSET()"],
  ...["=SPLIT(1000000000000000,0.5)", "__proto__", "constructor", "../../x", "x".repeat(25_000), "🏺\u0000\ud800"],
  ...[[], {}, [[[]]], { f: "=" }, { f: "=(((" }, { f: 3 }, { f: "=1", g: 2 }, "2026-02-31", "25:61", "NaN"],
];

/** A value changed somewhere: one to three odd values, things gone, doubled, swapped or under another name. */
export function mutateJson(text: string, random: Random): string {
  const root = JSON.parse(text) as Holder;
  for (let times = 1 + random.below(3); times > 0; times -= 1) mutateAt(placeIn(root, random), random, root);
  return JSON.stringify(root);
}

/** Somewhere in it; goes down for as long as chance has it. */
function placeIn(root: Holder, random: Random): readonly [Holder, string] {
  let holder = root;
  for (;;) {
    const keys = Object.keys(holder);
    const key = keys[random.below(keys.length)];
    if (key === undefined) return [holder, "new"];
    const next = (holder as Record<string, Json>)[key];
    if (typeof next !== "object" || next === null || random.below(6) === 0) return [holder, key];
    holder = next as Holder;
  }
}

function mutateAt([holder, key]: readonly [Holder, string], random: Random, root: Holder): void {
  const at = holder as Record<string, Json>;
  const odd = structuredClone(ODD[random.below(ODD.length)]);
  switch (random.below(7)) {
    case 0:
      if (Array.isArray(holder)) holder.splice(Number(key), 1);
      else delete at[key];
      return;
    case 1:
      if (Array.isArray(holder)) holder.push(structuredClone(holder[Number(key)]));
      else at[`${key}_2`] = structuredClone(at[key]);
      return;
    case 2: {
      const [other, name] = placeIn(root, random);
      const there = structuredClone((other as Record<string, Json>)[name]);
      at[key] = there;
      return;
    }
    case 3:
      Object.defineProperty(holder, random.below(2) === 0 ? "__proto__" : "odd", {
        ...{ value: odd, enumerable: true, configurable: true, writable: true },
      });
      return;
    case 4:
      if (typeof at[key] === "string") {
        at[key] = mutateText(String(at[key]), random);
        return;
      }
      if (typeof at[key] === "number") {
        at[key] = Number(at[key]) * (random.below(2) === 0 ? -1 : 1e6) + 0.5;
        return;
      }
      at[key] = odd;
      return;
    default:
      at[key] = odd;
  }
}

/** Text cut short, with a part gone or doubled, or with a few odd characters in it. */
export function mutateText(text: string, random: Random): string {
  const at = random.below(text.length + 1);
  const to = at + random.below(40);
  const marks = ['"', ",", ";", "\n", "\r", "'", "=", "{", "}", "[", "\u0000", "\ud800", "é", "1e999", "|", "#", "|"];
  switch (random.below(5)) {
    case 0:
      return text.slice(0, at);
    case 1:
      return text.slice(0, at) + text.slice(to);
    case 2:
      return text.slice(0, to) + text.slice(at);
    default:
      return text.slice(0, at) + (marks[random.below(marks.length)] ?? "") + text.slice(at + random.below(2));
  }
}

/** Offsets of what a zip's records say, with their lengths: local header, list of files, end. */
const FIELDS: Readonly<Record<number, readonly (readonly [offset: number, bytes: 2 | 4])[]>> = {
  67324752: [
    [6, 2],
    [8, 2],
    [14, 4],
    [18, 4],
    [22, 4],
    [26, 2],
    [28, 2],
  ],
  33639248: [
    [8, 2],
    [10, 2],
    [16, 4],
    [20, 4],
    [24, 4],
    [28, 2],
    [30, 2],
    [32, 2],
    [42, 4],
  ],
  101010256: [
    [4, 2],
    [8, 2],
    [10, 2],
    [12, 4],
    [16, 4],
    [20, 2],
  ],
};

/** The bytes of a zip with a record that lies, bits that flipped, a part gone, or a part that is there twice. */
export function mutateZip(bytes: Uint8Array, random: Random): Uint8Array {
  const copy = new Uint8Array(bytes);
  const view = new DataView(copy.buffer);
  const records: [at: number, mark: number][] = [];
  for (let at = 0; at + 22 <= copy.length; at += 1) {
    const mark = view.getUint32(at, true);
    if (FIELDS[mark]) records.push([at, mark]);
  }
  switch (random.below(6)) {
    case 0:
      return copy.slice(0, random.below(copy.length));
    case 1: {
      const at = random.below(copy.length);
      copy[at] = (copy[at] ?? 0) ^ (1 << random.below(8));
      return copy;
    }
    case 2: {
      const at = random.below(copy.length);
      const to = at + 1 + random.below(200);
      return new Uint8Array([...copy.slice(0, to), ...copy.slice(at)]);
    }
    case 3: {
      const [at = 0] = records[random.below(records.length)] ?? [];
      copy[at + 30 + random.below(16)] = "./\\:\u0000A".charCodeAt(random.below(6));
      return copy;
    }
    default: {
      for (let times = 1 + random.below(3); times > 0; times -= 1) {
        const [at = 0, mark = 0] = records[random.below(records.length)] ?? [];
        const fields = FIELDS[mark] ?? [];
        const [offset = 0, size = 2] = fields[random.below(fields.length)] ?? [];
        if (at + offset + size > copy.length) continue;
        const value = [0, 1, 0xff, 0xffff, 0xffffffff, copy.length, random.below(70_000)][random.below(7)] ?? 0;
        if (size === 2) view.setUint16(at + offset, value & 0xffff, true);
        else view.setUint32(at + offset, value >>> 0, true);
      }
      return copy;
    }
  }
}
