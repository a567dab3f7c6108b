/**
 * The page without a network: a service worker keeps the page's own files after the first visit. A new version is
 * fetched beside the old one and waits; it takes the place of the old one only when the person loads it.
 */

export class Versions {
  /** A new version is on this device and waits. */
  waiting = $state(false);
  /** Another tab has loaded a new version, so parts of this page that were not loaded yet are gone. */
  replaced = $state(false);
  #registration: ServiceWorkerRegistration | undefined;
  #loading = false;

  /** `worker`: address of the service worker's script. */
  async start(worker: string): Promise<void> {
    // Absent in pages that came over plain http, and where the person has blocked it.
    const container = (navigator as Partial<Navigator>).serviceWorker;
    if (!container) return;
    const hadOne = container.controller !== null;
    container.addEventListener('controllerchange', () => {
      if (this.#loading) location.reload();
      else if (hadOne) this.replaced = true;
    });
    addEventListener('vite:preloadError', () => {
      this.replaced = true;
    });
    try {
      const registration = await container.register(worker);
      this.#follow(registration, container);
    } catch {
      // Without it the page works as long as there is a network.
    }
  }

  #follow(registration: ServiceWorkerRegistration, container: ServiceWorkerContainer): void {
    this.#registration = registration;
    this.waiting = registration.waiting !== null && container.controller !== null;
    registration.addEventListener('updatefound', () => {
      const coming = registration.installing;
      coming?.addEventListener('statechange', () => {
        if (coming.state === 'installed' && container.controller) this.waiting = true;
      });
    });
    document.addEventListener('visibilitychange', () => {
      // No network, no news.
      if (document.visibilityState === 'visible') registration.update().catch(() => undefined);
    });
  }

  /** Loads the page again, in the new version where one waits. */
  load(): void {
    const waiting = this.#registration?.waiting;
    if (!waiting) {
      location.reload();
      return;
    }
    this.#loading = true;
    waiting.postMessage({ type: 'SKIP_WAITING' });
  }
}

export const versions = new Versions();
