// The last thing written down, so that it can be taken back without having been asked first.

import type { OpenBurn } from './burn.svelte';

export const last = $state<{ words: string | null; undo: (() => Promise<void>) | null }>({ words: null, undo: null });

/** Says what was just written down, with a way back. */
export function justWritten(words: string, burn: OpenBurn, tap: string): void {
  last.words = words;
  last.undo = async () => {
    await burn.undo(tap);
    last.words = `Taken back: ${words.charAt(0).toLowerCase()}${words.slice(1)}`;
    last.undo = null;
  };
}

/** Does what cannot be undone only after `wait_ms`, so that there is time to take it back. */
export function soon(words: string, act: () => Promise<void>, wait_ms = 10_000): void {
  const timer = setTimeout(() => {
    if (last.words === words) dismiss();
    void act();
  }, wait_ms);
  last.words = words;
  last.undo = async () => {
    clearTimeout(timer);
    dismiss();
  };
}

export function dismiss(): void {
  last.words = null;
  last.undo = null;
}
