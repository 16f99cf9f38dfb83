// SHA-256 of bytes (FIPS 180-4), so that a file that was given out can be told from any other. The browser's own works only
// where a page is served safely, and a workbook may be opened from anywhere.

/** The first 32 bits of the fractional parts of the cube roots of the first 64 primes. */
const ROUNDS = Uint32Array.from(primes(64), (prime) => fraction(Math.cbrt(prime)));
const START = Uint32Array.from(primes(8), (prime) => fraction(Math.sqrt(prime)));

function primes(count: number): number[] {
  const found: number[] = [];
  for (let number = 2; found.length < count; number += 1)
    if (found.every((prime) => number % prime !== 0)) found.push(number);
  return found;
}

function fraction(root: number): number {
  return Math.floor((root - Math.floor(root)) * 2 ** 32) >>> 0;
}

const rotateRight = (word: number, bits: number) => (word >>> bits) | (word << (32 - bits));

/** The SHA-256 of bytes as 64 hexadecimal digits. */
export function sha256(bytes: Uint8Array): string {
  const state = START.slice();
  const padded = new Uint8Array((((bytes.length + 8) >> 6) << 6) + 64);
  padded.set(bytes);
  padded[bytes.length] = 0x80;
  const view = new DataView(padded.buffer);
  view.setUint32(padded.length - 8, Math.floor(bytes.length / 2 ** 29));
  view.setUint32(padded.length - 4, (bytes.length << 3) >>> 0);
  const words = new Uint32Array(64);
  for (let block = 0; block < padded.length; block += 64) {
    for (let at = 0; at < 16; at += 1) words[at] = view.getUint32(block + 4 * at);
    for (let at = 16; at < 64; at += 1) words[at] = extended(words, at);
    compress(state, words);
  }
  return Array.from(state, (word) => word.toString(16).padStart(8, "0")).join("");
}

const word = (words: Uint32Array, at: number) => words[at] as number;

function extended(words: Uint32Array, at: number): number {
  const [early, late] = [word(words, at - 15), word(words, at - 2)];
  const first = rotateRight(early, 7) ^ rotateRight(early, 18) ^ (early >>> 3);
  const second = rotateRight(late, 17) ^ rotateRight(late, 19) ^ (late >>> 10);
  return (word(words, at - 16) + first + word(words, at - 7) + second) >>> 0;
}

function compress(state: Uint32Array, words: Uint32Array): void {
  let [a, b, c, d, e, f, g, h] = state as unknown as [number, number, number, number, number, number, number, number];
  for (let at = 0; at < 64; at += 1) {
    const chosen = (e & f) ^ (~e & g);
    const first =
      (h +
        (rotateRight(e, 6) ^ rotateRight(e, 11) ^ rotateRight(e, 25)) +
        chosen +
        word(ROUNDS, at) +
        word(words, at)) >>>
      0;
    const second =
      ((rotateRight(a, 2) ^ rotateRight(a, 13) ^ rotateRight(a, 22)) + ((a & b) ^ (a & c) ^ (b & c))) >>> 0;
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + first) >>> 0, c, b, a, (first + second) >>> 0];
  }
  for (const [at, value] of [a, b, c, d, e, f, g, h].entries()) state[at] = (word(state, at) + value) >>> 0;
}
