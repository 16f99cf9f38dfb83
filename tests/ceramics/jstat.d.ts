// The few functions of jstat that the tests compare with.
declare module "jstat" {
  export const beta: { inv(chance: number, a: number, b: number): number };
  export const normal: { inv(chance: number, mean: number, deviation: number): number };
  export const studentt: { inv(chance: number, freedom: number): number };
  export const chisquare: { inv(chance: number, freedom: number): number };
  export function betaln(a: number, b: number): number;
  export function anovafscore(...groups: readonly (readonly number[])[]): number;
  export const binomial: { cdf(k: number, n: number, p: number): number };
}
