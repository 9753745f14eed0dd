/// <reference lib="webworker" />
declare const __ASSETS__: string[];
declare const __VERSION__: string;
const worker = self as unknown as ServiceWorkerGlobalScope;

const CACHE = `page-${__VERSION__}`;
const PAGE = '/';

worker.addEventListener('install', (event) => {
  event.waitUntil(
    caches
      .open(CACHE)
      .then((cache) => cache.addAll([PAGE, '/icon.svg', ...__ASSETS__]))
      .then(() => worker.skipWaiting()),
  );
});

worker.addEventListener('activate', (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) => Promise.all(names.filter((name) => name !== CACHE).map((name) => caches.delete(name))))
      .then(() => worker.clients.claim()),
  );
});

worker.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== worker.location.origin || url.pathname.startsWith('/api/')) return;
  if (request.mode === 'navigate' && url.pathname === PAGE) event.respondWith(newestPage(request));
  else if (__ASSETS__.includes(url.pathname) || url.pathname === '/icon.svg') event.respondWith(kept(request));
});

/** The network first, so that a new version shows at once; what is kept when there is none. */
async function newestPage(request: Request): Promise<Response> {
  try {
    const fresh = await fetch(request);
    if (fresh.ok) return fresh;
  } catch {
    // Offline: the kept page below is the answer.
  }
  return (await caches.match(PAGE)) ?? Response.error();
}

/** Files with a hash in their name never change, so the kept one is the right one. */
async function kept(request: Request): Promise<Response> {
  return (await caches.match(request)) ?? fetch(request);
}
