// Piece numbers as they are written.

/** `count` piece numbers from the first one on: `009` gives 009, 010, 011; `M-9` gives M-9, M-10. */
export function pieceLabels(first: string, count: number): string[] {
  const match = /^(.*?)(\d+)$/.exec(first.trim());
  const prefix = match?.[1] ?? `${first.trim()}-`;
  const digits = match?.[2] ?? "1";
  const start = Number(digits);
  return Array.from({ length: count }, (_, at) => prefix + String(start + at).padStart(digits.length, "0"));
}
