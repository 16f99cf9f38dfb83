// A warning or an error on the console fails the test that caused it.
import { afterEach, beforeEach, expect, vi } from "vitest";

beforeEach(() => {
  vi.spyOn(console, "warn");
  vi.spyOn(console, "error");
});
afterEach(() => {
  expect(vi.mocked(console.warn).mock.calls).toEqual([]);
  expect(vi.mocked(console.error).mock.calls).toEqual([]);
  vi.restoreAllMocks();
});
