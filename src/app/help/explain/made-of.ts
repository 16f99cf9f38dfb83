// The sum of many cells by what each is made of: the same terms of all of them together, largest first. Ten thousand own
// costs become a dozen steps.
import { columnOf, formulaOf } from "../../../core/document/access";
import { type Expression, insideOf } from "../../../core/formula/tree";
import { isCellError } from "../../../engine/values";
import { evaluate } from "./evaluate";
import type { CellGroup } from "./groups";
import { type Joins, positionOf, withShares } from "./part";
import { take } from "./reasons";
import { valueToNumber } from "./scalars";
import { type Term, termsOf } from "./terms";
import { cellFormat, columnFormat, parsed, type View } from "./view";
import { columnWords, say } from "./words";

/** One kind of term over many rows. */
export interface Share {
  readonly group: CellGroup;
  readonly joins: Joins;
  /** The piece of the column's formula that it is; undefined for cells that do not go by it. */
  readonly of: Expression | undefined;
}

/** Whether the cells of a group are sums themselves, so that it can be explained by what they are made of. */
export function isMadeOfSums(view: View, { sheet, column, how, rowIndexes, amounts }: CellGroup): boolean {
  const formula = columnOf(view.book, sheet, column)?.formula;
  const tree = formula === undefined ? undefined : parsed(view, formula);
  return how === "sum" && rowIndexes.length > 1 && amounts === undefined && tree !== undefined && hasSum(tree);
}

function hasSum(of: Expression): boolean {
  if (termsOf(of)) return true;
  return of.kind === "call" && (of.name === "IF" || of.name === "SWITCH") && insideOf(of).slice(1).some(hasSum);
}

interface Bucket {
  readonly term: Term | undefined;
  readonly amounts: Map<number, number>;
  total: number;
}

/** The terms of a group's cells, each over all of them; undefined where one of the cells is no number. */
export function madeOf(view: View, group: CellGroup): readonly Share[] | undefined {
  const buckets = bucketsOf(view, group);
  if (!buckets) return undefined;
  const shares = withShares(buckets.map(({ total }) => total));
  return buckets
    .map(({ term, amounts, total }, at): Share => {
      const joins: Joins = { kind: "term", sign: "+", amount: total, share: shares[at] };
      return { group: groupOfTerm(view, group, term, amounts, total), joins, of: term?.of };
    })
    .filter(({ group: { value } }) => value !== 0)
    .sort((a, b) => Math.abs(Number(b.group.value)) - Math.abs(Number(a.group.value)));
}

function bucketsOf(view: View, { sheet, column, rowIndexes }: CellGroup): readonly Bucket[] | undefined {
  const found = columnOf(view.book, sheet, column);
  const tree = found?.formula === undefined ? undefined : parsed(view, found.formula);
  const buckets = new Map<string, Bucket>();
  for (const at of rowIndexes) {
    const row = view.book.sheets[sheet].rows[at];
    if (!found || !tree || !row) return undefined;
    const here = { view, cell: { sheet, row: row.id, column } };
    const isByRule = formulaOf(found, row) === found.formula;
    const { rest } = isByRule ? take(tree, here) : { rest: undefined };
    if (isByRule && !rest) return undefined;
    const terms: readonly (Term | undefined)[] = rest
      ? (termsOf(rest) ?? [{ sign: "+", of: rest, isLoose: false }])
      : [undefined];
    for (const term of terms) {
      const value = term ? evaluate(term.of, here) : view.value(here.cell);
      if (value === undefined || isCellError(value)) return undefined;
      const number = term?.isLoose && typeof value !== "number" ? 0 : valueToNumber(value);
      if (isCellError(number)) return undefined;
      drop(buckets, term, at, term?.sign === "−" ? -number : number);
    }
  }
  return [...buckets.values()];
}

function drop(buckets: Map<string, Bucket>, term: Term | undefined, at: number, amount: number): void {
  const name = term ? `${term.sign} ${positionOf(term.of)}` : "by hand";
  let bucket = buckets.get(name);
  if (!bucket) {
    bucket = { term, amounts: new Map(), total: 0 };
    buckets.set(name, bucket);
  }
  if (amount !== 0) bucket.amounts.set(at, amount);
  bucket.total += amount;
}

function groupOfTerm(
  view: View,
  group: CellGroup,
  term: Term | undefined,
  amounts: ReadonlyMap<number, number>,
  value: number,
): CellGroup {
  const rowIndexes = [...amounts.keys()];
  const { sheet } = group;
  const first = view.book.sheets[sheet].rows[rowIndexes[0] ?? 0];
  const here = { view, cell: { sheet, row: first?.id ?? "", column: group.column } };
  if (!term) return { ...bare(group), words: "given by hand, or by a formula of its own", rowIndexes, value };
  const { of } = term;
  if (term.sign === "+" && of.kind === "reference" && of.to.kind === "own") {
    const { column } = of.to;
    const found = columnOf(view.book, sheet, column);
    const format = found && columnFormat(found);
    return { sheet, column, words: columnWords(view.book, sheet, column), rowIndexes, how: "sum", value, format };
  }
  return {
    ...bare(group),
    words: `${say(of, here)}, row by row`,
    rowIndexes,
    value,
    amounts,
    format: cellFormat(view.book, here.cell),
  };
}

function bare({ sheet, column, format }: CellGroup): Pick<CellGroup, "sheet" | "column" | "how" | "format"> {
  return { sheet, column, how: "sum", format };
}
