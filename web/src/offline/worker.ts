// The service worker: keeps the app's own files, so that it opens with no network. Nothing of the
// API passes through it: documents and taps are kept by the page (keep.ts), which works on plain
// http as well, where service workers do not exist. The build fills in __FILES__ and __VERSION__.

declare const __FILES__: string[];
declare const __VERSION__: string;

const worker = self as unknown as ServiceWorkerGlobalScope;
const shell = `pitwright-shell-${__VERSION__}`;

worker.addEventListener('install', (event) => {
  event.waitUntil(fill().then(() => worker.skipWaiting()));
});

worker.addEventListener('activate', (event) => {
  event.waitUntil(tidy().then(() => worker.clients.claim()));
});

worker.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  const scope = new URL(worker.registration.scope);
  if (event.request.method !== 'GET' || url.origin !== scope.origin) return;
  const inside = url.pathname.slice(scope.pathname.length);
  if (inside.startsWith('api/') || inside === 'metrics') return;
  if (event.request.mode === 'navigate') event.respondWith(page(event.request));
  else event.respondWith(file(event.request));
});

async function fill(): Promise<void> {
  const cache = await caches.open(shell);
  await cache.addAll(__FILES__.map((one) => new Request(one, { cache: 'reload' })));
}

async function tidy(): Promise<void> {
  for (const name of await caches.keys()) {
    if (name.startsWith('pitwright-shell-') && name !== shell) await caches.delete(name);
  }
}

/** The page itself: the newest if the server answers soon, else the kept one. */
async function page(request: Request): Promise<Response> {
  const kept = await (await caches.open(shell)).match('./');
  try {
    const fresh = await fetch(request, kept ? { signal: AbortSignal.timeout(3000) } : {});
    if (fresh.ok || !kept) return fresh;
  } catch (failure) {
    if (!kept) throw failure;
  }
  return kept;
}

/** Built files carry a hash in their name: what is kept is right. */
async function file(request: Request): Promise<Response> {
  return (await (await caches.open(shell)).match(request)) ?? fetch(request);
}
