// What there is of a material and what it is worth: purchases in, use out, by the moving weighted average or first in, first
// out (IAS 2 §25 and §27). Use beyond what there was is said and stands below nothing until a purchase makes up for it.
import type { STOCK_METHODS } from "../core/document/sheet-keys";
import { toMinorUnits } from "../core/money";
import { fail, ok, type Problem, type Result } from "../core/problem";
import { need, needAboveZero, needFromZero } from "./checks";

export type StockMethod = (typeof STOCK_METHODS)[number];

interface Moved {
  /** ISO 8601; empty where nobody knows, which is taken to be after all the others. */
  readonly day: string;
  readonly grams: number;
}

/** One thing that happens to the stock of a material. */
export type Movement =
  /** `paid` is in the currency, for all of it; `name` is what the purchase is called. */
  | (Moved & { readonly kind: "bought"; readonly name: string; readonly paid: number })
  /** What `by`, an edition with an id, has used, and what came back from it, as clay of pieces lost unfired. */
  | (Moved & { readonly kind: "used" | "back"; readonly by: string; readonly edition?: string })
  /** How much was found at a stock-take, at the end of its day. */
  | (Moved & { readonly kind: "counted"; readonly name: string });

/** What a movement did; money in whole minor units. */
export interface StockLine {
  readonly movement: Movement;
  /** Grams that came in; below 0 those that went out. Of a stock-take what was more, or less, than there should be. */
  readonly grams: number;
  /** What those are worth, likewise. */
  readonly minor: number;
  /** At which price a gram; undefined where none moved. */
  readonly perGram: number | undefined;
  /** Purchases that it was taken from, by name, the oldest first; by the average the last one. */
  readonly from: readonly string[];
  /** Grams of it that were not there. */
  readonly short: number;
  /** What the stock was charged too little for grams that were used before they were bought, paid for by this purchase. */
  readonly correctedMinor: number;
  readonly leftGrams: number;
  readonly leftMinor: number;
}

/** A stock over time. Purchases + back + counted more − used − counted less − corrected = left, in grams and in money. */
export interface Stock {
  readonly lines: readonly StockLine[];
  readonly leftGrams: number;
  readonly leftMinor: number;
  /** What a gram is worth now; what one usually costs where nothing is left. */
  readonly perGram: number;
  /** What the next gram to be used costs, and the purchase it comes from. */
  readonly next: { readonly perGram: number; readonly from: string | undefined };
}

interface Layer {
  grams: number;
  perGram: number;
  readonly name: string;
}

const RANK = { bought: 0, back: 1, used: 2, counted: 3 } as const;

/**
 * The stock of one material by its movements, in any order. On a day purchases come first and a stock-take last. Grams of
 * which nothing was ever bought have the price `usual`, in the currency a gram; `digits` are those of the currency.
 */
export function stockOf(
  movements: readonly Movement[],
  method: StockMethod,
  { usual, digits }: { readonly usual: number; readonly digits: number },
): Result<Stock> {
  const problems = [...needFromZero("Usual price", usual), ...movements.flatMap(movementProblems)];
  if (problems.length > 0) return fail(...problems);
  const after = (day: string) => (day === "" ? "9999-99-99" : day);
  const inOrder = movements.toSorted((a, b) =>
    a.day === b.day ? RANK[a.kind] - RANK[b.kind] : after(a.day) < after(b.day) ? -1 : 1,
  );
  const held = new Held(method, usual);
  const lines: StockLine[] = [];
  let was = 0;
  for (const movement of inOrder) {
    const moved = held.move(movement);
    const worth = toMinorUnits(held.worth, digits);
    const paid = toMinorUnits(movement.kind === "bought" ? movement.paid : 0, digits);
    if (!worth.ok) return worth;
    if (!paid.ok) return paid;
    const { grams, from, short, corrected } = moved;
    // What is left is rounded, and never what moved, so that the movements add up to it; what was paid is as it was paid.
    const isPlain = movement.kind === "bought" && corrected === 0;
    const is = isPlain ? was + paid.value : worth.value;
    const minor = movement.kind === "bought" ? paid.value : is - was;
    lines.push({
      ...{ movement, grams, from, short, perGram: grams === 0 ? undefined : moved.worth / grams },
      ...{ minor, correctedMinor: minor - (is - was), leftGrams: held.grams, leftMinor: is },
    });
    was = is;
  }
  return ok({ lines, leftGrams: held.grams, leftMinor: was, perGram: held.price, next: held.next });
}

function movementProblems(movement: Movement): readonly Problem[] {
  const { kind, grams, day } = movement;
  const name = `${"name" in movement ? movement.name : movement.by}, ${day || "no day"}`;
  return [
    ...(kind === "bought" ? needAboveZero(`${name}, grams`, grams) : needFromZero(`${name}, grams`, grams)),
    ...(kind === "bought" ? needFromZero(`${name}, paid`, movement.paid) : []),
    ...need(day !== "" || kind === "used" || kind === "back", `${name}, day`, day, "a day"),
  ];
}

/** Grams that moved, what they were worth, and what of it was not there; `corrected` is no part of that worth. */
interface Moving {
  readonly grams: number;
  readonly worth: number;
  readonly from: readonly string[];
  readonly short: number;
  readonly corrected: number;
}

const NOTHING: Moving = { grams: 0, worth: 0, from: [], short: 0, corrected: 0 };
/** Grams below this part of what moved are what is left of adding up. */
const SPECK = 1e-9;

/** What there is at a moment: layers, the oldest first; by the average one. */
class Held {
  readonly #method: StockMethod;
  #layers: Layer[] = [];
  /** Used and not there, at the price it was charged at. */
  #owed: Layer | undefined;
  #used = { grams: 0, worth: 0 };
  #last: { readonly perGram: number; readonly name: string | undefined };

  constructor(method: StockMethod, usual: number) {
    this.#method = method;
    this.#last = { perGram: usual, name: undefined };
  }

  get grams(): number {
    return this.#layers.reduce((sum, { grams }) => sum + grams, 0) - (this.#owed?.grams ?? 0);
  }

  get worth(): number {
    const owed = this.#owed ? this.#owed.grams * this.#owed.perGram : 0;
    return this.#layers.reduce((sum, { grams, perGram }) => sum + grams * perGram, 0) - owed;
  }

  /** What a gram of it is worth. */
  get price(): number {
    const grams = this.#layers.reduce((sum, layer) => sum + layer.grams, 0);
    return grams > 0 && !this.#owed ? this.worth / grams : this.#last.perGram;
  }

  get next(): Stock["next"] {
    const { perGram, name } = this.#layers[0] ?? this.#last;
    return { perGram, from: name === "" ? undefined : name };
  }

  move(movement: Movement): Moving {
    const { kind, grams } = movement;
    switch (kind) {
      case "bought":
        return this.#add(grams, movement.paid / grams, movement.name);
      case "used": {
        const moving = this.#take(grams);
        this.#used = { grams: this.#used.grams + grams, worth: this.#used.worth - moving.worth };
        return moving;
      }
      case "back":
        // At what its use was charged at: it is the same clay.
        return this.#add(grams, this.#used.grams > 0 ? this.#used.worth / this.#used.grams : this.price, undefined);
      case "counted": {
        const differs = grams - this.grams;
        if (Math.abs(differs) <= SPECK * grams) return NOTHING;
        return differs > 0 ? this.#add(differs, this.price, undefined) : this.#take(-differs);
      }
    }
  }

  #add(grams: number, perGram: number, purchase: string | undefined): Moving {
    if (grams <= 0) return NOTHING;
    if (purchase !== undefined) this.#last = { perGram, name: purchase };
    const name = purchase ?? this.#last.name ?? "";
    const covered = Math.min(grams, this.#owed?.grams ?? 0);
    const corrected = this.#owed ? covered * (perGram - this.#owed.perGram) : 0;
    if (this.#owed && covered > 0) this.#owed.grams -= covered;
    if (this.#owed && this.#owed.grams <= SPECK * grams) this.#owed = undefined;
    const rest = grams - covered;
    if (rest > SPECK * grams) this.#layers.push({ grams: rest, perGram, name });
    if (this.#method === "average" && this.#layers.length > 1) {
      const all = this.#layers.reduce((sum, layer) => sum + layer.grams, 0);
      this.#layers = [{ grams: all, perGram: this.worth / all, name }];
    }
    return { grams, worth: grams * perGram, from: purchase === undefined ? [] : [purchase], short: 0, corrected };
  }

  #take(grams: number): Moving {
    let [left, worth] = [grams, 0];
    const from: string[] = [];
    while (left > SPECK * grams && this.#layers.length > 0) {
      const layer = this.#layers[0] as Layer;
      const taken = Math.min(left, layer.grams);
      worth += taken * layer.perGram;
      if (layer.name !== "" && from.at(-1) !== layer.name) from.push(layer.name);
      left -= taken;
      layer.grams -= taken;
      if (layer.grams <= SPECK * taken) this.#layers.shift();
    }
    const short = left > SPECK * grams ? left : 0;
    if (short > 0) {
      const { perGram, name } = this.#last;
      worth += short * perGram;
      if (name !== undefined && from.at(-1) !== name) from.push(name);
      const owed = this.#owed ?? { grams: 0, perGram };
      const all = owed.grams + short;
      this.#owed = { grams: all, perGram: (owed.grams * owed.perGram + short * perGram) / all, name: "" };
    }
    return { grams: -grams, worth: -worth, from, short, corrected: 0 };
  }
}
