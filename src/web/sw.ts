// Keeps the page's own files so that it opens without the network: files of the build from the cache, every address
// inside the book answered with index.html, nothing of /api kept. This file stays a classic script: no import, no export.
const worker = self as unknown as ServiceWorkerGlobalScope;
declare const __FILES__: string[];
declare const __VERSION__: string;
const CACHE = `bracewright-${__VERSION__}`;

async function keepFiles(): Promise<void> {
  const cache = await caches.open(CACHE);
  // files named by their content cannot be stale: what the page has just fetched is not fetched again
  await cache.addAll(
    __FILES__.map((file) => new Request(file, { cache: file.startsWith('/assets/') ? 'default' : 'reload' })),
  );
}

async function dropOldFiles(): Promise<void> {
  for (const name of await caches.keys())
    if (name.startsWith('bracewright-') && name !== CACHE) await caches.delete(name);
  await worker.clients.claim();
}

async function answer(request: Request): Promise<Response> {
  const cache = await caches.open(CACHE);
  const asked = request.mode === 'navigate' ? '/index.html' : request;
  const kept = await cache.match(asked, { ignoreSearch: true });
  return kept ?? fetch(request);
}

worker.addEventListener('install', (event) => {
  event.waitUntil(keepFiles().then(() => worker.skipWaiting()));
});

worker.addEventListener('activate', (event) => {
  event.waitUntil(dropOldFiles());
});

worker.addEventListener('fetch', (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== 'GET' || address.origin !== location.origin || address.pathname.startsWith('/api/'))
    return;
  event.respondWith(answer(request));
});
