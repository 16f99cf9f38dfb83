import { describe, expect, it } from "vitest";
import { EditionLock, type LockPlatform, type LockState, type News } from "../../src/storage/edition-lock";
import { FakeBrowser, turns } from "../tools/tabs";

function taker(platform: LockPlatform, beforeHandOver: () => Promise<void> = async () => undefined) {
  const seen: LockState[] = [];
  const news: News[] = [];
  const one = new EditionLock("marram", platform, {
    onLock: (lock) => seen.push(lock),
    beforeHandOver,
    onNews: (said) => news.push(said),
  });
  return { one, seen, says: () => news.map(({ say }) => say) };
}

for (const hasLocks of [true, false])
  describe(hasLocks ? "one writer, with locks" : "one writer, without locks", () => {
    it("the first tab writes, the second follows and says hello", async () => {
      const browser = new FakeBrowser(hasLocks);
      const a = taker(browser.openTab());
      const b = taker(browser.openTab());
      expect(await a.one.begin()).toBe("writing");
      expect(await b.one.begin()).toBe("following");
      await turns();
      expect(a.says()).toEqual(["hello"]);
      expect([a.seen, b.seen]).toEqual([[], []]);
    });

    it("editions of other names don't know of one another", async () => {
      const browser = new FakeBrowser(hasLocks);
      const a = taker(browser.openTab());
      const other = new EditionLock("another", browser.openTab(), {
        onLock: () => undefined,
        beforeHandOver: async () => undefined,
        onNews: () => undefined,
      });
      expect([await a.one.begin(), await other.begin()]).toEqual(["writing", "writing"]);
    });

    it("a tab that asks gets the lock once the other has written; the other follows", async () => {
      const browser = new FakeBrowser(hasLocks);
      const order: string[] = [];
      const a = taker(browser.openTab(), async () => {
        await turns(3);
        order.push("written");
      });
      const b = taker(browser.openTab());
      await a.one.begin();
      await b.one.begin();
      await b.one.takeOver();
      order.push("taken");
      await turns();
      expect(order).toEqual(["written", "taken"]);
      expect([a.one.state, b.one.state]).toEqual(["following", "writing"]);
      expect([a.seen, b.seen]).toEqual([["following"], ["writing"]]);
      await a.one.takeOver();
      await turns();
      expect([a.one.state, b.one.state]).toEqual(["writing", "following"]);
    });

    it("of three tabs the one that asks gets it, not the one that waits longest", async () => {
      const browser = new FakeBrowser(hasLocks);
      const [a, b, c] = [taker(browser.openTab()), taker(browser.openTab()), taker(browser.openTab())];
      for (const { one } of [a, b, c]) await one.begin();
      await c.one.takeOver();
      await turns();
      expect([a.one.state, b.one.state, c.one.state]).toEqual(["following", "following", "writing"]);
    });

    it("a tab that is closed gives the lock to one that follows", async () => {
      const browser = new FakeBrowser(hasLocks);
      const [a, b] = [taker(browser.openTab()), taker(browser.openTab())];
      await a.one.begin();
      await b.one.begin();
      a.one.close();
      await turns(60);
      expect(b.one.state).toBe("writing");
      expect(b.seen).toEqual(["writing"]);
    });

    it("a frozen tab does not keep the lock, and knows when it wakes", async () => {
      const browser = new FakeBrowser(hasLocks);
      const asleep = browser.openTab();
      const [a, b] = [taker(asleep), taker(browser.openTab())];
      await a.one.begin();
      await b.one.begin();
      browser.freeze(asleep);
      await b.one.takeOver();
      expect(b.one.state).toBe("writing");
      await turns();
      browser.thaw(asleep);
      await turns(3);
      expect(a.one.state).toBe("following");
    });

    it("news reach every other tab of the edition, and none once it is closed", async () => {
      const browser = new FakeBrowser(hasLocks);
      const [a, b, c] = [taker(browser.openTab()), taker(browser.openTab()), taker(browser.openTab())];
      for (const { one } of [a, b, c]) await one.begin();
      c.one.close();
      a.one.send({ say: "kept", at: "noon", stamp: { sitting: "s", edits: 1 } });
      await turns();
      expect(b.says()).toContain("kept");
      expect(c.says()).not.toContain("kept");
      expect(a.says()).not.toContain("kept");
    });
  });

describe("a browser without channels and locks", () => {
  it("gives the lock to every tab; the revision in the store decides then", async () => {
    const platform: LockPlatform = {
      tab: "x",
      locks: undefined,
      openChannel: () => undefined,
      wait: async () => undefined,
    };
    expect(await taker(platform).one.begin()).toBe("writing");
    expect(await taker(platform).one.begin()).toBe("writing");
  });
});
