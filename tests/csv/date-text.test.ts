import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dateEvidence, readDate, readDateOrder } from "../../src/csv/date-text";

const seen = (...found: readonly string[]) => found.map((text, at) => ({ line: at + 2, column: "date", found: text }));

describe("days", () => {
  for (const [text, order, day] of [
    ["2026-04-03", undefined, "2026-04-03"],
    ["2026/4/3", undefined, "2026-04-03"],
    ["2026-04-03T00:00:00", undefined, "2026-04-03"],
    ["03/04/2026", undefined, "ambiguous"],
    ["03/04/2026", "dmy", "2026-04-03"],
    ["03/04/2026", "mdy", "2026-03-04"],
    ["03.04.2026 00:00", "dmy", "2026-04-03"],
    ["25.11.2026", undefined, "2026-11-25"],
    ["11/25/2026", undefined, "2026-11-25"],
    ["11/25/2026", "dmy", undefined],
    ["04.04.2026", undefined, "2026-04-04"],
    ["03/04/26", undefined, "ambiguous"],
    ["03/04/26", "ymd", "2003-04-26"],
    ["25/11/26", "dmy", "2026-11-25"],
    ["31/02/2026", "dmy", undefined],
    ["2026-02-29", undefined, undefined],
    ["46000", undefined, undefined],
    ["soon", "dmy", undefined],
    ["3/4-2026", "dmy", undefined],
  ] as const)
    it(`reads ${text}${order ? ` with ${order}` : ""}`, () => expect(readDate(text, order)).toBe(day));

  it("shows its order only where it can mean one thing", () => {
    expect(["13/04/2026", "04/13/2026", "04/03/2026", "04/04/2026", "2026-04-03", "1/2/03"].map(dateEvidence)).toEqual([
      "dmy",
      "mdy",
      "either",
      undefined,
      undefined,
      "either",
    ]);
  });

  it("agrees, contradicts, or has to be asked", () => {
    expect(readDateOrder(seen("03/04/2026", "13/04/2026"))).toMatchObject({ order: "dmy", why: "shown" });
    expect(readDateOrder(seen("03/04/2026", "04/13/2026"))).toMatchObject({ order: "mdy", why: "shown" });
    expect(readDateOrder(seen("13/04/2026", "04/13/2026"))).toMatchObject({ order: undefined, why: "mixed" });
    expect(readDateOrder(seen("03/04/2026", "04/04/2026"))).toMatchObject({ order: undefined, why: "unclear" });
    expect(readDateOrder(seen("13/04/2026", "03/04/26"))).toMatchObject({ order: undefined, why: "unclear" });
    expect(readDateOrder(seen("2026-04-03", ""))).toMatchObject({ order: undefined, why: "none" });
  });

  it("comes back from any order it is written in", () => {
    const day = fc.integer({ min: 0, max: 40_000 }).map((at) => new Date(at * 86_400_000).toISOString().slice(0, 10));
    fc.assert(
      fc.property(day, fc.constantFrom("/", ".", "-"), (iso, mark) => {
        const [year, month, date] = iso.split("-");
        expect(readDate([date, month, year].join(mark), "dmy")).toBe(iso);
        expect(readDate([month, date, year].join(mark), "mdy")).toBe(iso);
        expect(readDate([year, month, date].join(mark), undefined)).toBe(iso);
      }),
      { seed: 20261125, numRuns: 200 },
    );
  });
});
