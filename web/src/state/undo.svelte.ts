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

export function dismiss(): void {
  last.words = null;
  last.undo = null;
}
