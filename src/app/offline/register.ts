/** Keeps the page for offline use, and learns of newer versions. */
import { useOffline } from '../../state/offline';

/** How often a page that stays open asks whether there is a newer version, ms. */
const ASK_EVERY = 3_600_000;

function watch(registration: ServiceWorkerRegistration): void {
  // The first worker of all takes over a page that had none; any later one comes from another tab's yes, or this one's, which loads again by itself.
  let had = navigator.serviceWorker.controller !== null;
  navigator.serviceWorker.addEventListener('controllerchange', () => {
    useOffline.setState({ replaced: had, waiting: null });
    had = true;
  });
  const offer = () => {
    // The very first worker replaces none, so there is nothing to ask.
    if (registration.waiting && navigator.serviceWorker.controller) useOffline.setState({ waiting: registration.waiting });
  };
  offer();
  registration.addEventListener('updatefound', () => {
    const coming = registration.installing;
    coming?.addEventListener('statechange', () => {
      if (coming.state === 'installed') offer();
      if (coming.state === 'activated') useOffline.setState({ kept: true });
    });
  });
  setInterval(() => void registration.update().catch(() => undefined), ASK_EVERY);
}

/** Registers the service worker, once the page is there. Where the browser has none, the page works online as before. */
export async function startOffline(): Promise<void> {
  if (!import.meta.env.PROD || !('serviceWorker' in navigator)) return;
  try {
    const registration = (await navigator.serviceWorker.register('./offline.js', { scope: './' })) as ServiceWorkerRegistration | undefined;
    if (!registration) return;
    watch(registration);
    if (registration.active) useOffline.setState({ kept: true });
  } catch {
    // Private windows and pages not served securely keep nothing; there is nothing to fix here.
  }
}
