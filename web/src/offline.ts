// The service worker: keeps every file of the page, by a list that the server
// writes before this text, and answers from it. Nothing under /api is touched.
declare const VERSION: string;
declare const FILES: { path: string; tag: string; later?: boolean }[];
const worker = self as unknown as ServiceWorkerGlobalScope;

worker.addEventListener("install", (e) => {
  e.waitUntil(caches.open("spadework-" + VERSION).then((cache) => cache.addAll(FILES.filter((f) => !f.later).map((f) => new Request(f.path, { cache: "reload" })))));
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
  const file = FILES.find((f) => f.path === path);
  if (!file) return;
  e.respondWith((async () => {
    const cache = await caches.open("spadework-" + VERSION);
    const kept = await cache.match(path);
    if (kept) return kept;
    const answer = await fetch(e.request);
    if (file.later && answer.ok) await cache.put(path, answer.clone());
    return answer;
  })());
});
