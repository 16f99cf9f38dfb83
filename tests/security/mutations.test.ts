// Files of ours, changed by chance where it hurts: each is refused with its place, or opened whole. Never a throw.
// A few hundred here; MUTATIONS=2000 npx vitest run --project unit tests/security/mutations.test.ts for the whole run.
import { describe, expect, it } from "vitest";
import { readDocument } from "../../src/core/document/document-file";
import type { Workbook } from "../../src/core/document/workbook";
import { writeDocument } from "../../src/core/document/write-document";
import type { Result } from "../../src/core/problem";
import { readWorkbookZip, workbookFiles } from "../../src/csv/workbook-zip";
import { zipTexts } from "../../src/csv/zip";
import { smallEdition } from "../storage/small-edition";
import { evaluateAnew } from "../tools/evaluate";
import { mutateJson, mutateText, mutateZip, type Random, randomOf } from "../tools/mutate";

const COUNT = Number(process.env.MUTATIONS ?? 120);
/** A whole engine for one opened file in so many. */
const ENGINE_EVERY = 25;

const book = smallEdition(3);
const before = JSON.stringify(book);
const files = workbookFiles(book, () => 1.5, { delimiter: ",", decimal: ".", hasMark: false, withComputed: true });

function judge(read: Result<Workbook>, seed: number): "opened" | "refused" {
  if (!read.ok) {
    expect(read.problems.length, `seed ${seed}`).toBeGreaterThan(0);
    for (const { where, message } of read.problems) {
      expect(where, `seed ${seed}`).not.toBe("");
      expect(message.length, `seed ${seed}`).toBeLessThan(1000);
    }
    return "refused";
  }
  // Whole: it can be written, and what was written is the same again.
  expect(readDocument(writeDocument(read.value), "again"), `seed ${seed}`).toEqual({ ok: true, value: read.value });
  if (seed % ENGINE_EVERY === 0) evaluateAnew(read.value)("pieces", "p1", "own");
  return "opened";
}

function run(make: (random: Random) => Result<Workbook>): Readonly<Record<"opened" | "refused", number>> {
  const counts = { opened: 0, refused: 0 };
  for (let seed = 1; seed <= COUNT; seed += 1) {
    let read: Result<Workbook>;
    try {
      read = make(randomOf(seed));
    } catch (error) {
      throw new Error(`seed ${seed} threw`, { cause: error });
    }
    counts[judge(read, seed)] += 1;
  }
  expect(JSON.stringify(book)).toBe(before);
  expect(Reflect.get({}, "polluted")).toBeUndefined();
  return counts;
}

describe("mutations of a file", () => {
  it("of an edition are refused with a place, or open whole", () => {
    const text = writeDocument(book);
    const counts = run((random) => {
      const spoilt = random.below(5) === 0 ? mutateText(text, random) : mutateJson(text, random);
      return readDocument(spoilt, "evil.edition.json");
    });
    expect(Math.min(counts.opened, counts.refused)).toBeGreaterThan(COUNT / 20);
  }, 600_000);

  it("within the tables of a workbook's zip are refused with a place, or open whole", () => {
    const names = Object.keys(files).filter((name) => name !== "csv-metadata.json");
    const counts = run((random) => {
      const name = random.below(2) === 0 ? "edition.json" : (names[random.below(names.length)] ?? "");
      const text = files[name] ?? "";
      const isJson = name.endsWith(".json") && random.below(5) > 0;
      return readWorkbookZip(
        zipTexts({ ...files, [name]: isJson ? mutateJson(text, random) : mutateText(text, random) }),
        "evil.zip",
      );
    });
    expect(Math.min(counts.opened, counts.refused)).toBeGreaterThan(COUNT / 20);
  }, 600_000);

  it("of the zip's own records are refused with a place, or open whole", () => {
    const bytes = zipTexts(files);
    const counts = run((random) => readWorkbookZip(mutateZip(bytes, random), "evil.zip"));
    expect(counts.refused).toBeGreaterThan(COUNT / 2);
  }, 600_000);
});
