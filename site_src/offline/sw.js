// Keeps whole builds of the handbook on this device and answers every page from the build that it
// was opened with. Network and copy are never mixed in one page.
"use strict";

const BUILD = null; // offline.py writes {name, edition, files: [[path, bytes, sha256], ...]} here

const SCOPE = self.registration.scope;
const PREFIX = `handbook ${SCOPE} `; // the same host may have other sites
const MINE = PREFIX + BUILD.name;
const PAGES = `${PREFIX}pages`; // the build of each open page: a worker's own memory does not last
const LABEL = new URL("kept", SCOPE).href; // put in last, so a cache that has it is whole
const NETWORK = "network"; // what a page uses that was opened when no copy could answer
const LATELY = 60 * 60 * 1000; // ms; see sweep
const TOTAL = BUILD.files.reduce((sum, [, bytes]) => sum + bytes, 0);

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(sweep()));
self.addEventListener("fetch", (event) => {
  if (event.request.method !== "GET" || !event.request.url.startsWith(SCOPE)) return;
  event.respondWith(answer(event));
});
self.addEventListener("message", (event) => {
  const reply = (found) => event.ports[0].postMessage(found);
  if (event.data === "take over") self.skipWaiting();
  if (event.data === "read back") event.waitUntil(readBack().then(reply));
  if (event.data === "keep") event.waitUntil(install().finally(reply));
  if (event.data === "remove") event.waitUntil(remove().then(reply));
});

// Keeping -------------------------------------------------------------------------------------

/** Every file or none. What has a label already is whole, whatever the host sends now. */
async function install() {
  let kept = 0;
  try {
    const cache = await caches.open(MINE);
    for (const [path, bytes, sha256] of BUILD.files) {
      await keep(cache, path, sha256);
      kept += bytes;
      await tell({ kept, total: TOTAL });
    }
    const label = { edition: BUILD.edition, date: new Date().toISOString() };
    await cache.put(LABEL, new Response(JSON.stringify(label)));
  } catch (error) {
    if (!(await inBuild(MINE, LABEL))) await caches.delete(MINE);
    await tell({ failed: error.message });
    throw error;
  }
}

async function keep(cache, path, sha256) {
  const url = new URL(path, SCOPE).href;
  const broken = () => { throw new Error(`The connection broke at ${path}.`); };
  const response = await fetch(url, { cache: "reload" }).catch(broken);
  if (!response.ok) throw new Error(`The host answers ${response.status} for ${path}.`);
  const body = await response.arrayBuffer().catch(broken);
  if ((await digest(body)) !== sha256) {
    throw new Error(`What the host sends as ${path} is not the file of this edition.`);
  }
  const headers = { "content-type": response.headers.get("content-type") ?? "" };
  await cache.put(url, new Response(body, { headers })).catch((error) => {
    throw new Error(error.name === "QuotaExceededError"
      ? `The browser has no room for ${path}. In all it takes ${(TOTAL / 1e6).toFixed(1)} MB.`
      : `The browser could not keep ${path} (${error.message}).`);
  });
}

async function digest(body) {
  const bytes = new Uint8Array(await crypto.subtle.digest("SHA-256", body));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

async function tell(message) {
  for (const client of await self.clients.matchAll({ includeUncontrolled: true })) {
    if (client.url.startsWith(SCOPE)) client.postMessage(message);
  }
}

/** What is kept, each file hashed again; `wrong` names those that are not what they were. */
async function readBack() {
  const label = await inBuild(MINE, LABEL);
  const wrong = [];
  for (const [path, , sha256] of BUILD.files) {
    const entry = await inBuild(MINE, new URL(path, SCOPE).href);
    if (!entry || (await digest(await entry.arrayBuffer())) !== sha256) wrong.push(path);
  }
  return { ...(label && (await label.json())), bytes: TOTAL, files: BUILD.files.length, wrong };
}

async function remove() {
  await self.registration.unregister();
  const ours = (await caches.keys()).filter((name) => name.startsWith(PREFIX));
  await Promise.all(ours.map((name) => caches.delete(name)));
}

// Answering -----------------------------------------------------------------------------------

async function answer(event) {
  const { request } = event;
  const opens = request.mode === "navigate";
  const build = opens ? await buildToOpen(request.url) : await buildOf(event.clientId);
  if (event.resultingClientId) await note(event.resultingClientId, build); // a page or its worker
  if (opens) event.waitUntil(sweep());
  if (build === NETWORK) return fetch(request);
  const gone = () => new Response("This edition is no longer on this device.", { status: 404 });
  return (await inBuild(build, request.url)) ?? gone();
}

async function buildToOpen(url) {
  return (await inBuild(MINE, LABEL)) && (await inBuild(MINE, url)) ? MINE : NETWORK;
}

async function buildOf(client) {
  const noted = await caches.match(noteOf(client), { cacheName: PAGES });
  if (noted) return (await noted.json()).build;
  const build = await buildToOpen(SCOPE);
  await note(client, build); // a worker from a blob, say, that was never navigated to
  return build;
}

function inBuild(build, url) {
  const file = url.replace(/[?#].*/, "").replace(/\/$/, "/index.html");
  return caches.match(file, { cacheName: build, ignoreVary: true });
}

// Pages and their builds ------------------------------------------------------------------------

function noteOf(client) {
  return new URL(`pages/${client}`, SCOPE).href;
}

async function note(client, build) {
  const pages = await caches.open(PAGES);
  await pages.put(noteOf(client), new Response(JSON.stringify({ build, seen: Date.now() })));
}

/**
 * Deletes the builds that no page uses. A page that is just opening, or waits behind the back
 * button, is not listed as open: it counts for an hour after it was last seen. While another
 * worker is on its way, nothing is deleted: its build looks unused too.
 */
async function sweep() {
  const names = await caches.keys();
  if (self.registration.installing || self.registration.waiting) return;
  const listed = await self.clients.matchAll({ includeUncontrolled: true, type: "all" });
  const open = new Set(listed.map((client) => noteOf(client.id)));
  const used = new Set([MINE, PAGES]);
  const pages = await caches.open(PAGES);
  for (const key of await pages.keys()) {
    const { build, seen } = await (await pages.match(key)).json();
    if (open.has(key.url)) await note(key.url.slice(noteOf("").length), build);
    else if (Date.now() - seen > LATELY) {
      await pages.delete(key);
      continue;
    }
    used.add(build);
  }
  const unused = names.filter((name) => name.startsWith(PREFIX) && !used.has(name));
  await Promise.all(unused.map((name) => caches.delete(name)));
}
