// The service worker: keeps every file of the page, by a list that the server
// writes before this text, and answers from it. Nothing under /api is touched.
declare const VERSION: string;
declare const FILES: { path: string; tag: string }[];
const worker = self as unknown as ServiceWorkerGlobalScope;

worker.addEventListener("install", (e) => {
  e.waitUntil(caches.open("spadework-" + VERSION).then((cache) => cache.addAll(FILES.map((f) => new Request(f.path, { cache: "reload" })))));
});

worker.addEventListener("activate", (e) => {
  e.waitUntil((async () => {
    for (const name of await caches.keys()) if (name.startsWith("spadework-") && name !== "spadework-" + VERSION) await caches.delete(name);
    await worker.clients.claim();
  })());
});

worker.addEventListener("fetch", (e) => {
  const url = new URL(e.request.url);
  if (e.request.method !== "GET" || url.origin !== worker.location.origin || url.pathname.startsWith("/api/")) return;
  const path = url.pathname.includes(".") ? url.pathname : "/index.html";
  if (!FILES.some((f) => f.path === path)) return;
  e.respondWith((async () => (await (await caches.open("spadework-" + VERSION)).match(path)) ?? fetch(e.request))());
});
