// Versions of the app: a newer one is fetched in the background and used when a person says so.

class Versions {
  newer = $state.raw<ServiceWorker | undefined>(undefined);
  use(): void {
    navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true });
    this.newer?.postMessage('take over');
  }
}
export const versions = new Versions();

export function watchVersions(): void {
  if (!('serviceWorker' in navigator)) return; // without TLS a browser has none: the app then needs the server
  void navigator.serviceWorker.register('/service-worker.js').then((registration) => {
    const note = () => {
      if (registration.waiting && navigator.serviceWorker.controller) versions.newer = registration.waiting;
    };
    note();
    // A tablet may keep the app open for weeks: whoever takes it up again has it look for a newer one.
    document.addEventListener('visibilitychange', () => document.visibilityState === 'visible' && void registration.update().catch(() => undefined));
    registration.addEventListener('updatefound', () => registration.installing?.addEventListener('statechange', note));
  });
}
