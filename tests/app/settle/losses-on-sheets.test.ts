// Whose losses, and what of them is abnormal, on the sheets and in the books: small runs calculated by hand.
import { describe, expect, test } from "vitest";
import { settle } from "../../../src/app/settle/settle";
import { evaluate, type Sheetful } from "../../tools/evaluate";
import { afterTyping, smallEdition, type Typed } from "../../tools/small-edition";

const value = (read: Sheetful, id: string) => Number(read("results", id, "value"));
const share = (read: Sheetful, piece: string) => read("pieces", piece, "loss_share");

/** Six cast; two fettled, of which one is finished; one lost at the fettling table; one row untouched. */
const entered: Typed[] = [
  ...["p1", "p2", "p3", "p4", "p5"].map((piece): Typed => ["pieces", piece, "cast.slip", "1000"]),
  ...["p1", "p2", "p5"].map((piece): Typed => ["pieces", piece, "fettle.minutes", "10"]),
  ["pieces", "p1", "grade", "good"],
  ["pieces", "p5", "lost_at", "fettle"],
];
const start = () => afterTyping(smallEdition(6), entered);

describe("losses on the sheets", () => {
  test("are borne by the pieces that have passed the step; a row without a step bears nothing and is in no stock", () => {
    const book = start();
    const read = evaluate(book);
    const normal = Number(read("route", "fettle", "normal"));
    expect(value(read, "abnormal")).toBe(0);
    expect(normal).toBeGreaterThan(0);
    expect(read("route", "fettle", "bear")).toBe(2);
    expect(share(read, "p1")).toBeCloseTo(normal / 2, 12);
    expect(share(read, "p2")).toBeCloseTo(normal / 2, 12);
    expect(share(read, "p3")).toBe(0);
    expect(read("pieces", "p6", "outcome")).toBe("not started");
    expect([share(read, "p6"), read("pieces", "p6", "full")]).toEqual(["", ""]);
    expect([value(read, "in_progress"), value(read, "not_started")]).toEqual([3, 1]);
    expect(value(read, "settled_up")).toBeCloseTo(0, 9);
    const books = settle(book, read);
    expect(books.ok && books.value.inventory.lines.map(({ piece }) => piece)).toEqual(["01", "02", "03", "04"]);
  });

  test("at a step that nobody has passed are a cost of the period until somebody has", () => {
    const read = evaluate(
      afterTyping(start(), [
        ["pieces", "p4", "lost_at", "bisque"],
        ["pieces", "p1", "grade", ""],
      ]),
    );
    expect(value(read, "unshared")).toBeCloseTo(Number(read("route", "bisque", "normal")), 12);
    expect(value(read, "settled_up")).toBeCloseTo(0, 9);
  });

  test("at a step for special pieces are borne by special pieces alone", () => {
    const special: Typed[] = ["p1", "p2", "p4"].map((piece) => ["pieces", piece, "tier", "special"]);
    const band: Typed[] = ["p1", "p2", "p4"].map((piece) => ["pieces", piece, "band.coats", "1"]);
    const good: Typed[] = ["p2", "p3"].map((piece) => ["pieces", piece, "grade", "good"]);
    const book = afterTyping(start(), [
      ["route", "band", "who", "special"],
      ["route", "band", "loss", "50%"],
      ...[...special, ...band, ...good],
      ["pieces", "p4", "lost_at", "band"],
    ]);
    const read = evaluate(book);
    const own = Number(read("route", "band", "normal"));
    expect(own).toBeGreaterThan(1);
    expect(read("route", "band", "bear")).toBe(2);
    expect(Number(share(read, "p2")) - Number(share(read, "p3"))).toBeCloseTo(own / 2, 10);
    expect(settle(book, read).ok).toBe(true);
  });

  test("beyond plan are normal while chance explains them; a maker may ask for other odds, or none", () => {
    const judged = (runs: string) => {
      const read = evaluate(afterTyping(start(), [["edition", "loss_runs", "value", runs]]));
      expect(value(read, "settled_up")).toBeCloseTo(0, 9);
      return value(read, "abnormal_pieces");
    };
    // 5 cast at 5 %, 3 fettled at 2 %: 0.31 planned, 1 lost; 1 − .95⁵ × .98³ = 27 %, more than 1 in 20 and less than 1 in 3.
    const read = evaluate(start());
    expect(value(read, "loss_chance")).toBeCloseTo(1 - 0.95 ** 5 * 0.98 ** 3, 12);
    expect(judged("20")).toBe(0);
    expect(judged("3")).toBeCloseTo(0.69, 12);
    expect(judged("")).toBeCloseTo(0.69, 12);
  });
});
