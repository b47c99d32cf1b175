// Keeps one briefing for where there is no signal: its page and stylesheet, until its link ends. Loaded by the page,
// it starts itself once more as a worker between page and network.
const home = location.origin + location.pathname.replace("/keep.js", "");
const own = [home, `${location.origin}/static/css/briefing.css`];

if (self.document) navigator.serviceWorker?.register(`${home}/keep.js`, { scope: home });
self.oninstall = (event) => event.waitUntil(caches.open(home).then((kept) => kept.addAll(own)));
self.onfetch = (event) => {
  const address = event.request.url.replace(/[?#].*/, "");
  if (own.includes(address)) event.respondWith(answer(address));
};

async function answer(address) {
  const fresh = await fetch(address, { signal: AbortSignal.timeout(8000) }).catch(() => Response.error());
  if (fresh.status === 404) await Promise.all([caches.delete(home), registration.unregister()]);
  else if (!fresh.ok) return (await caches.match(address)) ?? fresh;
  else if (await caches.has(home)) (await caches.open(home)).put(address, fresh.clone());
  return fresh;
}
