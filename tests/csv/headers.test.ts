import { describe, expect, it } from "vitest";
import { columnOf } from "../../src/core/document/access";
import type { Column, SheetKey, Workbook } from "../../src/core/document/workbook";
import { csvColumns, matchHeaders } from "../../src/csv/headers";
import { smallEdition } from "../storage/small-edition";

const book = smallEdition();
const headerOf = (sheet: SheetKey, key: string, shows = "entered", from = book) =>
  csvColumns(from, sheet).find((entry) => entry.column.key === key && entry.shows === shows)?.header;
const matched = (sheet: SheetKey, header: string, chosen?: Record<string, string>) => {
  const [match] = matchHeaders(book, sheet, [header], chosen);
  return match && "column" in match ? `${match.kind} ${match.column.key}` : match?.kind;
};

function withColumns(sheet: SheetKey, ...own: readonly Pick<Column, "key" | "title" | "unit">[]): Workbook {
  const added = own.map((column): Column => ({ kind: "input", type: "number", own: true, ...column }));
  const columns = [...book.sheets[sheet].columns, ...added];
  return { ...book, sheets: { ...book.sheets, [sheet]: { ...book.sheets[sheet], columns } } };
}

describe("names of columns in a file", () => {
  it("say the step, the column and the unit", () => {
    expect(headerOf("pieces", "piece")).toBe("Piece");
    expect(headerOf("pieces", "glaze.coats")).toBe("Glaze: coats");
    expect(headerOf("pieces", "glaze.area")).toBe("Glaze: area (cm²)");
    expect(headerOf("pieces", "band.area")).toBe("Band: area (cm²)");
    expect(headerOf("pieces", "glaze.area", "in use")).toBe("Glaze: area in use (cm²)");
    expect(headerOf("pieces", "cast.cost", "computed")).toBe("Cast: cost (EUR)");
    expect(headerOf("route", "per_gram", "computed")).toBe("price (EUR/g)");
    expect(headerOf("route", "loss")).toBe("planned loss (fraction)");
  });

  it("leave out what the grid does not show", () => {
    expect(columnOf(book, "pieces", "lost_order")).toBeDefined();
    expect(headerOf("pieces", "lost_order", "computed")).toBeUndefined();
    expect(headerOf("route", "key")).toBeUndefined();
  });

  it("are different from each other on every sheet, whatever a maker calls columns and steps", () => {
    const odd = withColumns(
      "pieces",
      { key: "mine", title: "Glaze: coats", unit: "" },
      { key: "twin", title: "glaze:  COATS", unit: "" },
      { key: "trap", title: "Glaze: coats [glaze.coats]", unit: "" },
      { key: "use", title: "weight in use", unit: "kg" },
    );
    for (const from of [book, odd])
      for (const sheet of Object.keys(from.sheets) as SheetKey[]) {
        const headers = csvColumns(from, sheet).map((entry) => entry.header.toLowerCase().replace(/\s+/g, " "));
        expect(new Set(headers).size).toBe(headers.length);
      }
  });

  it("have the key in brackets only where two would be the same", () => {
    const odd = withColumns("pieces", { key: "mine", title: "Glaze: coats", unit: "" });
    expect(headerOf("pieces", "mine", "entered", odd)).toBe("Glaze: coats [mine]");
    expect(headerOf("pieces", "glaze.coats", "entered", odd)).toBe("Glaze: coats [glaze.coats]");
    expect(headerOf("pieces", "band.coats", "entered", odd)).toBe("Band: coats");
  });

  it("lead back to their columns, each and every one", () => {
    const odd = withColumns(
      "pieces",
      { key: "mine", title: "Glaze: coats", unit: "" },
      { key: "use", title: "weight in use", unit: "kg" },
      { key: "share", title: "share (of 1) [x]", unit: "%" },
    );
    for (const sheet of Object.keys(odd.sheets) as SheetKey[]) {
      const columns = csvColumns(odd, sheet);
      const matches = matchHeaders(
        odd,
        sheet,
        columns.map((entry) => entry.header),
      );
      const found = matches.map((match) => ("column" in match ? [match.kind, match.column.key] : [match.kind]));
      const label = columns[0]?.column.key;
      expect(found).toEqual(
        columns.map(({ column, shows }) => [
          shows === "entered" ? (column.key === label ? "label" : "input") : "computed",
          column.key,
        ]),
      );
    }
  });
});

describe("finding the columns of a file", () => {
  it("by whole name, by name without the unit, whatever the case and spaces", () => {
    for (const header of ["Glaze: area (cm²)", " glaze:   AREA (CM²) ", "Glaze: area"])
      expect(matched("pieces", header)).toBe("input glaze.area");
    expect(matched("pieces", "PIECE")).toBe("label piece");
  });

  it("never by half a name, and never one of several", () => {
    for (const header of ["area", "coats", "", "Glaze", "colour", "glaze.area", "lost_at"])
      expect(matched("pieces", header)).toBe("unknown");
    // Two computed columns of Route are called “labour”.
    expect(matched("route", "labour")).toBe("unknown");
  });

  it("asks about another unit instead of taking it", () => {
    expect(matched("pieces", "Cast: slip kept (kg)")).toBe("unit cast.slip");
    expect(matched("materials", "pack price (USD)")).toBe("unit pack_price");
    expect(matched("materials", "pack price (EUR)")).toBe("input pack_price");
  });

  it("knows how percentages stand, or that it has to ask", () => {
    const forms = ["planned loss (fraction)", "planned loss (%)", "planned loss"].map(
      (header) => matchHeaders(book, "route", [header])[0],
    );
    expect(forms.map((match) => match?.kind === "input" && match.percent)).toEqual(["fraction", "percent", "ask"]);
  });

  it("leaves computed columns and second ones out", () => {
    expect(matched("pieces", "Cast: cost (EUR)")).toBe("computed cast.cost");
    expect(matched("pieces", "Glaze: area in use (cm²)")).toBe("computed glaze.area");
    const matches = matchHeaders(book, "pieces", ["Piece", "Glaze: coats", "glaze:  Coats", "piece"]);
    expect(matches.map((match) => match.kind)).toEqual(["label", "input", "twice", "twice"]);
  });

  it("does as it is told", () => {
    expect(matched("pieces", "Nr.", { "Nr.": "piece" })).toBe("label piece");
    expect(matched("pieces", "Cast: slip kept (kg)", { "Cast: slip kept (kg)": "cast.slip" })).toBe("input cast.slip");
    expect(matched("pieces", "Piece", { Piece: "" })).toBe("left out");
    expect(matched("pieces", "Nr.", { "Nr.": "no_such" })).toBe("unknown");
    expect(matched("pieces", "toString")).toBe("unknown");
  });
});
