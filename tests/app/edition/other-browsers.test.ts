// What browsers and keyboards differ in, where it can be told without one.
import { expect, test } from "vitest";
import { showNumber, usableLocale } from "../../../src/app/edition/format";
import { SHORTCUTS, typesWithAlt } from "../../../src/app/help/shortcuts";

test("a browser that names its language C, or none, still writes numbers; a real one after it is taken", () => {
  expect(() => new Intl.NumberFormat("C")).toThrow(RangeError);
  expect(usableLocale(["C"])).toBe("en");
  expect(usableLocale([])).toBe("en");
  expect(usableLocale(["C", "de_DE", "de-de", "fr"])).toBe("de-DE");
  expect(showNumber(1234.5, 2, 2, usableLocale(["C"]))).toBe(showNumber(1234.5, 2, 2, "en"));
});

const pressed = (key: string, code: string, more: { readonly ctrlKey?: boolean } = {}) => ({
  ...{ key, code, altKey: true, ctrlKey: false, metaKey: false, shiftKey: false },
  ...more,
});
const found = (event: ReturnType<typeof pressed>) => SHORTCUTS.find((one) => one.matches(event))?.id;

test("Alt goes by the key, whatever it types", () => {
  // Plain PC keyboard.
  expect(found(pressed("3", "Digit3"))).toBe("grid");
  // Apple: British, German and American layouts, from memory.
  expect(found(pressed("#", "Digit3"))).toBe("grid");
  expect(found(pressed("[", "Digit5"))).toBe("explain");
  expect(found(pressed("™", "Digit2"))).toBe("find");
  expect(found(pressed("˙", "KeyH"))).toBe("help");
  // French PC: digits stand behind Shift.
  expect(found(pressed("&", "Digit1"))).toBe("sheets");
  // Dvorak: the letter is where another one is printed, and the place has another letter.
  expect(found(pressed("h", "KeyJ"))).toBe("help");
  expect(found(pressed("d", "KeyH"))).toBe(undefined);
  // AltGr of a PC is told as Control with Alt, and writes text.
  expect(found(pressed("{", "Digit5", { ctrlKey: true }))).toBe(undefined);
});

test("in a field, what Alt types for text is told from what nobody means to type", () => {
  const types = (key: string) => typesWithAlt(pressed(key, "Digit3"));
  expect(["{", "[", "#", "€", "@", "|"].filter((key) => !types(key))).toEqual([]);
  expect(["3", "h", "™", "˙", "¡", "Dead"].filter(types)).toEqual([]);
});
