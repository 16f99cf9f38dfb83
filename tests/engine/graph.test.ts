// Whatever becomes of the order of the graph, values are those of an engine built anew.
import { describe, expect, test } from "vitest";
import { addStep } from "../../src/core/steps/step-edits";
import { isCellError } from "../../src/engine/values";
import { must } from "../accounts/results";
import { LiveEdition } from "../tools/live-edition";
import { smallEdition } from "../tools/small-edition";

describe("the order in which cells are recalculated", () => {
  test("follows formulas that come later and turn what depended on what", () => {
    const live = new LiveEdition(smallEdition());
    live.type(["pieces", "p1", "cast.slip", "900"], ["pieces", "p2", "cast.slip", "800"]);
    // p1 now hangs on p2, then p2 on the sum of materials, and p1 no more.
    live.override(["pieces", "p1", "fettle.minutes", "={pieces[p2]:own}*2"]);
    expect(live.differences()).toEqual([]);
    live.type(["pieces", "p2", "cast.slip", "850"]);
    expect(live.differences()).toEqual([]);
    live.override(["pieces", "p1", "fettle.minutes", "7"]);
    live.override(["pieces", "p2", "fettle.minutes", "={pieces[p1]:own}*2"]);
    live.type(["pieces", "p1", "cast.slip", "910"], ["edition", "wage", "value", "31"]);
    expect(live.differences()).toEqual([]);
    live.engine.close();
  });

  test("is kept while what most cells use loses its users and gets them again", () => {
    const live = new LiveEdition(smallEdition(40));
    const added = must(addStep(live.book, { kind: "hand", title: "Sponge", cells: {} }, "fettle"));
    // More often than the long lists of users have room for gaps.
    for (let at = 0; at < 8; at += 1) {
      live.run(added);
      live.undo(added);
    }
    live.run(added);
    expect(live.differences()).toEqual([]);
    for (const minutes of ["7", "9"]) live.override(["pieces", "p1", "fettle.minutes", `=wage/wage*${minutes}`]);
    live.type(["edition", "wage", "value", "31"]);
    expect(live.differences()).toEqual([]);
    live.engine.close();
  });

  test("comes through a circle made and taken back", () => {
    const live = new LiveEdition(smallEdition());
    live.type(["pieces", "p1", "cast.slip", "900"]);
    const circle = live.override(["pieces", "p1", "fettle.minutes", "={own}+1"]);
    expect(isCellError(live.read("pieces", "p1", "own"))).toBe(true);
    live.type(["edition", "wage", "value", "30"]);
    live.undo(circle);
    live.type(["edition", "wage", "value", "25"]);
    expect(isCellError(live.read("pieces", "p1", "own"))).toBe(false);
    expect(live.differences()).toEqual([]);
    live.engine.close();
  });
});
