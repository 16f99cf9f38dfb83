// Single formulas, compiled and by the engine: precedence, texts taken for numbers, blanks, comparisons, errors.
import { expect, test } from "vitest";
import type { Row, Workbook } from "../../../src/core/document/workbook";
import { smallEdition } from "../../tools/small-edition";
import { compareCases } from "../../tools/whatif-compare";

const FORMULAS = [
  ...[
    "-2^2",
    "2^3^2",
    "2^-1",
    "-3%",
    "50%*wage",
    "1-2-3",
    "8/4/2",
    "1+2&3",
    "2*3=6",
    "1<2=TRUE()",
    "wage^0.5",
    "0^0",
    "(-8)^(1/3)",
  ],
  ...[
    `"5%"*2`,
    `"$3"+1`,
    `"3$"+1`,
    `" 7 "+1`,
    `"1e3"+1`,
    `"x"+1`,
    `""+1`,
    `"2026-02-03"+1`,
    `"22:30"*24`,
    `"22:30:15.5"*24`,
  ],
  ...[
    `"10:30 pm"*24`,
    `"12:00a"*24`,
    `"2026/02/03 06:00"+0`,
    `"2026-02-30"+0`,
    `"1500-01-01"+0`,
    `"-02-03"+0`,
    `"26-02-03"+0`,
    `"1,5"+1`,
    `"7%%"+1`,
  ],
  ...[
    `"é"="e"`,
    `"Z"="z"`,
    `"a"<"B"`,
    `"ä"<"b"`,
    `"10"<"9"`,
    `"2026-02-03"="2026-2-3"`,
    `"22:30"<"3:00"`,
    `"2026-02-03">46000`,
    `"x">5`,
    `5>"x"`,
  ],
  ...[
    `""=0`,
    `TRUE()=1`,
    `TRUE()>5`,
    `"TRUE"=TRUE()`,
    `TRUE()+1`,
    `FALSE()=""`,
    `IF("x",1,2)`,
    `IF("true",1,2)`,
    `IF("",1,2)`,
    `IF(0.1,1)`,
    `IF(0,1)`,
  ],
  ...[
    "0.1+0.2=0.3",
    "0.1+0.2-0.3",
    "1.0000000000001-1",
    "1.00000000000001-1",
    "1-1.000000000001",
    "wage/0",
    "0/0",
    "1e308*10",
    "(1e308*10)",
    "IF(TRUE(),1e308*10)",
  ],
  ...[
    "1e308*10+1",
    "SQRT(-1)",
    "LN(0)",
    "IFERROR(SQRT(-1),5)",
    "IFERROR(1/0,1/0)",
    "IFNA(1/0,3)",
    `IFNA(PICK("no",{materials:id},{materials:fraction}),3)`,
  ],
  ...[
    "ROUND(2.5)",
    "ROUND(-2.5,0)",
    "ROUND(1.005,2)",
    "ROUNDUP(-1.1,0)",
    "ROUNDUP(1.0000001,3)",
    "ROUNDDOWN(-1.9)",
    "TRUNC(1.29,1)",
    "INT(-1.5)",
    "ROUND(1234,-2)",
    "ROUND(1,400)",
  ],
  ...[
    "MOD(-7,3)",
    "MOD(7,-3)",
    "MOD(7,0)",
    "MOD(6,3)",
    "SIGN(-3)",
    "ABS(-0)",
    "PI()",
    "EXP(1)",
    "LN(2)",
    "LOG10(1000)",
    "POWER(2,10)",
    "SQRT(2)",
    "-0*5",
    "0*-1",
  ],
  ...[
    "AND(TRUE(),1)",
    "AND(1,0)",
    "OR(0,FALSE())",
    `AND("x",1)`,
    `OR("TRUE",1/0)`,
    "XOR(1,1,1)",
    "NOT(0)",
    `NOT("x")`,
    `AND({route:loss})`,
    `OR({route:title},1)`,
  ],
  ...[
    "SUM()",
    'SUM(1,TRUE(),"3")',
    `SUM("x")`,
    "SUM({route:loss},1/0)",
    "SUM({route:title})",
    "MAX({route:title})",
    "MIN({route:loss},-1)",
    "PRODUCT({route:loss})",
    "AVERAGE({route:loss},1)",
  ],
  ...[
    "AVERAGE({route:title})",
    'COUNT({route:loss},1,"2","x")',
    `COUNT("")`,
    "COUNTA({route:loss},1)",
    "COUNT({route:title})",
    "COUNTA({route:title})",
  ],
  ...[
    `SWITCH(2,1,"a",2,"b")`,
    `SWITCH(3,1,"a",2,"b")`,
    `SWITCH(3,1,"a",2,"b","c")`,
    `SWITCH("E","é",1,0)`,
    `SWITCH(1/0,1,2,3)`,
    "SWITCH(1,1/0,2,1,4)",
    "SWITCH(1,2)",
  ],
  ...[
    "IFS(0,1,1,2)",
    "IFS(0,1)",
    `IFS("x",1)`,
    "IFS(1,2,3)",
    "ISBLANK({firings[f1]:start})",
    "ISERROR(1/0)",
    `ISNUMBER("1")`,
    `ISTEXT("")`,
    "ISNUMBER(wage)",
  ],
  ...[
    "ROUND(1,2,3)",
    "ROUND()",
    "IF()",
    "ABS({route:loss})",
    "{route:loss}+1",
    "IF({route:loss},1,2)",
    "COAT_GRAMS(1,2)",
    "COAT_GRAMS({route:loss},1,1,1)",
    "COAT_GRAMS(1,2,3,,)",
  ],
  ...[
    "COAT_GRAMS(1000,2,0.05)",
    "COAT_GRAMS(-1,2,0.05,0.5)",
    `COAT_GRAMS("10",2,0.05,0.5)`,
    "COAT_GRAMS(1/0,2,0.05,0.5)",
    "MONEY(wage/7)",
    "YIELD_CHAIN({route:title})",
    "YIELD_CHAIN(0.1)",
  ],
  ...[
    `PICK("gold",{materials:id},{materials:fraction})`,
    `PICK("",{materials:id},{materials:fraction})`,
    `PICK(1/0,{materials:id},{materials:fraction})`,
    `PICK("gold",{materials:id})`,
  ],
  ...[
    `TOTAL_BY("large",{kilns:id},{kilns:kw})`,
    `TOTAL_BY("none",{kilns:id},{kilns:kw})`,
    `COUNT_BY("FIRING",{route:kind})`,
    `FIRING_SHARE("F9",1)`,
    `FIRING_SHARE("F1",-1)`,
    `FIRING_SHARE("F1","x")`,
  ],
  ...[
    "KEPT_BEFORE(3,{route:order},{route:loss})",
    "KEPT_BEFORE(3,{route:order},{route:title})",
    "SUM_UP_TO(wage,{route:order},{route:loss})",
    "VALUE_BEFORE(1,{route:order},{route:loss})",
  ],
];

/** An edition whose further lines hold one formula each. */
function lines(): Workbook {
  const book = smallEdition(2);
  const rows = FORMULAS.map(
    (formula, at): Row => ({
      id: `line_${at}`,
      cells: { label: formula },
      line: { kind: "computed", type: "number", formula: `=${formula}` },
    }),
  );
  const { results } = book.sheets;
  return { ...book, sheets: { ...book.sheets, results: { ...results, rows: [...results.rows, ...rows] } } };
}

test("every formula gives what the engine gives, by itself and beside an input", () => {
  const outputs = FORMULAS.map((_, at) => ({ sheet: "results", row: `line_${at}`, column: "value" }) as const);
  const loss = { sheet: "route", row: "cast", column: "loss" } as const;
  const wage = { sheet: "edition", row: "wage", column: "value" } as const;
  const found = compareCases(
    lines(),
    [wage, loss],
    [
      [20, 0.1],
      [0, 0],
      [-3, 1],
      [2, Number.NaN],
      [Number.NaN, 0.5],
    ],
    outputs,
  );
  expect(found.notes).toEqual([]);
  expect(found.differences).toEqual([]);
  expect(found.cells).toBeGreaterThan(FORMULAS.length * 5);
});
