// FIPS 180-4 and NIST's example values for SHA-256 (csrc.nist.gov, “SHA256.pdf”; from memory), and a length across blocks that
// node's own implementation confirms.
import { createHash } from "node:crypto";
import { expect, test } from "vitest";
import { sha256 } from "../../src/core/sha-256";

const bytes = (text: string) => new TextEncoder().encode(text);

test.each([
  ["abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"],
  ["", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"],
  [
    "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
    "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
  ],
])("of “%s”", (text, digest) => {
  expect(sha256(bytes(text))).toBe(digest);
});

test("of every length up to three blocks", () => {
  for (let length = 0; length < 200; length += 1) {
    const data = Uint8Array.from({ length }, (_, at) => (at * 31) & 255);
    expect(sha256(data)).toBe(createHash("sha256").update(data).digest("hex"));
  }
});
