// Keeps the screen on while the fire is watched. The browser lets go when the page is hidden, so
// it is asked for again when the page comes back.

type Wake = 'off' | 'on' | 'needs https' | 'not in this browser' | 'refused';

export const wake = $state<{ state: Wake }>({ state: 'off' });

let wanted = false;
let lock: WakeLockSentinel | null = null;

export async function stayAwake(wish: boolean): Promise<void> {
  wanted = wish;
  if (!wish) {
    await lock?.release();
    lock = null;
    wake.state = 'off';
    return;
  }
  if (!('wakeLock' in navigator)) {
    wake.state = window.isSecureContext ? 'not in this browser' : 'needs https';
    return;
  }
  try {
    lock = await navigator.wakeLock.request('screen');
    wake.state = 'on';
    lock.addEventListener('release', () => (wake.state = 'off'));
  } catch {
    wake.state = 'refused';
  }
}

document.addEventListener('visibilitychange', () => {
  if (wanted && document.visibilityState === 'visible') void stayAwake(true);
});
