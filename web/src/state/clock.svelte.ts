/** The time of this device, ms since 1970, fresh every second while somebody looks. */
export const now = $state({ ms: Date.now() });

function tick() {
  now.ms = Date.now();
}

setInterval(() => {
  if (document.visibilityState === 'visible') tick();
}, 1000);
document.addEventListener('visibilitychange', tick);
