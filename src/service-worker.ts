// Keeps the program itself, so that it starts without a network. It never sees an edition: those are in the page's database.
//   · A version is fetched whole before it is used, and every file of it is what the build made, by type and digest.
//   · A newer version waits until the maker says so. Files of the older one stay as long as a page may still ask for them.
//   · Nothing is deleted while a version is being fetched or waits.

declare const self: ServiceWorkerGlobalScope;
/** Put in by the build: the SHA-256 (hexadecimal) of each file by its address, and a name that changes with them. */
declare const PROGRAM: { readonly version: string; readonly files: Readonly<Record<string, string>> };

const PREFIX = "saggar ";
const CACHE = `${PREFIX}${PROGRAM.version}`;
/** Held while files are fetched, and while old ones are deleted. */
const LOCK = "saggar files";

/** What a host has to call a file, so that a browser takes it for one. Of other endings any name will do. */
const TYPES: Readonly<Record<string, RegExp>> = { js: /javascript/, css: /^text\/css/, html: /^text\/html/ };
/** Not true any more of bytes that were read, or of no use here. */
const DROPPED_HEADERS = ["content-encoding", "content-length", "transfer-encoding", "vary"];

const addressOf = (file: string) => new URL(file, self.registration.scope).href;

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("message", (event) => {
  if (event.data === "use now") event.waitUntil(self.skipWaiting());
  // Asked by a page that could not start: what is kept is compared with what was built, and fetched where it differs.
  if (event.data === "mend")
    event.waitUntil(
      navigator.locks.request(LOCK, fetchAll).then(
        () => event.ports[0]?.postMessage("whole"),
        () => event.ports[0]?.postMessage("not whole"),
      ),
    );
});
self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(self.registration.scope)) return;
  if (request.mode === "navigate") {
    event.respondWith(answerPage(request));
    event.waitUntil(dropOldVersions());
  } else event.respondWith(answer(request));
});

async function install(): Promise<void> {
  await navigator.locks.request(LOCK, async () => {
    await fetchAll();
    // An earlier version of this worker deleted what was being filled: then once more.
    if (!(await isWhole())) await fetchAll();
    if (!(await isWhole())) throw new Error("what was fetched was not kept");
  });
  // Kept by an earlier version of this worker, which did not look: no page of that version can start, so none is disturbed.
  if (await keepsPagesAsScripts()) await self.skipWaiting();
}

async function fetchAll(): Promise<void> {
  const cache = await caches.open(CACHE);
  await Promise.all(Object.keys(PROGRAM.files).map((file) => take(cache, file)));
}

/** Puts a file into the cache: one that is kept already under whatever version, or else the host's. */
async function take(cache: Cache, file: string): Promise<void> {
  const address = addressOf(file);
  const sound =
    (await soundOf(file, await caches.match(address, ANYHOW))) ??
    // Past the browser's own cache, which may still hold another version under the same address.
    (await soundOf(file, await fetch(address, { cache: "reload" })));
  if (!sound) throw new Error(`${file} is missing on the host, or is not the file that was built`);
  await cache.put(address, sound);
}

/** The response with a file of this version, if that is what it has. */
async function soundOf(file: string, response: Response | undefined): Promise<Response | undefined> {
  const type = TYPES[file.replace(/^.*\./, "")];
  if (!response?.ok || type?.test(response.headers.get("content-type") ?? "") === false) return undefined;
  const bytes = await response.arrayBuffer();
  const digest = Array.from(new Uint8Array(await crypto.subtle.digest("SHA-256", bytes)), (byte) =>
    byte.toString(16).padStart(2, "0"),
  ).join("");
  if (digest !== PROGRAM.files[file]) return undefined;
  // Made anew: a page can't be answered with a response that came by way of another address.
  const headers = new Headers(response.headers);
  for (const name of DROPPED_HEADERS) headers.delete(name);
  return new Response(bytes, { headers });
}

async function isWhole(): Promise<boolean> {
  const kept = new Set((await (await caches.open(CACHE)).keys()).map(({ url }) => url));
  return Object.keys(PROGRAM.files).every((file) => kept.has(addressOf(file)));
}

async function keepsPagesAsScripts(): Promise<boolean> {
  for (const name of await caches.keys()) {
    if (!name.startsWith(PREFIX) || name === CACHE) continue;
    const cache = await caches.open(name);
    for (const request of await cache.keys()) {
      const type = (await cache.match(request, ANYHOW))?.headers.get("content-type") ?? "";
      if (request.url.endsWith(".js") && TYPES.html?.test(type)) return true;
    }
  }
  return false;
}

/** A file is the same whoever asks for it, whatever the host says that it depends on. */
const ANYHOW = { ignoreVary: true };
/** A file from a slow disk is there long before. */
const SILENT_AFTER_MS = 5000;

async function answerPage(request: Request): Promise<Response> {
  const isStart = [addressOf(""), addressOf("index.html")].includes(request.url.replace(/[?#].*$/, ""));
  return isStart ? answer(new Request(addressOf("index.html"))) : answer(request);
}

async function answer(request: Request): Promise<Response> {
  return (await kept(request)) ?? fetchAndKeep(request);
}

/** A kept file; none where the browser's storage fails or does not answer, so that the network is asked as if we were not here. */
async function kept(request: Request): Promise<Response | undefined> {
  const silence = new Promise<undefined>((done) => setTimeout(done, SILENT_AFTER_MS));
  const find = async () => {
    const own = await (await caches.open(CACHE)).match(request, ANYHOW);
    // A page that was opened before an update still asks for files of its own version.
    return own ?? (await caches.match(request, ANYHOW));
  };
  return Promise.race([find().catch(() => undefined), silence]);
}

/** The host's answer; a file of this version that was lost here is kept again. */
async function fetchAndKeep(request: Request): Promise<Response> {
  const response = await fetch(request);
  const file = Object.keys(PROGRAM.files).find((name) => addressOf(name) === request.url);
  if (file !== undefined) {
    const copy = response.clone();
    const keep = async () => {
      const sound = await soundOf(file, copy);
      if (sound) await (await caches.open(CACHE)).put(request.url, sound);
    };
    void keep().catch(() => undefined);
  }
  return response;
}

async function dropOldVersions(): Promise<void> {
  await navigator.locks.request(LOCK, { ifAvailable: true }, async (lock) => {
    const open = await self.clients.matchAll({ type: "window", includeUncontrolled: true });
    const { installing, waiting } = self.registration;
    if (!lock || installing || waiting || open.length > 0) return;
    const names = await caches.keys();
    await Promise.all(
      names.filter((name) => name.startsWith(PREFIX) && name !== CACHE).map((name) => caches.delete(name)),
    );
  });
}
