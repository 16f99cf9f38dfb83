// The same chances by whole-number arithmetic, from the decimals as written: slow, exact, and sharing no step with src.

interface Decimal {
  readonly units: bigint;
  readonly places: number;
}

function decimal(text: string): Decimal {
  const [whole = "0", fraction = ""] = text.split(".");
  return { units: BigInt(whole + fraction), places: fraction.length };
}

/** Whether P(Bin(starts, yield) ≥ good) ≥ confidence, exactly, for a yield and a confidence written as decimals. */
function exactlyReaches(good: number, starts: number, yieldText: string, confidenceText: string): boolean {
  const { units, places } = decimal(yieldText);
  const scale = 10n ** BigInt(places);
  const n = BigInt(starts);
  let waysTimesPower = 0n;
  let ways = 1n;
  for (let k = n; k >= BigInt(good); k -= 1n) {
    waysTimesPower += ways * units ** k * (scale - units) ** (n - k);
    ways = (ways * k) / (n - k + 1n);
  }
  const wanted = decimal(confidenceText);
  return waysTimesPower * 10n ** BigInt(wanted.places) >= wanted.units * scale ** n;
}

/** The smallest number of starts that reaches the confidence, counted up one by one. */
export function exactStarts(good: number, yieldText: string, confidenceText: string): number {
  let starts = good;
  while (!exactlyReaches(good, starts, yieldText, confidenceText)) starts += 1;
  return starts;
}
