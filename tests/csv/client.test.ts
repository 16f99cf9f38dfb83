// The page's end of the CSV worker, with the work done here in its place.
import { describe, expect, it } from "vitest";
import { applyChange } from "../../src/core/document/change";
import { type CsvPort, connectCsv, type Progress } from "../../src/csv/client";
import { createCsvWork } from "../../src/csv/work";
import { smallEdition } from "../storage/small-edition";

/** A port that works in turn, as a worker does; `ended` counts those that were stopped. */
function ports() {
  const made = { count: 0, ended: 0 };
  const make = (): CsvPort => {
    made.count += 1;
    const work = createCsvWork();
    let isOpen = true;
    const port: CsvPort = {
      onmessage: null,
      onerror: null,
      terminate() {
        isOpen = false;
        made.ended += 1;
      },
      async postMessage({ id, ...question }) {
        const say = (data: object) => isOpen && port.onmessage?.({ data: { id, ...data } } as MessageEvent);
        const result = await work(structuredClone(question) as never, (progress) =>
          say({ kind: "progress", progress }),
        );
        say(
          result.ok
            ? { kind: "answer", answer: structuredClone(result.value) }
            : { kind: "problems", problems: result.problems },
        );
      },
    };
    return port;
  };
  return { made, make };
}

const book = smallEdition(3);
const TEXT = "Piece,note\n001,x\n009,y\n";
const table = { kind: "table", reading: {}, book, sheet: "pieces" } as const;

describe("the CSV worker", () => {
  it("reads, plans, gives the change and the refused lines", async () => {
    const { make } = ports();
    const client = connectCsv(make);
    const news: Progress["doing"][] = [];
    const hear = ({ doing }: Progress) => news.push(doing);
    await client.ask({ kind: "file", file: new Blob([TEXT]), name: "f.csv" }, hear);
    const preview = await client.ask(table, hear);
    expect(preview).toMatchObject({ kind: "answer", value: { rowCount: 2, encoding: { encoding: "utf-8" } } });
    const plan = await client.ask({ kind: "plan", options: {} }, hear);
    expect(plan).toMatchObject({
      kind: "answer",
      value: { counts: { read: 2, changed: 1, refused: 1 }, operations: 1 },
    });
    const change = await client.ask({ kind: "change" });
    expect(change.kind === "answer" && applyChange(book, change.value).sheets.pieces.rows[0]?.cells.note).toBe("x");
    expect(await client.ask({ kind: "rejected" })).toMatchObject({ value: expect.stringContaining("009") });
    expect(new Set(news)).toEqual(new Set(["reading", "parting", "checking"]));
  });

  it("refuses what is no text, and what is asked before there is a file", async () => {
    const client = connectCsv(ports().make);
    expect(await client.ask(table)).toMatchObject({ kind: "refused", problems: [{ code: "csv.order" }] });
    const file = new Blob([new Uint8Array([0x89, 0x50, 0x4e, 0x47])]);
    expect(await client.ask({ kind: "file", file, name: "x" })).toMatchObject({
      kind: "refused",
      problems: [{ code: "csv.binary" }],
    });
  });

  it("can be stopped, and begins anew with the next question", async () => {
    const { made, make } = ports();
    const client = connectCsv(make);
    const asked = client.ask({ kind: "text", text: TEXT, name: "pasted" });
    client.cancel();
    expect(await asked).toEqual({ kind: "cancelled" });
    expect(made).toEqual({ count: 1, ended: 1 });
    expect((await client.ask({ kind: "text", text: TEXT, name: "pasted" })).kind).toBe("answer");
    expect(made.count).toBe(2);
  });

  it("tells of a worker that did not start", async () => {
    const port: CsvPort = { onmessage: null, onerror: null, terminate() {}, postMessage() {} };
    const client = connectCsv(() => port);
    const asked = client.ask({ kind: "change" });
    port.onerror?.({ message: "no worker" } as ErrorEvent);
    await expect(asked).rejects.toThrow("no worker");
  });
});
