// Files of src/public are copied as they are; the script that every first visit waits for is made small as well.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { minifySync, type Plugin } from "vite";

const NAME = "boot.js";

/** Writes `boot.js` without comments and spaces, in words that old browsers read as well as the original. */
export function smallBoot(): Plugin {
  return {
    name: "small-boot",
    apply: "build",
    writeBundle({ dir = "" }) {
      const path = join(dir, NAME);
      const { code, errors } = minifySync(NAME, readFileSync(path, "utf8"), { compress: { target: "es2015" } });
      if (errors.length > 0) throw new Error(`${NAME}: ${errors.map(({ message }) => message).join("; ")}`);
      writeFileSync(path, code);
    },
  };
}
