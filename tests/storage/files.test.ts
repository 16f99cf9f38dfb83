import { fileOpen, fileSave } from "browser-fs-access";
import { describe, expect, it, vi } from "vitest";
import {
  CSV_FILE,
  decodeUtf8,
  EDITION_FILE,
  fileNameFor,
  openTextFile,
  readTextFile,
  saveTextFile,
} from "../../src/storage/files";
import { askToKeep, safetyOf } from "../../src/storage/keeping";
import { problemsOf, valueFrom } from "./contract";

vi.mock("browser-fs-access", () => ({ fileOpen: vi.fn(), fileSave: vi.fn() }));
const open = vi.mocked(fileOpen) as unknown as ReturnType<typeof vi.fn>;
const save = vi.mocked(fileSave);
const codes = (result: Parameters<typeof problemsOf>[0]) => problemsOf(result).map((found) => found.code);
const cancelled = () => new DOMException("The user aborted a request.", "AbortError");
const handleOf = (isThere: boolean) =>
  ({
    getFile: async () => {
      if (!isThere) throw new DOMException("gone", "NotFoundError");
      return new File([], "x");
    },
  }) as unknown as FileSystemFileHandle;

describe("opening a text file", () => {
  it("gives its name, text and handle", async () => {
    const handle = handleOf(true);
    open.mockResolvedValue(Object.assign(new File(["\ufeffäöü 🏺"], "marram.csv"), { handle }));
    expect(valueFrom(await openTextFile(CSV_FILE))).toEqual({ name: "marram.csv", text: "äöü 🏺", handle });
    expect(open.mock.calls[0]?.[0]).toEqual({
      description: "Comma-separated values",
      extensions: [".csv", ".tsv", ".txt"],
    });
  });

  it("takes a change of mind for no problem", async () => {
    open.mockRejectedValue(cancelled());
    expect(valueFrom(await openTextFile(EDITION_FILE))).toBeUndefined();
  });

  it("refuses a file that is too large before reading any of it", async () => {
    const file = new File(["123456"], "big.csv");
    const read = vi.spyOn(file, "arrayBuffer");
    open.mockResolvedValue(file);
    const refused = await openTextFile({ ...CSV_FILE, largestBytes: 5 });
    expect(codes(refused)).toEqual(["file.size"]);
    expect(read).not.toHaveBeenCalled();
    expect(valueFrom(await readTextFile(file, 6))).toBe("123456");
  });

  it("says so when the file can't be read or the browser refuses", async () => {
    const file = new File(["x"], "moved.csv");
    vi.spyOn(file, "arrayBuffer").mockRejectedValue(new DOMException("gone", "NotReadableError"));
    open.mockResolvedValue(file);
    const refused = await openTextFile(CSV_FILE);
    expect(problemsOf(refused)[0]).toMatchObject({ code: "file.open", where: "moved.csv" });
    open.mockRejectedValue(new DOMException("no gesture", "SecurityError"));
    expect(codes(await openTextFile(CSV_FILE))).toEqual(["file.open"]);
  });

  it("reports another encoding instead of guessing", () => {
    const bytes = (...all: number[]) => new Uint8Array(all);
    expect(valueFrom(decodeUtf8(bytes(0x67, 0xc3, 0xa4), "a"))).toBe("gä");
    expect(valueFrom(decodeUtf8(bytes(0xef, 0xbb, 0xbf, 0x61), "a"))).toBe("a");
    // “gä” in Windows-1252, a lone surrogate, an overlong “/”.
    for (const wrong of [bytes(0x67, 0xe4), bytes(0xed, 0xa0, 0x80), bytes(0xc0, 0xaf)])
      expect(problemsOf(decodeUtf8(wrong, "a.csv"))[0]).toMatchObject({ code: "file.encoding", where: "a.csv" });
    expect(problemsOf(decodeUtf8(bytes(0xff, 0xfe, 0x61, 0x00), "a"))[0]?.found).toContain("UTF-16");
  });
});

describe("saving a text file", () => {
  it("gives the handle for the next time, where the browser has one", async () => {
    const handle = handleOf(true);
    save.mockResolvedValueOnce(handle).mockResolvedValueOnce(null);
    expect(valueFrom(await saveTextFile("marram.edition.json", "{}", EDITION_FILE))).toEqual({ handle });
    expect(valueFrom(await saveTextFile("marram.edition.json", "{}", EDITION_FILE))).toEqual({ handle: undefined });
    const [blob, options, existing] = save.mock.calls[0] ?? [];
    expect(await (blob as Blob).text()).toBe("{}");
    expect((blob as Blob).type).toBe("application/json");
    expect(options).toMatchObject({ fileName: "marram.edition.json", extensions: [".edition.json"] });
    expect(existing).toBeNull();
  });

  it("saves to the same file while it is there, and asks again where it is gone", async () => {
    save.mockClear().mockResolvedValue(null);
    const there = handleOf(true);
    await saveTextFile("a.csv", "", CSV_FILE, there);
    await saveTextFile("a.csv", "", CSV_FILE, handleOf(false));
    expect(save.mock.calls.map((call) => call[2])).toEqual([there, null]);
  });

  it("takes a change of mind for no problem, but not a write that the browser stopped", async () => {
    save.mockRejectedValueOnce(cancelled());
    expect(valueFrom(await saveTextFile("a.csv", "", CSV_FILE))).toBeUndefined();
    save.mockRejectedValueOnce(cancelled());
    expect(codes(await saveTextFile("a.csv", "", CSV_FILE, handleOf(true)))).toEqual(["file.save"]);
    save.mockImplementationOnce(async (_blob, _options, _existing, _throws, shown) => {
      shown?.(handleOf(true));
      throw cancelled();
    });
    expect(codes(await saveTextFile("a.csv", "", CSV_FILE))).toEqual(["file.save"]);
  });

  it("says so when the place can't be written to", async () => {
    save.mockRejectedValueOnce(new DOMException("denied", "NotAllowedError"));
    const refused = await saveTextFile("a.csv", "", CSV_FILE);
    expect(problemsOf(refused)[0]).toMatchObject({ code: "file.save", where: "a.csv" });
    expect(problemsOf(refused)[0]?.fix).toContain("another name");
  });

  it("makes a name that every system takes", () => {
    expect(fileNameFor("Marram", ".csv")).toBe("Marram.csv");
    expect(fileNameFor(' Mar/ram: "2nd"\n<run>?* ', ".edition.json")).toBe("Mar ram 2nd run.edition.json");
    expect(fileNameFor("../..", ".csv")).toBe("edition.csv");
    expect(fileNameFor("…灯籠 🏮", ".csv")).toBe("…灯籠 🏮.csv");
    expect(fileNameFor("x".repeat(300), ".csv")).toBe(`${"x".repeat(80)}.csv`);
  });
});

describe("asking to keep what is stored", () => {
  it("asks only where it is not promised yet", async () => {
    const persist = vi.fn(async () => true);
    expect(await askToKeep({ persisted: async () => true, persist })).toBe("kept");
    expect(persist).not.toHaveBeenCalled();
    expect(await askToKeep({ persisted: async () => false, persist })).toBe("kept");
    expect(persist).toHaveBeenCalledOnce();
  });

  it("tells no more than it knows", async () => {
    expect(await askToKeep({ persisted: async () => false, persist: async () => false })).toBe("may be cleared");
    expect(await askToKeep(undefined)).toBe("unknown");
    expect(await askToKeep({ persisted: () => Promise.reject(new TypeError()), persist: async () => true })).toBe(
      "unknown",
    );
  });
});

describe("how safe it is, in words", () => {
  it("says of an engine that clears after seven days that it does, and proposes what helps", () => {
    expect(safetyOf("kept", true)).toBe("This browser has promised to keep what is stored here.");
    expect(safetyOf("may be cleared", false)).not.toContain("seven days");
    for (const keeping of ["may be cleared", "unknown"] as const) {
      const words = safetyOf(keeping, true);
      for (const part of ["seven days without opening this page", "installed from the browser's own menu", "as a file"])
        expect(words).toContain(part);
    }
  });
});
