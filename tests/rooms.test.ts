// Each room of the source says in ten lines what belongs there, which rooms of its layer it imports, and where its door is.
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { filesUnder, importsOf } from "./tools/layers";

const isFolder = (path: string) => statSync(path).isDirectory();
const ROOMS = ["core", "whatif", "app", "ui"].flatMap((layer) =>
  readdirSync(`src/${layer}`)
    .map((name) => `src/${layer}/${name}`)
    .filter(isFolder),
);

/** The other rooms of its layer that a room imports. */
function neighboursOf(room: string): readonly string[] {
  const layer = join(room, "..");
  const targets = filesUnder(room).flatMap((path) =>
    importsOf(readFileSync(path, "utf8")).flatMap((name) => (name.startsWith(".") ? [join(path, "..", name)] : [])),
  );
  const rooms = ROOMS.filter((other) => other !== room && join(other, "..") === layer);
  return rooms
    .filter((other) => targets.some((target) => target.startsWith(`${other}/`)))
    .map((other) => other.slice(layer.length + 1));
}

const LIST = /^Rooms it imports: .*$/m;
const listOf = (room: string) => `Rooms it imports: ${neighboursOf(room).join(", ") || "none"}.`;

describe.each(ROOMS)("%s", (room) => {
  const path = `${room}/README.md`;
  const text = existsSync(path) ? readFileSync(path, "utf8") : "";

  it("says what belongs there, in ten lines at most", () => {
    expect(text.split("\n")[0], `${path}: its first line`).toBe(`# ${room}`);
    expect(text.trimEnd().split("\n").length, `${path}: lines`).toBeLessThanOrEqual(10);
  });

  it("names its door, and links to what is there", () => {
    expect(text, `${path} needs “Door: [file](file)”`).toMatch(/^Door: \[/m);
    const links = [...text.matchAll(/\]\(([^)]+)\)/g)].map((match) => join(room, match[1] ?? ""));
    expect(links.filter((link) => !existsSync(link))).toEqual([]);
  });

  it("names the rooms it imports", () => {
    if (process.env.UPDATE_LAYERS !== undefined) writeFileSync(path, text.replace(LIST, listOf(room)));
    else expect(LIST.exec(text)?.[0], `${path}: UPDATE_LAYERS=1 writes it`).toBe(listOf(room));
  });
});
