// Keeps one whole build of the app, so that it opens without a network. The script that seals a build
// writes VERSION and FILES above this line.
//
// A build is kept under its own name and handed out only as a whole: a page never gets parts of two
// builds. A new build waits until the reader takes it or the last page is closed.
const NAME = "crenel-";
const OWN = NAME + VERSION;
const PAGE = "./";

self.addEventListener("install", (event) => {
  // Past the browser's own cache, which may hold an older page.
  const fresh = FILES.map((file) => new Request(file, { cache: "reload" }));
  event.waitUntil(caches.open(OWN).then((cache) => cache.addAll(fresh)));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(clear().then(() => self.clients.claim()));
});

self.addEventListener("message", ({ data }) => {
  if (data === "take over") self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || new URL(request.url).origin !== location.origin) return;
  event.respondWith(answer(request));
});

/** Pages that are still open run the build before this one and may ask for its parts: it is kept too. */
async function clear() {
  const builds = (await caches.keys()).filter((name) => name.startsWith(NAME) && name !== OWN);
  await Promise.all(builds.slice(0, -1).map((name) => caches.delete(name)));
}

async function answer(request) {
  const own = await caches.open(OWN);
  const wanted = request.mode === "navigate" ? PAGE : request;
  const kept = (await own.match(wanted, { ignoreSearch: true })) ?? (await caches.match(wanted, { ignoreSearch: true }));
  return kept ?? fetch(request);
}
