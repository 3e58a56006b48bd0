// Keeps one whole build of the app, so that it opens without a network. The script that seals a build
// writes VERSION and FILES above this line: the name of each file, with the hash of what it holds.
//
// A build is kept under its own name and handed out only as a whole: a page never gets parts of two
// builds. A new build waits until the reader takes it or the last page is closed.
//
// Another app, or Crenel once more, may stand in another folder of the same host: what is kept is named by
// the folder, and only the page and the files that stand in it are answered for.
const { scope } = self.registration;
const OURS = `crenel ${scope} `;
const OWN = OURS + VERSION;

/** A link whose `#` was written as `%23` on its way, below the folder. */
const CODED = /^(?:index\.html)?%(?:25)*23(1\..*)$/i;

self.addEventListener("install", (event) => event.waitUntil(keepAll()));

self.addEventListener("activate", (event) => {
  event.waitUntil(clear().then(() => self.clients.claim()));
});

self.addEventListener("message", ({ data }) => {
  if (data === "take over") self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const [address] = request.url.split(/[?#]/);
  if (request.method !== "GET" || !address.startsWith(scope)) return;
  const name = address.slice(scope.length);
  const navigates = request.mode === "navigate";
  const coded = CODED.exec(name);
  if (navigates && coded) return event.respondWith(Response.redirect(`${scope}#${coded[1]}`));
  if (navigates && (name === "" || name === "index.html")) return event.respondWith(answer(scope, request));
  // A page of the build before may ask for a part that only that build has.
  if (!name.includes("/") && (!navigates || Object.hasOwn(FILES, name))) event.respondWith(answer(address, request));
});

/** Keeps every file of this build, or none. */
async function keepAll() {
  const own = await caches.open(OWN);
  try {
    await Promise.all(Object.entries(FILES).map(([name, hash]) => keep(own, new URL(name, scope).href, hash)));
  } catch (error) {
    await caches.delete(OWN);
    throw error;
  }
}

/** Takes a file from where it is at hand, and over the network where it is not or is another build's. */
async function keep(own, address, hash) {
  for (const from of [fromBuilds, fromBrowser, fromNetwork]) {
    const found = await from(address);
    if (found?.ok && (await hashOf(found)) === hash) return own.put(address, found);
  }
  throw new Error(`${address} is not that of this build`);
}

const fromBrowser = (address) => fetch(address, { cache: "force-cache" });
const fromNetwork = (address) => fetch(address, { cache: "reload" });

async function fromBuilds(address) {
  for (const name of [OWN, ...(await others()).reverse()]) {
    const kept = await caches.match(address, { cacheName: name });
    if (kept) return kept;
  }
}

async function hashOf(response) {
  const digest = await crypto.subtle.digest("SHA-256", await response.clone().arrayBuffer());
  return btoa(String.fromCharCode(...new Uint8Array(digest)));
}

/** The names under which other builds of this folder are kept, the oldest first. */
async function others() {
  return (await caches.keys()).filter((name) => name.startsWith(OURS) && name !== OWN);
}

/** Pages that are still open run the build before this one and may ask for its parts: it is kept too. */
async function clear() {
  await Promise.all((await others()).slice(0, -1).map((name) => caches.delete(name)));
}

async function answer(address, request) {
  return (await fromBuilds(address)) ?? fetch(request);
}
