// What must hold of any edition, whatever its route, loads and losses.
import fc from "fast-check";
import { expect, test } from "vitest";
import { buildPieceCosts } from "../../src/accounts/cost-build";
import { listInventory } from "../../src/accounts/inventory";
import { checkJournal, USUAL_ACCOUNT_NAMES } from "../../src/accounts/journal";
import { roundLedger, settlementOf } from "../../src/accounts/ledger";
import type { PlainEdition, PlainEntry } from "../../src/accounts/plain-edition";
import { costStatement } from "../../src/accounts/statement";
import { must } from "../accounts/results";
import { wholeJournal } from "../tools/whole-journal";
import { editions, shuffled } from "./accounts-editions";

const RUNS = { seed: 20_261_125, numRuns: 40 };
const sum = (list: readonly number[]) => list.reduce((total, one) => total + one, 0);
const near = (a: number, b: number, scale: number) => Math.abs(a - b) <= 1e-9 * Math.max(scale, 1e-9);

test("own, lost and in progress are everything put in, and so are full costs and losses", () => {
  fc.assert(
    fc.property(editions, (edition) => {
      const { totals, pieces } = must(buildPieceCosts(edition));
      const { own, full, putInTotal, reclaimed, normal, abnormal, unsharedNormal } = totals;
      expect(near(sum(Object.values(own)), putInTotal, putInTotal)).toBe(true);
      expect(near(sum(pieces.map((piece) => piece.own)), putInTotal, putInTotal)).toBe(true);
      expect(near(own.lost, reclaimed + normal + abnormal, putInTotal)).toBe(true);
      expect(near(sum(Object.values(full)) + abnormal + reclaimed + unsharedNormal, putInTotal, putInTotal)).toBe(true);
    }),
    RUNS,
  );
});

test("put in = finished + seconds + in progress + abnormal + reclaimed + unshared, to the last cent, yen or fils", () => {
  fc.assert(
    fc.property(editions, fc.constantFrom(0, 2, 3), (edition, digits) => {
      const ledger = must(roundLedger(settlementOf(must(buildPieceCosts(edition))), digits));
      const { goodTotal, secondsTotal, inProgressTotal, abnormal, unsharedNormal, reclaimed, putInTotal } = ledger;
      const outs = [goodTotal, secondsTotal, inProgressTotal, abnormal, unsharedNormal, reclaimed];
      expect(outs.every((minor) => Number.isSafeInteger(minor) && minor >= 0)).toBe(true);
      expect(sum(outs)).toBe(putInTotal);
      expect(sum(Object.values(ledger.putIn))).toBe(putInTotal);
      expect(sum(ledger.good.map(({ minor }) => minor))).toBe(goodTotal);
      expect(sum(ledger.seconds.map(({ minor }) => minor))).toBe(secondsTotal);
      expect(sum(ledger.inProgress.map(({ minor }) => minor))).toBe(inProgressTotal);
    }),
    RUNS,
  );
});

test("no piece is more than one minor unit from its exact cost", () => {
  fc.assert(
    fc.property(editions, (edition) => {
      const costs = must(buildPieceCosts(edition));
      const ledger = must(roundLedger(settlementOf(costs), 2));
      const minorOf = new Map(
        [...ledger.good, ...ledger.seconds, ...ledger.inProgress].map(({ piece, minor }) => [piece, minor]),
      );
      for (const { id, full } of costs.pieces) {
        if (full === undefined) expect(minorOf.has(id)).toBe(false);
        else expect(Math.abs(minorOf.get(id)! - full * 100)).toBeLessThan(1 + 1e-6);
      }
    }),
    RUNS,
  );
});

test("the journal balances, and work in progress is left with what is in progress", () => {
  fc.assert(
    fc.property(editions, (edition) => {
      const ledger = must(roundLedger(settlementOf(must(buildPieceCosts(edition))), 2));
      const inventory = must(listInventory(ledger, new Map(ledger.seconds.map(({ piece }) => [piece, 20]))));
      const { writeDowns } = inventory;
      const accounts = USUAL_ACCOUNT_NAMES;
      const lines = wholeJournal({ ledger, writeDowns });
      expect(checkJournal(lines, 2)).toEqual([]);
      const balance = (account: string) =>
        sum(lines.filter((line) => line.account === account).map((line) => line.debitMinor - line.creditMinor));
      expect(balance(accounts.inProgress)).toBe(ledger.inProgressTotal);
      expect(balance(accounts.finished)).toBe(ledger.goodTotal);
      expect(balance(accounts.seconds)).toBe(ledger.secondsTotal - writeDowns.seconds);
      expect(sum(lines.map((line) => line.debitMinor - line.creditMinor))).toBe(0);
      const [putIn, finished] = must(costStatement(ledger)).filter((row) => row.kind === "total");
      expect([putIn?.minor, finished?.minor]).toEqual([ledger.putInTotal, ledger.goodTotal + ledger.secondsTotal]);
      expect(inventory.costMinor).toBe(ledger.goodTotal + ledger.secondsTotal + ledger.inProgressTotal);
    }),
    RUNS,
  );
});

test("the order of pieces, steps and firings changes nothing", () => {
  fc.assert(
    fc.property(editions, fc.integer(), (edition, seed) => {
      const reversed: PlainEdition = {
        ...edition,
        pieces: shuffled(edition.pieces, seed),
        steps: shuffled(edition.steps, seed + 1),
        firings: shuffled(edition.firings, seed + 2),
      };
      const costs = must(buildPieceCosts(edition));
      const reversedCosts = must(buildPieceCosts(reversed));
      const byId = <T extends { readonly id: string }>(list: readonly T[]) => new Map(list.map((one) => [one.id, one]));
      expect(byId(reversedCosts.pieces)).toEqual(byId(costs.pieces));
      expect(byId(reversedCosts.steps)).toEqual(byId(costs.steps));
      expect({ ...reversedCosts.totals, putIn: 0, putInTotal: 0, emptyFirings: 0 }).toEqual({
        ...costs.totals,
        putIn: 0,
        putInTotal: 0,
        emptyFirings: 0,
      });
      const ledger = must(roundLedger(settlementOf(costs), 2));
      const reversedLedger = must(roundLedger(settlementOf(reversedCosts), 2));
      const minors = (list: readonly { piece: string; minor: number }[]) =>
        new Map(list.map(({ piece, minor }) => [piece, minor]));
      expect(minors(reversedLedger.good)).toEqual(minors(ledger.good));
      expect(minors(reversedLedger.inProgress)).toEqual(minors(ledger.inProgress));
      expect(reversedLedger.putIn).toEqual(ledger.putIn);
    }),
    RUNS,
  );
});

test("no cost after the step at which a piece was lost, whatever was entered there", () => {
  fc.assert(
    fc.property(editions, (edition) => {
      const orderOf = new Map(edition.steps.map((step) => [step.id, step.order]));
      const isAfter = (step: string, lostAt: string | undefined) =>
        lostAt !== undefined && (orderOf.get(step) ?? 0) > (orderOf.get(lostAt) ?? 0);
      const costs = must(buildPieceCosts(edition));
      edition.pieces.forEach((piece, index) => {
        for (const step of Object.keys(costs.pieces[index]?.steps ?? {}))
          expect(isAfter(step, piece.lostAt)).toBe(false);
      });
      const loud: PlainEntry = { slip: 1e6, minutes: 1e6, coats: 1e6, firing: "f1" };
      const pieces = edition.pieces.map((piece) => ({
        ...piece,
        entries: Object.fromEntries(
          Object.entries(piece.entries).map(([step, entry]) => [step, isAfter(step, piece.lostAt) ? loud : entry]),
        ),
      }));
      expect(must(buildPieceCosts({ ...edition, pieces }))).toEqual(costs);
    }),
    RUNS,
  );
});

test("a firing is borne whole by the pieces in it, or by nobody", () => {
  fc.assert(
    fc.property(editions, (edition) => {
      const costs = must(buildPieceCosts(edition));
      const borne = sum(costs.pieces.flatMap((piece) => Object.values(piece.steps).map((step) => step.firingShare)));
      const fired = sum(costs.firings.map((firing) => firing.cost));
      expect(near(borne + costs.totals.emptyFirings, fired, fired)).toBe(true);
    }),
    RUNS,
  );
});

test("an edition parted in two that share its kilns: every firing is borne by both and by the other ware, and by nobody else", () => {
  fc.assert(
    fc.property(editions, fc.integer({ min: 1, max: 7 }), (whole, nth) => {
      const { paid: _, ...overhead } = whole.overhead;
      const all = { ...whole, overhead };
      const parts = [0, 1].map((side) => all.pieces.filter((_piece, at) => (at % (nth + 1) === 0) === (side === 0)));
      const heldBy = parts.map((pieces) => must(buildPieceCosts({ ...all, pieces })).firings);
      const sides = parts.map((pieces, side) => {
        const firings = all.firings.map((firing, at) => {
          const theirs = heldBy[1 - side]?.[at];
          return { ...firing, others: firing.others! + (theirs?.pieces ? theirs.sharedOver : 0) };
        });
        return must(buildPieceCosts({ ...all, pieces, firings }));
      });
      const together = must(buildPieceCosts(all));
      for (const [at, { cost, pieces, sharedOver }] of together.firings.entries()) {
        const others = all.firings[at]!.others!;
        if (pieces === 0 || sharedOver === 0) continue;
        const wares = (cost * others) / sharedOver;
        const borne = sum(sides.map(({ firings }) => firings[at]!.cost));
        const firing = must(buildPieceCosts({ ...all, firings: all.firings.map((one) => ({ ...one, others: 0 })) }))
          .firings[at]!;
        expect(near(borne, cost, firing.cost)).toBe(true);
        expect(near(borne + wares, firing.cost, firing.cost)).toBe(true);
      }
    }),
    RUNS,
  );
});

test("a second is never carried above what it fetches by its share of losses, and losses up to plan are normal", () => {
  fc.assert(
    fc.property(editions, (edition) => {
      const costs = must(buildPieceCosts(edition));
      for (const piece of costs.pieces)
        if (piece.outcome === "second" && piece.lossShare > 0)
          expect(piece.full!).toBeLessThanOrEqual(edition.secondNetRealisable * (1 + 1e-12) + 1e-12);
      for (const step of costs.steps) {
        const planned = (edition.steps.find(({ id }) => id === step.id)?.plannedLoss ?? 0) * step.entered;
        if (step.lost <= planned) expect(step.abnormal).toBe(0);
        expect(step.abnormalPieces).toBeLessThanOrEqual(Math.max(0, step.lost - planned) + 1e-9);
      }
      const lost = costs.steps.reduce((sum, step) => sum + step.lost, 0);
      const { lossChance, plannedLosses } = costs.totals;
      const runs = edition.lossRuns ?? 0;
      const abnormal = costs.steps.reduce((sum, step) => sum + step.abnormalPieces, 0);
      if (runs > 0 && lossChance >= 1 / runs) expect(abnormal).toBe(0);
      else expect(near(abnormal, Math.max(0, lost - plannedLosses), lost)).toBe(true);
    }),
    RUNS,
  );
});
