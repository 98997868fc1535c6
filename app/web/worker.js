// The service worker: keeps one whole version of the app for use without a
// network.
//
// The server puts the version and the files in. A version is installed only
// when every file of it has come whole and matches its hash; until then, and if
// that fails, the version before it goes on working. A new version takes over
// when the page asks for it, or when no page is open any more, never by itself.
"use strict";

const version = "{{version}}";
const files = {{files}}; // path → sha256 of the content, as for subresource integrity
const later = {{later}}; // the same, of files that are fetched once the app can be used
{{unpack}}
const prefix = "fairlead-app-";
const cacheName = prefix + version;

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("fetch", (event) => {
  const request = event.request;
  if (request.method !== "GET" || new URL(request.url).origin !== self.location.origin) return;
  if (new URL(request.url).pathname in later) {
    event.respondWith(keepLater(new URL(request.url).pathname));
  } else if (request.mode === "navigate" || new URL(request.url).pathname in files) {
    event.respondWith(answer(request));
  }
});
self.addEventListener("message", (event) => {
  switch (event.data && event.data.fairlead) {
    case "take over":
      event.waitUntil(self.skipWaiting());
      break;
    case "mend":
      event.waitUntil(fill().catch(() => {}).then(whole).then((is) => event.ports[0].postMessage({ version, whole: is })));
      break;
    case "fetch the rest":
      event.waitUntil(Promise.all(Object.keys(later).map(keepLater)).then((all) => all.every((r) => r.ok), () => false)
        .then((is) => event.ports[0].postMessage({ version, rest: is })));
      break;
    case "what is kept":
      event.waitUntil(whole().then((is) => event.ports[0].postMessage({ version, whole: is })));
      break;
  }
});

async function install() {
  const had = await caches.has(cacheName); // then it is in use: going back to an older version
  try {
    await fill();
    if (!(await whole())) throw new Error("not every file was kept");
  } catch (e) {
    if (!had) await caches.delete(cacheName);
    throw e;
  }
}

// fill fetches every file past stale copies (the page's own download is reused
// through its ETag) and refuses any that is not of this very version.
async function fill() {
  const cache = await caches.open(cacheName);
  await Promise.all(Object.entries(files).map(async ([path, hash]) => {
    const response = await fetch(path, { integrity: hash, cache: "no-cache", credentials: "same-origin" });
    if (!response.ok) throw new Error(`${path}: ${response.status}`);
    await cache.put(path, path.endsWith(".wasm") ? await unpacked(response) : response); // put together only once
  }));
}

async function activate() {
  for (const name of await caches.keys()) {
    if (name.startsWith(prefix) && name !== cacheName) await caches.delete(name);
  }
  await self.clients.claim();
}

async function whole() {
  if (!(await caches.has(cacheName))) return false;
  const cache = await caches.open(cacheName);
  const found = await Promise.all(Object.keys(files).map((path) => cache.match(path)));
  return found.every(Boolean);
}

// keepLater serves a file that is not part of what the app opens with: kept when it
// was first fetched, and of this very version.
async function keepLater(path) {
  const cache = await caches.open(cacheName);
  const kept = await cache.match(path);
  if (kept) return kept;
  let response = await fetch(path, { integrity: later[path], cache: "no-cache", credentials: "same-origin" });
  if (!response.ok) return response;
  if (path.endsWith(".wasm")) response = await unpacked(response);
  await cache.put(path, response.clone());
  return response;
}

// answer serves a file from this version's cache. Every address that is not a
// file is a place inside the app and gets its one page.
async function answer(request) {
  const path = new URL(request.url).pathname;
  const cache = await caches.open(cacheName);
  const kept = await cache.match(path in files ? path : "/");
  return kept || fetch(request);
}
