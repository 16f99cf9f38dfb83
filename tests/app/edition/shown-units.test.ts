// The same numbers in metric and in US customary units, wherever an edition shows them.
import { expect, test } from "vitest";
import { demoEdition } from "../../../src/app/demo/demo";
import { displayOf, editTextOf, shownAmount, unitOf } from "../../../src/app/edition/display";
import { figuresOf } from "../../../src/app/edition/figures";
import { askCell, differenceText, valueText } from "../../../src/app/whatif/whatif-cells";
import { editMeta } from "../../../src/core/document/edits";
import { openSession } from "../../tools/open-session";

test("titles, numbers and editors follow the choice, and undo takes it back", async () => {
  const { session, settled } = openSession(demoEdition());
  await settled();
  const area = { sheet: "route", row: "glaze", column: "area" } as const;
  const kept = Number(session.value(area));
  const cellOf = () => [displayOf(session, area).text, unitOf(session, area)];
  const metric = cellOf();
  const figure = () => figuresOf(session).find(({ id }) => id === "lustre")?.text ?? "";
  const grams = Number.parseFloat(figure());
  session.commit(editMeta(session.book.value, { units: "US", temperature: "F" }, "US"));
  // SP 811: a square inch is 6.4516 cm², an ounce 28.349523125 g.
  expect(cellOf()).toEqual([(kept / 6.4516).toFixed(2), "in²"]);
  expect(Number(editTextOf(session, area))).toBeCloseTo(kept / 6.4516, 10);
  expect(figure()).toMatch(/oz$/);
  expect(Number.parseFloat(figure())).toBeCloseTo(grams / 28.349523125, 3);
  expect(shownAmount(session, 100, "°C", 0)).toBe("212 °F");
  expect(session.value(area)).toBe(kept);
  session.undo();
  expect(cellOf()).toEqual(metric);
});

test("a difference between two cases is in the unit that is shown, without a zero of its own", async () => {
  const { session, settled } = openSession(demoEdition());
  await settled();
  session.commit(editMeta(session.book.value, { units: "US", temperature: "F" }, "US"));
  const target = askCell(session.book.value, { sheet: "programmes", row: "r1", column: "celsius" });
  const lustre = askCell(session.book.value, { sheet: "results", row: "lustre", column: "value" });
  if (!target || !lustre) throw new Error("no such cell");
  expect(valueText(session, target, 100)).toBe("212\u00a0°F");
  expect(differenceText(session, target, 10)).toBe("+18");
  expect(differenceText(session, lustre, -28.349523125)).toMatch(/^\u22121\.0+$/);
});
