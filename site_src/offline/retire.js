// Ends the keeping of copies. Served in the place of sw.js, it deletes every copy of the handbook
// on the devices that come by and unregisters itself. Pages that are open are left alone; whatever
// they ask for from then on comes from the host.
"use strict";

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(retire()));

async function retire() {
  const ours = `handbook ${self.registration.scope} `;
  const names = (await caches.keys()).filter((name) => name.startsWith(ours));
  await Promise.all(names.map((name) => caches.delete(name)));
  await self.registration.unregister();
}
