import { describe, expect, it } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { checkFormula } from "../../../src/app/edition/formula-check";
import { listTemplates } from "../../../src/app/plan/templates";
import { applyChange } from "../../../src/core/document/change";
import { writeEntries } from "../../../src/core/document/edits";
import { addOwnColumn, addOwnInput, changeColumnFormula } from "../../../src/core/document/own-edits";
import { startEdition } from "../../../src/core/document/start-edition";
import { readTemplate } from "../../../src/core/document/template";
import { type Column, SHEET_KEYS, type Workbook } from "../../../src/core/document/workbook";
import { contextOfCell, contextOfColumn } from "../../../src/core/formula/formula-check";
import { smallEdition, smallTemplate } from "../../tools/small-edition";

const answers = { title: "a", wanted: 3, currency: "EUR", firstPiece: "1", started: "2026-01-01" };
const books: readonly (readonly [string, Workbook])[] = [
  ["demo", demoEdition()],
  ["small", smallEdition()],
  ...listTemplates().flatMap(({ folder, template }) =>
    template.ok ? [[folder, startEdition(template.value, answers, 3)] as const] : [],
  ),
];

describe("the formulas every edition has fit their units", () => {
  it.each(books)("%s", (_, book) => {
    const findings = SHEET_KEYS.flatMap((sheet) => {
      const { columns, rows } = book.sheets[sheet];
      return [
        ...columns.flatMap((column) =>
          column.formula ? [checkFormula(book, contextOfColumn(book, sheet, column), column.formula)] : [],
        ),
        ...rows.flatMap(({ id, line }) =>
          line?.formula
            ? [checkFormula(book, contextOfCell(book, { sheet, row: id, column: "value" }), line.formula)]
            : [],
        ),
      ];
    });
    expect(findings.length).toBeGreaterThan(120);
    expect(findings.flatMap(({ problems, doubts }) => [...problems, ...doubts]).map(({ message }) => message)).toEqual(
      [],
    );
  });
});

const base = smallEdition();
/** Columns of every kind to write formulas with, on the Pieces sheet. */
const MORE: readonly (readonly [title: string, unit: string])[] = [
  ["wide", "cm"],
  ["deep", "mm"],
  ["box", "cm³"],
  ["peak", "°C"],
  ["room", "°C"],
  ["gap", "Δ°C"],
  ["rise", "°C/h"],
  ["jar", "jars"],
  ["clay", "kg"],
  ["pint", "L"],
];
const book = MORE.reduce((grown, [title, unit]) => {
  const added = addOwnColumn(grown, "pieces", { title, unit, type: "number", formula: "" });
  if (!added.ok) throw new Error(added.problems[0]?.message);
  return applyChange(grown, added.value);
}, base);

/** What is said of a formula in a new column of the Pieces sheet with a unit. */
function said(
  unit: string,
  typed: string,
): { readonly refused: readonly string[]; readonly doubted: readonly string[] } {
  const formula = typed.replace(/\{(\w+)\}/g, (whole, name) =>
    MORE.some(([title]) => title === name) ? `{my_${name}}` : whole,
  );
  const column: Column = { key: "mine", title: "Mine", unit, kind: "computed", type: "number", formula };
  const { problems, doubts } = checkFormula(book, contextOfColumn(book, "pieces", column), formula);
  return { refused: problems.map(({ message }) => message), doubted: doubts.map(({ message }) => message) };
}

describe("formulas that are refused, in words", () => {
  it.each([
    [
      "g",
      "={cast.slip}+{fettle.minutes}",
      "Pieces, column Mine, at “slip kept+time”: found “g (weight) and min (time)”, but it takes amounts of one kind on both sides of +. slip kept: g; time: min.",
    ],
    [
      "min",
      "={cast.slip}*2",
      "Pieces, column Mine: found “g (weight) as its result”, but it takes min (time), as its unit says. Change the formula, or the unit.",
    ],
    [
      "¤",
      "={cast.slip}*wage",
      "Pieces, column Mine: found “g·EUR/h (weight × money per time) as its result”, but it takes EUR (money), as its unit says. Change the formula, or the unit.",
    ],
    [
      "",
      "=IF({cast.slip}>{wide},1,0)",
      "Pieces, column Mine, at “slip kept>wide”: found “g (weight) and cm (length)”, but it takes amounts of one kind on both sides of >. slip kept: g; wide: cm.",
    ],
    [
      "g",
      '=IF({tier}="special",{cast.slip},{wide})',
      'Pieces, column Mine, at “IF(tier="special",slip kept,wide)”: found “g (weight) and cm (length)”, but it takes amounts of one kind in IF. slip kept: g; wide: cm.',
    ],
    [
      "g",
      "=SUM({cast.slip},{fettle.minutes})",
      "Pieces, column Mine, at “SUM(slip kept,time)”: found “g (weight) and min (time)”, but it takes amounts of one kind in SUM. slip kept: g; time: min.",
    ],
    [
      "g",
      "=COAT_GRAMS({fettle.minutes},2,0.02,1)",
      "Pieces, column Mine, at “COAT_GRAMS(time,2,0.02,1)”: found “min (time)”, but it takes cm² (area) for area of COAT_GRAMS. time: min.",
    ],
    [
      "¤",
      "=PICK({bisque.firing},{firings:id},{firings:kwh})",
      "Pieces, column Mine: found “kWh (energy) as its result”, but it takes EUR (money), as its unit says. Change the formula, or the unit.",
    ],
    [
      "g",
      "=COUNT({pieces:cast.slip})*1.5",
      "Pieces, column Mine: found “a plain number as its result”, but it takes g (weight), as its unit says. Change the formula, or the unit.",
    ],
    [
      "cm",
      "={wide}^{deep}",
      "Pieces, column Mine, at “wide^deep”: found “cm (length)”, but it takes a power of it that leaves whole powers of its units, such as 2.",
    ],
    [
      "°C",
      "={peak}+{room}",
      "Pieces, column Mine, at “peak+room”: found “two temperatures added”, but it takes a temperature and a difference. The mean of temperatures is AVERAGE; how far they lie apart is their difference.",
    ],
    [
      "°C",
      "={peak}-{room}",
      "Pieces, column Mine: found “°C (difference of temperatures) as its result”, but it takes °C (temperature), as its unit says. Change the formula, or the unit.",
    ],
    [
      "",
      "=EXP({wide})",
      "Pieces, column Mine, at “EXP(wide)”: found “cm (length)”, but it takes a plain number in EXP. wide: cm.",
    ],
    [
      "",
      "={wide}+{glaze.coats}",
      "Pieces, column Mine, at “wide+coats”: found “cm (length) and a plain number”, but it takes amounts of one kind on both sides of +. wide: cm; coats: plain numbers.",
    ],
    [
      "g",
      "={jar}+{cast.slip}",
      "Pieces, column Mine, at “jar+slip kept”: found “jars (a plain number) and g (weight)”, but it takes amounts of one kind on both sides of +. jar: jars; slip kept: g.",
    ],
    [
      "kg",
      "=PRODUCT({pieces:kg})",
      "Pieces, column Mine, at “PRODUCT(Pieces › weight)”: found “kg (weight)”, but it takes a plain number in PRODUCT of a column. Pieces › weight: kg.",
    ],
  ])("%s %s", (unit, formula, message) => {
    expect(said(unit, formula).refused).toEqual([message]);
  });
});

describe("which values of a choice must agree", () => {
  it.each([
    [`=SWITCH({tier},"special",{cast.slip},{wide})`, "in SWITCH"],
    [`=SWITCH({tier},"special",{cast.slip},"standard",{wide})`, "in SWITCH"],
    [`=SWITCH({wide},{cast.slip},1,2)`, "in SWITCH"],
    [`=CHOOSE(1,{cast.slip},{wide})`, "in CHOOSE"],
    [`=IFS({wide}>1,{cast.slip},{wide}>2,{deep})`, "in IFS"],
    ["=IFERROR({cast.slip},{wide})", "in IFERROR"],
    ["=XLOOKUP({tier},{pieces:tier},{pieces:cast.slip},{wide})", "in XLOOKUP"],
  ])("%s", (formula, where) => {
    const { refused } = said("g", formula);
    expect(refused).toHaveLength(1);
    expect(refused[0]).toContain(`amounts of one kind ${where}`);
  });

  it.each([
    `=SWITCH({tier},"special",{cast.slip},{glaze.used})`,
    `=SWITCH({wide},1,{cast.slip},2,{glaze.used},0)`,
    `=IFS({wide}>1,{cast.slip},{deep}>2,{glaze.used})`,
    "=CHOOSE({glaze.coats},{cast.slip},{glaze.used})",
  ])("%s fits", (formula) => {
    expect(said("g", formula)).toEqual({ refused: [], doubted: [] });
  });
});

describe("formulas that fit", () => {
  it.each([
    ["¤", "={fettle.minutes}/60*wage"],
    ["¤", "=wage*{fettle.minutes}/60"],
    ["¤", "=wage/60*{fettle.minutes}"],
    ["¤", "={fettle.minutes}*wage*(1/60)"],
    ["kg", "={cast.slip}/1000"],
    ["g", "={clay}*1000+{cast.slip}"],
    ["g", "={clay}*10^3+{cast.slip}"],
    ["h", "={fettle.minutes}/60+PICK({bisque.firing},{firings:id},{firings:hours})"],
    ["cm", "={deep}/10"],
    ["cm²", "={wide}*{deep}/10"],
    ["cm²", "={wide}^2"],
    ["cm", "=SQRT({foot})"],
    ["L", "={box}/1000"],
    ["cm³", "={foot}*{wide}"],
    ["g", "={cast.slip}+5"],
    ["g", "=5"],
    ["g", "=MAX(0,{cast.slip}-{glaze.used})"],
    ["g", '=IF({cast.slip}="","",{cast.slip})'],
    ["g", "=IF({cast.slip}>500,{cast.slip},0)"],
    ["g", '=IFERROR({cast.slip},"none")'],
    ["g", "=ROUND({cast.slip},0)"],
    ["g", '=SUMIF({pieces:tier},"special",{pieces:cast.slip})'],
    ["g", "=TOTAL_BY({tier},{pieces:tier},{pieces:cast.slip})"],
    ["", "=COUNT_BY({tier},{pieces:tier})"],
    ["jars", "={glaze.coats}*2"],
    ["%", "={cast.slip}/{glaze.used}"],
    ["¤", "={kg}/1.2*{materials[m1]:per_gram}*1000*1.2"],
    ["¤", "=PICK({bisque.firing},{firings:id},{firings:kwh})*tariff"],
    ["¤", "={own}*1.1-{scrap}"],
    ["°C", "={room}+{gap}"],
    ["°C", "=AVERAGE({peak},{room})"],
    ["°C", "=MAX({peak},1000)"],
    ["Δ°C", "={peak}-{room}"],
    ["h", "=({peak}-{room})/{rise}"],
    ["cm", "=SHRINK({wide},0.06,0.05)"],
    ["as shared", '=IF({tier}="special",{kg},{foot})'],
    ["unheard of 7", "={kg}+1"],
    ["", "=NO_SUCH({kg},{wide})"],
  ])("%s %s", (unit, formula) => {
    expect(said(unit, formula)).toEqual({ refused: [], doubted: [] });
  });
});

describe("a factor that seems to be missing is a doubt, with the factor", () => {
  it.each([
    [
      "¤",
      "={fettle.minutes}*wage",
      "Pieces, column Mine: found “min·EUR/h”, but it takes EUR. The numbers seem 60 times too large: divide by 60, unless that is meant.",
    ],
    [
      "kg",
      "={cast.slip}*2",
      "Pieces, column Mine: found “g”, but it takes kg. The numbers seem 1000 times too large: divide by 1000, unless that is meant.",
    ],
    [
      "g",
      "={kg}",
      "Pieces, column Mine: found “kg”, but it takes g. The numbers seem 1000 times too small: multiply by 1000, unless that is meant.",
    ],
    [
      "g",
      "={cast.slip}+{kg}",
      "Pieces, column Mine, at “slip kept+weight”: found “g and kg”, but it takes the same unit on both sides. 1 kg is 1000 g: is that factor missing?",
    ],
    [
      "cm²",
      "=DISC_AREA({deep})",
      "Pieces, column Mine, at “DISC_AREA(deep)”: found “mm”, but it takes cm for d of DISC_AREA. The numbers seem 10 times too large: divide by 10, unless that is meant.",
    ],
  ])("%s %s", (unit, formula, message) => {
    expect(said(unit, formula)).toEqual({ refused: [], doubted: [message] });
  });
});

describe("the check stands where formulas are made", () => {
  const wrong = { title: "Sum", unit: "g", type: "number", formula: "={slip kept}+{Fettle: time}" } as const;

  it("a column of the maker's own", () => {
    const refused = addOwnColumn(book, "pieces", wrong, checkFormula);
    expect(refused.ok ? "" : refused.problems[0]?.code).toBe("units.unlike");
    expect(addOwnColumn(book, "pieces", wrong).ok).toBe(true);
  });

  it("another formula for it", () => {
    const added = addOwnColumn(book, "pieces", { ...wrong, formula: "={slip kept}" }, checkFormula);
    if (!added.ok) throw new Error(added.problems[0]?.message);
    const grown = applyChange(book, added.value);
    const changed = changeColumnFormula(grown, "pieces", "my_sum", "={Fettle: time}", checkFormula);
    expect(changed.ok ? "" : changed.problems[0]?.code).toBe("units.result");
    expect(changeColumnFormula(grown, "pieces", "my_sum", "={slip kept}*2", checkFormula).ok).toBe(true);
  });

  it("a formula in a cell: of an input of one's own, and over a computed one", () => {
    const added = addOwnInput(book, "Clay a week", "kg");
    if (!added.ok) throw new Error(added.problems[0]?.message);
    const grown = applyChange(book, added.value);
    const type = (sheet: "edition" | "pieces", row: string, column: string, typed: string) =>
      writeEntries(grown, [{ cell: { sheet, row, column }, typed }], {
        label: "",
        marks: { decimal: "." },
        override: true,
        check: checkFormula,
      });
    expect(type("edition", "my_clay_a_week", "value", "=wage*2").refused[0]?.message).toBe(
      "Edition, Clay a week: found “EUR/h (money per time) as its result”, but it takes kg (weight), as its unit says. Change the formula, or the unit.",
    );
    expect(type("edition", "my_clay_a_week", "value", "=piece_kg*wanted").refused).toEqual([]);
    expect(type("pieces", "p1", "own", "={kg}*2").refused[0]?.code).toBe("units.result");
    expect(type("pieces", "p1", "own", "={glaze.cost}*2").refused).toEqual([]);
    const doubtful = type("pieces", "p1", "own", "={fettle.minutes}*wage");
    expect(doubtful.change.operations).toHaveLength(1);
    expect(doubtful.messages.join()).toContain("60 times too large");
  });

  it("a template that adds grams to minutes is refused when it is read, with the place in its file", () => {
    const column = { sheet: "pieces", title: "Sum", unit: "g", formula: "={cast.slip}+{fettle.minutes}" } as const;
    const bad = readTemplate({ ...smallTemplate(), columns: [column] }, "t/template.json", checkFormula);
    expect(bad.ok ? [] : bad.problems.map(({ message }) => message)).toEqual([
      "t/template.json, columns[0]: Pieces, column Sum, at “slip kept+time”: found “g (weight) and min (time)”, but it takes amounts of one kind on both sides of +. slip kept: g; time: min.",
    ]);
    const good = readTemplate(
      { ...smallTemplate(), columns: [{ ...column, formula: "={cast.slip}*2" }] },
      "t/template.json",
      checkFormula,
    );
    if (!good.ok) throw new Error(good.problems[0]?.message);
    const started = startEdition(good.value, answers, 2);
    expect(started.sheets.pieces.columns.at(-1)).toMatchObject({ title: "Sum", unit: "g", own: true });
  });
});
