// What benches of kept editions share: times, and editions put into the browser's database before the page is opened.
import { performance } from "node:perf_hooks";

/** @typedef {import("playwright").Page} Page */

/** Milliseconds that something takes. @param {() => Promise<unknown>} work */
export async function timeOf(work) {
  const start = performance.now();
  await work();
  return performance.now() - start;
}

/** @param {Page} page */
export const calculated = (page) =>
  page.waitForFunction(
    () =>
      !document.querySelector(".top")?.textContent?.includes("Calculating") &&
      !document.querySelector(".figures b")?.textContent?.includes("…"),
    undefined,
    { timeout: 400_000 },
  );

/** Puts editions into the page's database, and says which is open. @param {Page} page @param {string} url @param {readonly (readonly [id: string, text: string])[]} editions */
export async function keep(page, url, editions) {
  await page.goto(`${url}icon.svg`);
  for (const [id, text] of editions)
    await page.evaluate(
      async ([key, document]) => {
        const request = indexedDB.open("saggar", 3);
        request.onupgradeneeded = () => {
          for (const name of ["summaries", "documents", "preferences", "notes", "copies"])
            request.result.createObjectStore(name);
        };
        const database = await new Promise((done) => {
          request.onsuccess = () => done(request.result);
        });
        const writing = database.transaction(["summaries", "documents", "preferences"], "readwrite");
        const summary = { title: `Edition ${key}`, updatedAt: "2026-11-01T08:00:00.000Z", revision: 1, pieces: 1 };
        writing.objectStore("summaries").put(summary, key);
        writing.objectStore("documents").put({ text: document, revision: 1 }, key);
        writing.objectStore("preferences").put(key, "lastEdition");
        await new Promise((done) => {
          writing.oncomplete = done;
        });
        database.close();
      },
      /** @type {[string, string]} */ ([id, text]),
    );
}

/**
 * Gives editions the values that one of them was left with, as a browser has them in which each was opened once; all have to
 * have the same rows and columns. @param {Page} page @param {string} from @param {readonly string[]} to
 */
export async function giveValues(page, from, to) {
  await page.evaluate(
    async ([source, targets]) => {
      /** @template T @param {IDBRequest<T>} request @returns {Promise<T>} */
      const done = (request) =>
        new Promise((resolve, reject) => {
          request.onsuccess = () => resolve(request.result);
          request.onerror = () => reject(request.error);
        });
      const database = await done(indexedDB.open("saggar"));
      const store = () => database.transaction("documents", "readwrite").objectStore("documents");
      let documents = store();
      let values = (await done(documents.get(source))).values;
      for (let tries = 0; values === undefined && tries < 60; tries += 1) {
        await new Promise((wait) => setTimeout(wait, 500));
        documents = store();
        values = (await done(documents.get(source))).values;
      }
      if (values === undefined) throw new Error(`${source} has no values`);
      for (const id of targets) await done(documents.put({ ...(await done(documents.get(id))), values }, id));
      database.close();
    },
    /** @type {const} */ ([from, to]),
  );
}
