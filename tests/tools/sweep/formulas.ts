// Formulas that call a function with what nobody should give it.

/** Cells that the formulas name, from A1 on: numbers of all sizes, texts, truths, blanks, errors, days. */
export const CELLS: readonly (readonly (number | string | boolean | null)[])[] = [
  [1, 2, 3, "a", true],
  [1e-308, 1e308, -1e308, "", false],
  [2 ** 53, -(2 ** 53), 5e-324, "=1/0", null],
  [0.5, -0.5, 0, "1e400", "=SQRT(-1)"],
  [45000, 45001, 2958465, "'=A1", "=TODAY()"],
  [7, 7, 7, "*", "?"],
];

const SINGLE = [
  ...["0", "1", "-1", "0.5", "-0.5", "1e-308", "-1e-308", "5e-324", "1e15", "9007199254740993", "-9007199254740993"],
  ...["1e308", "-1e308", "2958466", '"a"', '""', '"1111111"', '"*a*a*a*b"', "TRUE()", "SQRT(-1)", "1/0"],
  ...["A1", "E3", "D3", "A1:A6", "A1:E6", "D1:E6", "{1,2;3,4}", "{1e308,1e-308}", "1e307*10"],
] as const;

/** What takes the places beside the first: nothing, plain and extreme. */
const BESIDE = ["1", "0.5", "1e-308", "1e15", "9007199254740993", "-1e308", '"a"', "A1:A6", "D1:D6", "TRUE()"] as const;
const MOST_ARGUMENTS = 8;

/** Calls of a function; the thorough ones try many more arguments beside one another. */
export function callsOf(name: string, isThorough: boolean): readonly string[] {
  const calls = new Set<string>([`=${name}()`, `=${name}(,)`, `=${name}(,,,)`]);
  const add = (...given: readonly string[]) => calls.add(`=${name}(${given.join(",")})`);
  for (const one of SINGLE)
    for (let count = 1; count <= MOST_ARGUMENTS; count += isThorough ? 1 : 2)
      if (isThorough || count <= 3) add(...new Array(count).fill(one));
  for (const first of isThorough ? SINGLE : ["1"])
    for (const second of BESIDE) {
      add(first, second);
      add(second, first, "1");
      add(first, "1", second);
    }
  if (isThorough)
    for (const first of BESIDE)
      for (const second of BESIDE)
        for (const third of BESIDE) {
          add(first, second, third);
          add(first, second, third, "1", "1");
        }
  return [...calls];
}
