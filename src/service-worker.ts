// Keeps the program itself, so that it starts without a network. It never sees an edition: those are in the page's database.
//   · A version is fetched whole before it is used; half of one never is.
//   · A newer version waits until the maker says so. Files of the older one stay as long as a page may still ask for them.
/// <reference lib="webworker" />

declare const self: ServiceWorkerGlobalScope;
/** Put in by the build: the files of this version by their address, and a name that changes with them. */
declare const PROGRAM: { readonly version: string; readonly files: readonly string[] };

const PREFIX = "saggar ";
const CACHE = `${PREFIX}${PROGRAM.version}`;

const addressOf = (file: string) => new URL(file, self.registration.scope).href;

self.addEventListener("install", (event) => event.waitUntil(fetchAll()));
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("message", ({ data }) => {
  if (data === "use now") void self.skipWaiting();
});
self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(self.registration.scope)) return;
  if (request.mode === "navigate") {
    event.respondWith(answerPage(request));
    event.waitUntil(dropOldVersions());
  } else event.respondWith(answer(request));
});

async function fetchAll(): Promise<void> {
  const cache = await caches.open(CACHE);
  // Past the browser's own cache, which may still hold another version under the same address.
  await cache.addAll(PROGRAM.files.map((file) => new Request(addressOf(file), { cache: "reload" })));
}

/** A file is the same whoever asks for it, whatever the host says that it depends on. */
const ANYHOW = { ignoreVary: true };

async function answerPage(request: Request): Promise<Response> {
  const isStart = [addressOf(""), addressOf("index.html")].includes(request.url.replace(/[?#].*$/, ""));
  return isStart ? answer(new Request(addressOf("index.html"))) : answer(request);
}

async function answer(request: Request): Promise<Response> {
  const own = await (await caches.open(CACHE)).match(request, ANYHOW);
  // A page that was opened before an update still asks for files of its own version.
  return own ?? (await caches.match(request, ANYHOW)) ?? fetch(request);
}

async function dropOldVersions(): Promise<void> {
  const open = await self.clients.matchAll({ type: "window", includeUncontrolled: true });
  if (open.length > 0) return;
  const names = await caches.keys();
  await Promise.all(
    names.filter((name) => name.startsWith(PREFIX) && name !== CACHE).map((name) => caches.delete(name)),
  );
}
