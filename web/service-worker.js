// Keeps one whole version of the app on the device and answers from it, network or none. A newer
// version is fetched beside it and waits until a person says so: never silently, mid-shift.
const version = 'VERSION';
const files = ['FILES'];
const cacheName = `beetwright-${version}`;

self.addEventListener('install', (event) => {
  event.waitUntil(caches.open(cacheName).then((cache) => cache.addAll(files)));
});

self.addEventListener('activate', (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) if (name !== cacheName) await caches.delete(name);
      await self.clients.claim();
    })(),
  );
});

self.addEventListener('message', (event) => {
  if (event.data === 'take over') self.skipWaiting();
});

self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== 'GET' || url.origin !== location.origin) return;
  if (url.pathname.startsWith('/api/')) return; // what is asked of the server is the app's own business
  const wanted = event.request.mode === 'navigate' ? '/' : url.pathname;
  if (!files.includes(wanted)) return;
  event.respondWith(
    caches.open(cacheName).then(async (cache) => (await cache.match(wanted)) ?? fetch(event.request)),
  );
});
