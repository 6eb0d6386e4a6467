// The service worker: keeps every file of the page, by a list that the server
// writes before this text, and answers from it; what may come later is kept once
// it was fetched. Nothing under /api is touched.
declare const VERSION: string;
declare const FILES: { path: string; tag: string }[];
declare const LATER: { path: string; tag: string }[];
const worker = self as unknown as ServiceWorkerGlobalScope;

const kept = "spadework-" + VERSION;
const laterName = (tag: string) => "spadework-later-" + tag;

worker.addEventListener("install", (e) => {
  e.waitUntil(caches.open(kept).then((cache) => cache.addAll(FILES.map((f) => new Request(f.path, { cache: "reload" })))));
});

worker.addEventListener("activate", (e) => {
  e.waitUntil((async () => {
    const mine = [kept, ...LATER.map((f) => laterName(f.tag))];
    for (const one of await caches.keys()) if (one.startsWith("spadework-") && !mine.includes(one)) await caches.delete(one);
    await worker.clients.claim();
  })());
});

/** Answers from what is kept, else fetches and keeps it. */
async function keptLater(path: string, tag: string): Promise<Response> {
  const cache = await caches.open(laterName(tag));
  const has = await cache.match(path);
  if (has) return has;
  const answer = await fetch(path, { cache: "no-cache" });
  if (answer.ok) await cache.put(path, answer.clone());
  return answer;
}

worker.addEventListener("fetch", (e) => {
  const url = new URL(e.request.url);
  if (e.request.method !== "GET" || url.origin !== worker.location.origin || url.pathname.startsWith("/api/")) return;
  const path = url.pathname.includes(".") ? url.pathname : "/index.html";
  const later = LATER.find((f) => f.path === path);
  if (later) { e.respondWith(keptLater(path, later.tag)); return; }
  if (!FILES.some((f) => f.path === path)) return;
  e.respondWith((async () => (await (await caches.open(kept)).match(path)) ?? fetch(e.request))());
});
