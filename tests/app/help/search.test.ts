// Everything an edition holds is found from one field, the nearest first.
import { describe, expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { searchEdition } from "../../../src/app/help/search";
import { openSession } from "../../tools/open-session";

const demo = demoEdition();
const pages = [{ title: "Ready when", note: "page", to: { kind: "page", page: "calendar" } }] as const;
const actions = [{ title: "Add a step", note: "do it", to: { kind: "action", action: "Add a step" } }] as const;

const { session, settled } = openSession(demo);
await settled();

describe("search", () => {
  const find = (typed: string) => searchEdition(session, typed, { pages, actions });
  const first = (typed: string) => {
    const [one] = find(typed);
    return one && [one.kind, one.title];
  };

  test.each([
    ["41", ["Pieces", "041"]],
    ["141", ["Pieces", "141"]],
    ["bisque", ["Rows", "Bisque firing"]],
    ["satin wh", ["Rows", "Satin white glaze"]],
    ["pieces to start", ["Inputs and results", "Pieces to start"]],
    ["ready when", ["Pages", "Ready when"]],
    ["add step", ["Actions", "Add a step"]],
    ["leather", ["Help", "leather-hard"]],
  ])("%s leads to what is called so", (typed, found) => {
    expect(first(typed)).toEqual(found);
  });

  test("a column leads to its first cell, a reason to the cell that says it", () => {
    expect(find("glaze: coats").find(({ kind }) => kind === "Columns")?.to).toMatchObject({
      kind: "cell",
      cell: { sheet: "pieces", column: "glaze.coats" },
    });
    expect(find("dunted").find(({ kind }) => kind === "In cells")).toMatchObject({
      note: "dunted",
      to: { cell: { sheet: "pieces", column: "reason" } },
    });
  });

  test("accents and capitals do not matter, each kind is short, and nothing typed finds nothing", () => {
    expect(first("BÍSQUE")).toEqual(["Rows", "Bisque firing"]);
    const kinds = find("e").map(({ kind }) => kind);
    for (const kind of new Set(kinds)) expect(kinds.filter((one) => one === kind).length).toBeLessThanOrEqual(7);
    const programmes = find("glaze").filter(({ note }) => note === "Programmes");
    expect(new Set(programmes.map(({ title }) => title)).size).toBe(programmes.length);
    expect([find("  "), find("no such thing anywhere")]).toEqual([[], []]);
  });
});
