// Whether this browser can open the app without a network, and if not, why.

export type OfflineAbility = 'ready' | 'setting up' | 'needs https' | 'not in this browser';

/** Registers the service worker and reports, now and when it changes. */
export function registerWorker(report: (ability: OfflineAbility) => void): void {
  if (!window.isSecureContext) return report('needs https');
  if (!('serviceWorker' in navigator)) return report('not in this browser');
  report(navigator.serviceWorker.controller ? 'ready' : 'setting up');
  navigator.serviceWorker
    .register('./sw.js', { scope: './' })
    .then(() => navigator.serviceWorker.ready)
    .then(() => report('ready'))
    .catch(() => report('not in this browser'));
}
