// The same sums written out by hand over typed arrays: what compiled formulas are measured against. Everything that none
// of the three inputs changes is worked out beforehand.
import { chanceOfAsMany, isBeyondChance } from "../../../src/accounts/loss-chance";
import type { Raw, Row, Workbook } from "../../../src/core/document/workbook";

interface Step {
  readonly kind: string;
  readonly rows: Int32Array;
  /** Money of slip and moulds, or grams of lustre; firings as numbers. */
  readonly amount: Float64Array;
  readonly hours: Float64Array;
  readonly firing: Int32Array;
  readonly isPlatinum: boolean;
  readonly loss: number;
  readonly lost: Int32Array;
  readonly entered: number;
}

const numberOf = (value: Raw | undefined) => (typeof value === "number" ? value : 0);

function inputsOf(book: Workbook): ReadonlyMap<string, number> {
  return new Map(book.sheets.edition.rows.map((row) => [row.id, numberOf(row.cells.value)]));
}

/** The arrays a case needs. */
function layOut(book: Workbook) {
  const { pieces, route, materials, firings } = book.sheets;
  const edition = inputsOf(book);
  const input = (name: string) => edition.get(name) ?? 0;
  const firingNumbers = new Map(firings.rows.map((row, at) => [row.cells.id, at]));
  const price = (step: Row) => {
    const found = materials.rows.find(({ cells }) => cells.id === step.cells.material);
    return numberOf(found?.cells.pack_price) / (numberOf(found?.cells.pack_grams) || 1);
  };
  const steps = route.rows.map((step): Step => {
    const kind = String(step.cells.kind);
    const cell = (row: Row, name: string) => row.cells[`${step.id}.${name}`];
    const key = { cast: "slip", hand: "minutes", firing: "firing" }[kind] ?? "coats";
    const rows = pieces.rows.flatMap((row, at) => (cell(row, key) === undefined ? [] : [at]));
    const of = (at: number) => pieces.rows[at] as Row;
    const coats = (at: number) => numberOf(cell(of(at), "coats"));
    const area = numberOf(step.cells.area) * numberOf(step.cells.laydown);
    const amounts: Readonly<Record<string, (at: number) => number>> = {
      cast: (at) => numberOf(cell(of(at), "slip")) * price(step),
      coat: (at) => ((area * coats(at)) / numberOf(step.cells.transfer)) * price(step),
      metal: (at) => (area * coats(at)) / (1 - numberOf(step.cells.waste)),
    };
    const minutes: Readonly<Record<string, (at: number) => number>> = {
      cast: () => numberOf(step.cells.minutes),
      hand: (at) => numberOf(cell(of(at), "minutes")),
      coat: (at) => coats(at) * numberOf(step.cells.minutes),
      metal: (at) => coats(at) * numberOf(step.cells.minutes),
    };
    const lost = pieces.rows.flatMap((row, at) => (row.cells.lost_at === step.id ? [at] : []));
    return {
      kind,
      rows: Int32Array.from(rows),
      amount: Float64Array.from(rows, amounts[kind] ?? (() => 0)),
      hours: Float64Array.from(rows, (at) => (minutes[kind]?.(at) ?? 0) / 60),
      firing: Int32Array.from(rows, (at) => firingNumbers.get(cell(of(at), "firing") ?? "") ?? 0),
      isPlatinum: step.cells.material === "Platinum lustre",
      loss: numberOf(step.cells.loss),
      lost: Int32Array.from(lost),
      entered: rows.length,
    };
  });
  const weights = new Float64Array(firings.rows.length);
  for (const step of steps)
    if (step.kind === "firing") for (const firing of step.firing) weights[firing] = (weights[firing] ?? 0) + 1;
  const kiln = book.sheets.kilns.rows.find(({ cells }) => cells.id === "Large kiln");
  const grades = pieces.rows.map(({ cells }) =>
    cells.lost_at ? 0 : cells.grade === "second" ? 1 : cells.tier === "special" ? 3 : 2,
  );
  return {
    steps,
    input,
    weights,
    energy: Float64Array.from(
      firings.rows,
      ({ cells }) => numberOf(cells.meter) * input("tariff") + numberOf(kiln?.cells.wear),
    ),
    grades: Int32Array.from(grades),
    firstFiring: route.rows.findIndex(({ cells }) => cells.kind === "firing"),
    packGrams: numberOf(materials.rows.find(({ cells }) => cells.id === "Platinum lustre")?.cells.pack_grams),
    slip: steps[0]?.amount ?? new Float64Array(0),
  };
}

export const RESULTS = ["put_in", "abnormal", "normal", "share_good", "per_good", "margin", "pays", "in_kiln"] as const;

/** The results of one case after the other: glaze-firing loss, price of a pack of lustre, wage. */
export function calculateByHand(book: Workbook, cases: Float64Array): Float64Array {
  const { steps, input, weights, energy, grades, firstFiring, packGrams, slip } = layOut(book);
  const pieces = grades.length;
  const own = new Float64Array(pieces);
  const firingCost = new Float64Array(weights.length);
  const [overhead, mould] = [input("overhead_rate"), input("mould_cost") / input("mould_casts")];
  const [tax, fee] = [1 + input("tax_rate"), input("fee_rate")];
  const runs = input("loss_runs");
  const perSale = input("fee_fixed") + input("packing");
  const prices = [0, input("price_second"), input("price_standard"), input("price_special")];
  const worth = input("price_second") / tax - input("price_second") * fee - perSale;
  const glazeFiring = steps.findIndex(({ kind, lost }, at) => kind === "firing" && lost.length > 0 && at > firstFiring);
  const counts = [0, 0, 0, 0];
  for (const grade of grades) counts[grade] = (counts[grade] ?? 0) + 1;
  const [lostCount = 0, seconds = 0, standard = 0, special = 0] = counts;
  const out = new Float64Array((cases.length / 3) * RESULTS.length);
  for (let at = 0, to = 0; at < cases.length; at += 3) {
    const [loss, pack, wage] = [cases[at] as number, cases[at + 1] as number, cases[at + 2] as number];
    own.fill(0);
    let [putIn, kilns] = [0, 0];
    for (let f = 0; f < firingCost.length; f += 1) {
      const cost = (energy[f] as number) + (input("loading_minutes") / 60) * wage;
      firingCost[f] = cost / (weights[f] as number);
      kilns += cost;
    }
    for (const { kind, rows, amount, hours, firing, isPlatinum } of steps) {
      const price = isPlatinum ? pack / packGrams : 1;
      const more = kind === "cast" ? mould : 0;
      if (kind === "firing")
        for (let i = 0; i < rows.length; i += 1)
          own[rows[i] as number] = (own[rows[i] as number] as number) + (firingCost[firing[i] as number] as number);
      else
        for (let i = 0; i < rows.length; i += 1) {
          const time = hours[i] as number;
          const cost = (amount[i] as number) * price + more + time * wage + time * overhead;
          putIn += cost;
          own[rows[i] as number] = (own[rows[i] as number] as number) + cost;
        }
    }
    const planned = steps.map((step, s) => ({ ...step, plannedRate: s === glazeFiring ? loss : step.loss }));
    const beyond = lostCount - planned.reduce((sum, { entered, plannedRate }) => sum + entered * plannedRate, 0);
    const isBeyond = beyond > 0 && isBeyondChance(chanceOfAsMany(planned, lostCount), runs);
    let [normal, abnormal] = [0, 0];
    for (let s = 0; s < steps.length; s += 1) {
      const { lost } = steps[s] as Step;
      if (lost.length === 0) continue;
      let cost = 0;
      for (const piece of lost) cost += own[piece] as number;
      for (const piece of lost)
        cost -= s < firstFiring ? input("reclaim") * (slip[piece] as number) : input("scrap_value");
      const part = isBeyond ? cost * (1 - beyond / lostCount) : cost;
      normal += part;
      abnormal += cost - part;
    }
    const each = normal / (pieces - lostCount);
    let secondsBear = 0;
    for (let i = 0; i < pieces; i += 1)
      if (grades[i] === 1) secondsBear += Math.min(each, Math.max(0, worth - (own[i] as number)));
    const share = (normal - secondsBear) / (pieces - lostCount - seconds);
    let [margin, full] = [0, 0];
    for (let i = 0; i < pieces; i += 1) {
      const grade = grades[i] as number;
      if (grade === 0) continue;
      const cost = (own[i] as number) + (grade === 1 ? Math.min(each, Math.max(0, worth - (own[i] as number))) : share);
      const price = prices[grade] as number;
      margin += price / tax - price * fee - perSale - cost;
      if (grade > 1) full += cost;
    }
    const pays = margin - abnormal - input("fixed_costs");
    for (const result of [putIn + kilns, abnormal, normal, share, full / (standard + special), margin, pays, kilns]) {
      out[to] = result;
      to += 1;
    }
  }
  return out;
}
