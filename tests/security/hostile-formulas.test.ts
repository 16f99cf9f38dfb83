// Formulas made to hang or to break the engine: an error in their own cell, and every other cell as it should be.
import { describe, expect, it } from "vitest";
import { applyChange } from "../../src/core/document/change";
import { readDocument } from "../../src/core/document/document-file";
import { writeDocument } from "../../src/core/document/write-document";
import { checkTypedFormula } from "../../src/core/formula/typed-formula";
import { Engine } from "../../src/engine/engine";
import { LEFT_OUT } from "../../src/engine/hyperformula/left-out";
import { TOOK_TOO_LONG } from "../../src/engine/set-aside";
import { ValueStore } from "../../src/engine/value-store";
import { isCellError } from "../../src/engine/values";
import { evaluateAnew } from "../tools/evaluate";
import { afterTyping, smallEdition } from "../tools/small-edition";

const book = afterTyping(smallEdition(3), [["pieces", "p2", "cast.slip", "900"]]);
const healthy = evaluateAnew(book)("pieces", "p2", "own");

/** What an edition from a file shows that holds the formula: its own cell, and a cell beside it. */
function shown(formula: string) {
  const cell = { kind: "cell", sheet: "pieces", row: "p1", column: "cast.slip", was: undefined } as const;
  const spoilt = applyChange(book, { label: "x", operations: [{ ...cell, is: { f: formula } }] });
  const read = readDocument(writeDocument(spoilt), "evil.edition.json");
  if (!read.ok) throw new Error(read.problems[0]?.message);
  const value = evaluateAnew(read.value);
  return { own: value("pieces", "p1", "cast.slip"), beside: value("pieces", "p2", "own") };
}

const typed = (formula: string) => {
  const checked = checkTypedFormula(book, "pieces", formula.slice(1));
  return checked.ok ? undefined : checked.problems[0]?.code;
};

const HUGE: Readonly<Record<string, string>> = {
  "brackets within brackets": `=${"(".repeat(3900)}1${")".repeat(3900)}`,
  "brackets just too many": `=${"(".repeat(65)}1${")".repeat(65)}`,
  "functions within functions": `=${"IF(1,".repeat(900)}1${")".repeat(900)}`,
  "a row of signs": `=${"-".repeat(7000)}1`,
  "a row of signs and spaces": `=${"- ".repeat(3000)}1`,
  "a tower of powers": `=1${"^2".repeat(2000)}`,
  "a row of percents": `=1${"%".repeat(7000)}`,
  "a sum of thousands of terms": `=1${"+1".repeat(3900)}`,
  "thousands of arguments": `=SUM(1${",1".repeat(3900)})`,
};

describe("a formula too large to be read safely", () => {
  for (const [what, formula] of Object.entries(HUGE))
    it(`${what}: refused when typed, an error in its own cell when it comes from a file`, () => {
      expect(typed(formula)).toBe("formula.size");
      const { own, beside } = shown(formula);
      expect(isCellError(own) && own.title).toBe("no formula");
      expect(beside).toBe(healthy);
    });

  it("ordinary large ones are read: 64 brackets, a thousand terms, text full of signs", () => {
    for (const formula of [
      `=${"(".repeat(64)}1${")".repeat(64)}`,
      `=1${"+1".repeat(1000)}`,
      `=LEN("${"(-+^%".repeat(300)}")`,
      "=--1+-2",
    ]) {
      expect(typed(formula), formula.slice(0, 30)).toBeUndefined();
      expect(typeof shown(formula).own, formula.slice(0, 30)).toBe("number");
    }
  });
});

describe("a formula over a billion rows", () => {
  it("is refused when typed, and harms nothing when it comes from a file", () => {
    for (const formula of ["=SUM(A1:A1000000000)", "=SUM(A:A)", "=SUM(1:1048576)", "=SUM($A$1:$ZZZ$999999)"]) {
      const { own, beside } = shown(formula);
      if (typed(formula) === undefined) expect(isCellError(own), formula).toBe(true);
      expect(beside, formula).toBe(healthy);
    }
  });
});

describe("a function that could run for hours", () => {
  it("is not there, and the error says why", () => {
    const many = smallEdition(LEFT_OUT.length);
    const operations = LEFT_OUT.map((name, at) => {
      const cell = { kind: "cell", sheet: "pieces", row: `p${at + 1}`, column: "cast.slip", was: undefined } as const;
      return { ...cell, is: { f: `=${name}(1000000000,1000000000,1)` } };
    });
    const value = evaluateAnew(applyChange(many, { label: "x", operations }));
    for (const [at, name] of LEFT_OUT.entries()) {
      const own = value("pieces", `p${at + 1}`, "cast.slip");
      expect(isCellError(own) && own.title, name).toBe("unknown name");
    }
    const { own } = shown("=POISSON.DIST(1000000000,1000000000,TRUE())");
    expect(isCellError(own) && own.message).toContain("POISSON.DIST is not among the functions here");
  });

  it("of ours is refused with words at any size of number", () => {
    for (const formula of [
      "=STARTS_NEEDED(1000000000000,0.5,0.99)",
      "=CHANCE_OF(500000000,1000000000,0.5)",
      "=LOSS_LOW_EXACT(1000000000000,1000000000000000,0.95)",
      "=STARTS_UNSURE(1000000000,9,10,0.9)",
      "=CONE_TEMP(1e300,1e300)",
      "=MONEY(1e308,300)",
      "=PROFILE_AREA({1e308;1e308},{1e308;1e308})",
    ]) {
      const { own, beside } = shown(formula);
      expect(typeof own === "number" ? Number.isFinite(own) : isCellError(own), formula).toBe(true);
      expect(beside, formula).toBe(healthy);
    }
  });
});

describe("a formula on which the engine itself throws, or that gives no number", () => {
  it("is an error of its own cell, and a formula around it can handle it", () => {
    for (const formula of [
      "=OFFSET()",
      "=SPLIT(1000000000000000,0.5)",
      "=WORKDAY(1,9007199254740993)",
      '=WORKDAY.INTL(1,-9007199254740993,"0000011")',
    ]) {
      const { own, beside } = shown(formula);
      expect(isCellError(own) && own.message, formula).toMatch(/\.$/);
      expect(beside, formula).toBe(healthy);
    }
    expect(shown("=IFERROR(SPLIT(1000000000000000,0.5),7)").own).toBe(7);
    expect(shown("=WORKDAY(45000,10)").own).toBe(45014);
  });

  it("the smallest numbers stay numbers", () => {
    for (const [formula, gives] of [
      ["=ABS(1e-308)", 1e-308],
      ["=-5e-324", -5e-324],
      ["=1e-300*1", 1e-300],
    ] as const)
      expect(shown(formula).own, formula).toBe(gives);
  });
});

describe("a formula that is set aside", () => {
  it("is an error of its own cell that says so; one put in its place is calculated", () => {
    const f = "=1+1";
    const cell = { kind: "cell", sheet: "pieces", row: "p1", column: "cast.slip" } as const;
    const spoilt = applyChange(book, { label: "x", operations: [{ ...cell, was: undefined, is: { f } }] });
    const engine = new Engine(spoilt, [f]);
    const store = new ValueStore(spoilt);
    store.accept(engine.values());
    const own = store.get("pieces", "p1", "cast.slip") ?? null;
    expect(isCellError(own) && [own.title, own.message]).toEqual(["took too long", TOOK_TOO_LONG]);
    expect(store.get("pieces", "p2", "own")).toBe(healthy);
    store.accept(engine.apply({ label: "x", operations: [{ ...cell, was: { f }, is: { f: "=1+2" } }] }));
    expect(store.get("pieces", "p1", "cast.slip")).toBe(3);
    expect(engine.source().excluded).toEqual([f]);
    engine.close();
  });
});

describe("a formula that goes in a circle or out of bounds", () => {
  it("is an error where it stands", () => {
    const circle = shown("={cast.slip}+1");
    expect([isCellError(circle.own) && circle.own.title, circle.beside]).toEqual(["goes in a circle", healthy]);
    const large = shown("=POWER(10,400)*10");
    expect([isCellError(large.own) && large.own.title, large.beside]).toEqual(["no number", healthy]);
  });
});

describe("a pattern made to take forever", () => {
  const bomb = `${"*a".repeat(60)}b`;
  it.each([
    ["COUNTIF", `=COUNTIF({pieces:note},"${bomb}")`, 0],
    ["SUMIF", `=SUMIF({pieces:note},"${bomb}",{pieces:kg})`, 0],
    ["SEARCH", `=IFERROR(SEARCH("${bomb}",{pieces[p1]:note}),-1)`, -1],
  ])("of %s is answered", (_, formula, gives) => {
    const was = undefined;
    const spoilt = applyChange(book, {
      label: "x",
      operations: [
        { kind: "cell", sheet: "pieces", row: "p1", column: "note", was, is: "a".repeat(18_000) },
        { kind: "cell", sheet: "pieces", row: "p3", column: "cast.slip", was, is: { f: formula } },
      ],
    });
    const read = evaluateAnew(spoilt);
    expect(read("pieces", "p3", "cast.slip")).toBe(gives);
  });
});

describe("a formula that begins like one of those the engine has read already", () => {
  it.each(["=\u00011\u0002{pieces:@.cost}", "=\u00012\u00027", "=\u0001999999\u0002{pieces:@.cost}"])(
    "%j is an error in its own cell, and nobody else's",
    (formula) => {
      const { own, beside } = shown(formula);
      expect(isCellError(own) && own.title).toBe("no formula");
      expect(beside).toBe(healthy);
    },
  );
});
