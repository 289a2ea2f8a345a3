/**
 * The service worker: keeps every file of one build in the browser, so that the page works without a network.
 * Its list of files is written in by the build (.ci/offline.mjs); Workbox keeps, renews and serves them.
 */
import { cleanupOutdatedCaches, precacheAndRoute, type PrecacheEntry } from 'workbox-precaching';

declare const self: ServiceWorkerGlobalScope;
declare const PRECACHE: PrecacheEntry[];

cleanupOutdatedCaches();
precacheAndRoute(PRECACHE, { ignoreURLParametersMatching: [/./] });

self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()));
self.addEventListener('message', ({ data }) => {
  // The page asks for the new version once the maker has agreed to it.
  if (data === 'update') void self.skipWaiting();
});
