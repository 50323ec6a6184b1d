// Keeps the whole program for work without a network. EDITION and FILES are filled in when the web edition is made. A new
// edition is fetched beside the one in use and takes its place only when no window of the old one is left: whoever has a job
// open goes on with the files it was opened with.
const EDITION = '@EDITION@';
const FILES = ['@FILES@'];
const PREFIX = 'lidwright-';
const CACHE = PREFIX + EDITION;

self.addEventListener('install', (event) => {
  const files = FILES.map((file) => new Request(file, { cache: 'reload' }));
  event.waitUntil(caches.open(CACHE).then((cache) => cache.addAll(files)));
});

async function takeOver() {
  const names = await caches.keys();
  await Promise.all(
    names.filter((name) => name.startsWith(PREFIX) && name !== CACHE).map((name) => caches.delete(name)),
  );
  // the window that installed it works without a network from now on
  await self.clients.claim();
}
self.addEventListener('activate', (event) => event.waitUntil(takeOver()));

async function answer(request) {
  const cache = await caches.open(CACHE);
  const kept = await cache.match(request.mode === 'navigate' ? './index.html' : request, { ignoreSearch: true });
  return kept ?? fetch(request);
}
self.addEventListener('fetch', (event) => {
  const { method, url } = event.request;
  if (method === 'GET' && url.startsWith(self.registration.scope)) event.respondWith(answer(event.request));
});
