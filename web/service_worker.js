// Answers for the page where there is no network. It knows the files of one build, each with the hash of its content, and
// nothing else: any other request goes its way as if this were not here.
//
// A build is kept whole or not at all: each file is checked against its hash as it comes, and while one is missing the
// build that was kept before goes on answering. What is the same in both is not fetched again.
// A new build waits until the page says that nothing is left open, or until nobody has the page open.

// The build writes this line anew, with its name and with the path and hash of each of its files.
const [BUILD, FILES] = ["", new Map()];

// Others may keep something on the same host, so what is kept here is named by the folder.
const SCOPE = registration.scope;
const OWN = `tapemark ${SCOPE} `;
const KEPT = OWN + BUILD;

addEventListener("install", (event) => event.waitUntil(keepAll()));
addEventListener("activate", (event) => event.waitUntil(takeOver()));
addEventListener("message", ({ data }) => {
  if (data === "use now") skipWaiting();
});
addEventListener("fetch", (event) => {
  const path = pathOf(event.request);
  if (FILES.has(path)) event.respondWith(answer(event.request, path));
});

// Keeps every file of the build, or fails, and then the browser tries another time; what had come by then is not fetched again.
async function keepAll() {
  const kept = await caches.open(KEPT);
  await Promise.all([...FILES].map(async ([path, hash]) => {
    const had = await caches.match(keyOf(path), { ignoreVary: true });
    await kept.put(keyOf(path), had ?? await fetched(path, hash));
  }));
}

async function fetched(path, hash) {
  // By its folder, as people open it: some hosts send whoever asks for index.html there, and a page must not be sent on.
  const address = new URL(path === "index.html" ? "./" : path, SCOPE);
  // A host that holds half of another build has files of other hashes, which the browser refuses.
  const response = await fetch(address, { cache: "no-cache", integrity: hash });
  if (response.status !== 200 || response.redirected) throw new Error(`${address} cannot be kept`);
  return response;
}

// Throws former builds away. One that came while this one waited is kept: it is the next.
async function takeOver() {
  const names = await caches.keys();
  if (!registration.installing && !registration.waiting) {
    const former = names.filter((name) => name.startsWith(OWN) && name !== KEPT);
    await Promise.all(former.map((name) => caches.delete(name)));
  }
  // A page that was open before the first build was kept needs no network from here on either.
  await clients.claim();
}

// Which file of the build is asked for, if any. The page is the same whatever stands behind its address.
function pathOf({ method, mode, url }) {
  const { href, search } = new URL(url);
  const [address] = href.split(/[?#]/);
  if (method !== "GET" || !address.startsWith(SCOPE) || (search && mode !== "navigate")) return undefined;
  const path = address.slice(SCOPE.length);
  return mode === "navigate" && path === "" ? "index.html" : path;
}

async function answer(request, path) {
  const kept = await caches.match(keyOf(path), { cacheName: KEPT, ignoreVary: true });
  // A browser that needed room may have thrown it away.
  return kept ?? fetch(request);
}

// What a file is kept under: with its hash, so that it is found in a former build only if it is the same.
function keyOf(path) {
  return `${new URL(path, SCOPE)}?${encodeURIComponent(FILES.get(path))}`;
}
