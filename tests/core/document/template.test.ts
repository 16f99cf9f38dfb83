import { describe, expect, test } from "vitest";
import { rowOf } from "../../../src/core/document/access";
import { checkCellsOf } from "../../../src/core/document/check-cells";
import { startEdition } from "../../../src/core/document/start-edition";
import { readTemplate } from "../../../src/core/document/template";
import { pieceLabels } from "../../../src/core/record/piece-labels";
import { ROUTE_COLUMNS } from "../../../src/core/sheets/route-sheet";
import { smallTemplate } from "../../tools/small-edition";

type Json = Record<string, unknown>;
type Step = { id: string; kind: string; title: string; cells: Json };
interface Loose extends Json {
  inputs: Json;
  materials: Json[];
  kilns: Json[];
  route: Step[];
}

/** The messages for the small template after something in it was spoilt. */
function messages(spoil: (template: Loose) => unknown): string[] {
  const template = structuredClone(smallTemplate()) as unknown as Loose;
  const read = readTemplate(spoil(template) ?? template, "templates/x/template.json");
  return read.ok ? [] : read.problems.map(({ message }) => message);
}

const step = (template: Loose, id: string) => template.route.find((one) => one.id === id)?.cells ?? {};
const T = "templates/x/template.json";
const COATS = "a whole number, 0 or more and 50 or less";
const ROUTE_INPUTS = ROUTE_COLUMNS.filter(({ kind, hidden }) => kind === "input" && !hidden)
  .map(({ key }) => key)
  .filter((key) => key !== "title" && key !== "kind")
  .join(", ");

describe("a template is refused with the exact place, what was found and what is allowed", () => {
  const cases: readonly (readonly [string, (template: Loose) => unknown, string])[] = [
    ["no object", () => [], `${T}: found [], but it takes named entries, { }.`],
    ["text for a number", (t) => ({ ...t, wanted: "60" }), `${T}, wanted: found “60”, but it takes a number.`],
    ["half a piece", (t) => ({ ...t, wanted: 1.5 }), `${T}, wanted: found 1.5, but it takes a whole number.`],
    ["nothing wanted", (t) => ({ ...t, wanted: 0 }), `${T}, wanted: found 0, but it takes 1 or more.`],
    [
      "an entry nobody knows",
      (t) => ({ ...t, colour: 1 }),
      `${T}, colour: found “colour”, but it takes no such entry.`,
    ],
    [
      "an id with spaces",
      (t) => ({ ...t, id: "My mugs" }),
      `${T}, id: found “My mugs”, but it takes an id of small letters, digits and -.`,
    ],
    ["no kilns", (t) => ({ ...t, kilns: [] }), `${T}, kilns: found [], but it takes 1 or more entries.`],
    ["a list for inputs", (t) => ({ ...t, inputs: [] }), `${T}, inputs: found [], but it takes named entries, { }.`],
    [
      "an unknown kind of step",
      (t) => void Object.assign(t.route[3] ?? {}, { kind: "dip" }),
      `${T}, route[3].kind: found “dip”, but it takes one of cast, hand, coat, metal, firing.`,
    ],
    [
      "negative coats",
      (t) => void Object.assign(step(t, "glaze"), { coats: -1 }),
      `${T}, route[3].cells.coats: found -1, but it takes ${COATS}.`,
    ],
    [
      "text for coats",
      (t) => void Object.assign(step(t, "glaze"), { coats: "two" }),
      `${T}, route[3].cells.coats: found “two”, but it takes ${COATS}.`,
    ],
    [
      "yes for coats",
      (t) => void Object.assign(step(t, "glaze"), { coats: true }),
      `${T}, route[3].cells.coats: found true, but it takes text or a number.`,
    ],
    [
      "a loss of everything",
      (t) => void Object.assign(step(t, "cast"), { loss: 1 }),
      `${T}, route[0].cells.loss: found 1, but it takes a percentage, 0 % or more and below 100 %.`,
    ],
    [
      "a material nobody bought",
      (t) => void Object.assign(step(t, "cast"), { material: "Mud" }),
      `${T}, route[0].cells.material: found “Mud”, but it takes one of Slip, Glaze, Gold.`,
    ],
    [
      "a kiln nobody has",
      (t) => void Object.assign(step(t, "bisque"), { kiln: "Gas" }),
      `${T}, route[2].cells.kiln: found “Gas”, but it takes one of Small, Large.`,
    ],
    [
      "a column nobody knows",
      (t) => void Object.assign(step(t, "cast"), { colour: 1 }),
      `${T}, route[0].cells.colour: found “colour”, but it takes an input column: ${ROUTE_INPUTS}.`,
    ],
    [
      "a computed column",
      (t) => void Object.assign(step(t, "cast"), { per_gram: 1 }),
      `${T}, route[0].cells.per_gram: found “per_gram”, but it takes an input column: ${ROUTE_INPUTS}.`,
    ],
    [
      "a second title",
      (t) => void Object.assign(step(t, "cast"), { title: "Pour" }),
      `${T}, route[0].cells.title: found “title”, but it takes an input column: ${ROUTE_INPUTS}.`,
    ],
    [
      "a second kind",
      (t) => void Object.assign(step(t, "cast"), { kind: "metal" }),
      `${T}, route[0].cells.kind: found “kind”, but it takes an input column: ${ROUTE_INPUTS}.`,
    ],
    [
      "an input nobody knows",
      (t) => void Object.assign(t.inputs, { wages: 3 }),
      `${T}, inputs.wages: found “wages”, but it takes the name of an input.`,
    ],
    [
      "a computed line as an input",
      (t) => void Object.assign(t.inputs, { starts: 3 }),
      `${T}, inputs.starts: found “starts”, but it takes the name of an input.`,
    ],
    [
      "a negative wage",
      (t) => void Object.assign(t.inputs, { wage: -3 }),
      `${T}, inputs.wage: found -3, but it takes a number, 0 or more.`,
    ],
    [
      "a wage without end",
      (t) => void Object.assign(t.inputs, { wage: Number.POSITIVE_INFINITY }),
      `${T}, inputs.wage: found Infinity, but it takes a number.`,
    ],
    [
      "a material without a price",
      (t) => void delete t.materials[0]?.pack_price,
      `${T}, materials[0].pack_price: found nothing, but it takes a number, 0 or more.`,
    ],
    [
      "a sort nobody knows",
      (t) => void Object.assign(t.materials[1] ?? {}, { sort: "paint" }),
      `${T}, materials[1].sort: found “paint”, but it takes one of slip, glaze, underglaze, lustre, other.`,
    ],
    [
      "two kilns of one name",
      (t) => void Object.assign(t.kilns[0] ?? {}, { id: "large" }),
      `${T}, kilns[1].id: found “Large”, but it takes a name that no other row has.`,
    ],
    [
      "two steps of one id",
      (t) => void Object.assign(t.route[1] ?? {}, { id: "cast" }),
      `${T}, route[1]: found “cast”, but it takes an id and a title that no other step has.`,
    ],
    [
      "two steps of one title",
      (t) => void Object.assign(t.route[1] ?? {}, { title: "Cast" }),
      `${T}, route[1]: found “fettle”, but it takes an id and a title that no other step has.`,
    ],
    [
      "a key every object answers to",
      (t) => void Object.assign(t.inputs, { constructor: 1 }),
      `${T}, inputs.constructor: found “constructor”, but it takes the name of an input.`,
    ],
  ];
  test.each(cases)("%s", (_, spoil, message) => {
    expect(messages(spoil)).toContain(message);
  });

  test("every problem is named, not the first only", () => {
    expect(messages(() => ({}))).toHaveLength(9);
  });

  test("a hostile __proto__ changes nothing", () => {
    const inputs = JSON.parse('{"__proto__": {"polluted": 1}, "wage": 20}') as Json;
    const read = readTemplate({ ...smallTemplate(), inputs }, T);
    expect(read.ok && read.value.inputs).toEqual({ wage: 20 });
    expect(({} as Json).polluted).toBeUndefined();
  });
});

describe("startEdition", () => {
  const answers = { title: "Bowls", wanted: 7, currency: "CHF", firstPiece: "B-09", started: "2026-05-04" };
  const book = startEdition(smallTemplate(), answers, 3);

  test("gives pieces numbered on from the first, ready to be recorded", () => {
    expect(book.sheets.pieces.rows.map(({ id, cells }) => [id, cells.piece, cells.tier])).toEqual([
      ["p1", "B-09", "standard"],
      ["p2", "B-10", "standard"],
      ["p3", "B-11", "standard"],
    ]);
  });

  test("takes over the answers, the template's inputs and its version", () => {
    expect(book.meta).toMatchObject({ title: "Bowls", currency: "CHF", started: "2026-05-04", invented: false });
    expect(book.template).toEqual({ id: "small", version: 1 });
    expect(rowOf(book, "edition", "wanted")?.cells.value).toBe(7);
    expect(rowOf(book, "edition", "wage")?.cells.value).toBe(20);
    // Not in the template, so as the workbook starts it.
    expect(rowOf(book, "edition", "confidence")?.cells.value).toBe(0.9);
  });

  test("keeps every rule of its sheets", () => {
    expect(checkCellsOf(book)).toEqual([]);
    expect(checkCellsOf(startEdition(smallTemplate(), answers, 0))).toEqual([]);
  });
});

describe("pieceLabels", () => {
  test.each([
    ["001", 3, ["001", "002", "003"]],
    ["9", 2, ["9", "10"]],
    ["099", 2, ["099", "100"]],
    ["M-9", 2, ["M-9", "M-10"]],
    ["2026/07", 2, ["2026/07", "2026/08"]],
    ["Marram", 2, ["Marram-1", "Marram-2"]],
    [" 5 ", 1, ["5"]],
    ["1", 0, []],
  ])("from %j, %i", (first, count, expected) => {
    expect(pieceLabels(first, count)).toEqual(expected);
  });
});
