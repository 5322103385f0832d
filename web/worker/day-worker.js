// Keeps the pages of a day and its session usable without a connection: the last copy
// of each that was opened, and what the page is made of. It sends nothing; the page does.
const pages = 'glidepath-days-2';
const parts = 'glidepath-parts-1';
const patience = 4000; // ms before an old copy is better than waiting

self.addEventListener('install', () => self.skipWaiting());
self.addEventListener('activate', (event) => event.waitUntil((async () => {
  for (const name of await caches.keys()) if (name.startsWith('glidepath-') && name !== pages && name !== parts) await caches.delete(name);
  await self.clients.claim();
})()));

const isGym = (url) => /^\/day\/\d{4}-\d\d-\d\d\/gym$/.test(url.pathname);
const isDay = (url) => url.pathname === '/day' || /^\/day\/\d{4}-\d\d-\d\d$/.test(url.pathname) || isGym(url);
const isPart = (url) => url.pathname.startsWith('/asset/') || url.pathname.startsWith('/icon/') || url.pathname === '/manifest.webmanifest';

self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== 'GET' || url.origin !== self.location.origin) return;
  if (event.request.mode === 'navigate' && isDay(url)) event.respondWith(day(event, url));
  else if (isPart(url)) event.respondWith(part(event.request));
});

// What the page that is open is made of was fetched before we were there.
self.addEventListener('message', (event) => {
  if (!event.data || !Array.isArray(event.data.keep)) return;
  event.waitUntil((async () => {
    const here = await caches.open(pages), made = await caches.open(parts);
    for (const address of event.data.keep) {
      const url = new URL(address, self.location.origin);
      if (url.origin !== self.location.origin || !(isDay(url) || isPart(url))) continue;
      const cache = isDay(url) ? here : made;
      if (isPart(url) && await cache.match(url.pathname)) continue;
      const answer = await fetch(url, { credentials: 'same-origin' });
      if (answer.ok && !answer.redirected) await cache.put(url.pathname, answer);
    }
  })());
});

async function day(event, url) {
  const cache = await caches.open(pages);
  const fresh = fetch(event.request).then(async (answer) => {
    if (answer.ok && !answer.redirected) {
      await cache.put(url.pathname, answer.clone());
      await prune(cache);
    }
    return answer;
  });
  event.waitUntil(fresh.catch(() => {}));
  const old = async () => (await cache.match(url.pathname)) || (isGym(url) ? undefined : await cache.match('/day'));
  let timer;
  const late = new Promise((done) => { timer = setTimeout(() => done(null), patience); });
  try {
    const answer = await Promise.race([fresh, late]);
    if (answer) return answer;
    return (await old()) || await fresh;
  } catch {
    return (await old()) || new Response('<!DOCTYPE html><html lang="en"><meta name="viewport" content="width=device-width"><title>No connection</title><p>There is no connection, and this day was not opened before. <a href="/day">Open today</a></p>', { status: 503, headers: { 'Content-Type': 'text/html; charset=utf-8' } });
  } finally {
    clearTimeout(timer);
  }
}

async function part(request) {
  const cache = await caches.open(parts), kept = await cache.match(request);
  if (kept) return kept;
  const answer = await fetch(request);
  if (answer.ok && new URL(request.url).pathname.startsWith('/asset/')) await cache.put(request, answer.clone());
  return answer;
}

// Two weeks of days and their sessions are enough.
async function prune(cache) {
  const all = await cache.keys();
  for (const one of all.slice(0, Math.max(0, all.length - 30))) if (new URL(one.url).pathname !== '/day') await cache.delete(one);
}
