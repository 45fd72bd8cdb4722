// What this device prefers. Kept in local storage; first.js reads the same key before the first paint.

import type { Unit } from '../units/degrees';

export type Theme = 'system' | 'day' | 'noon' | 'night';

interface Kept {
  theme: Theme;
  /** null: as each burn has it */
  unit: Unit | null;
  awake: boolean;
  aloud: boolean;
}

const key = 'pitwright.settings';
const defaults: Kept = { theme: 'system', unit: null, awake: true, aloud: false };

function load(): Kept {
  try {
    return { ...defaults, ...(JSON.parse(localStorage.getItem(key) ?? '{}') as Partial<Kept>) };
  } catch {
    return { ...defaults };
  }
}

const kept = $state(load());
export const settings: Readonly<Kept> = kept;

export function prefer(change: Partial<Kept>): void {
  Object.assign(kept, change);
  try {
    localStorage.setItem(key, JSON.stringify(kept));
  } catch {
    // A browser that keeps nothing still obeys until it is closed.
  }
  applyTheme();
}

const dark = matchMedia('(prefers-color-scheme: dark)');
const contrast = matchMedia('(prefers-contrast: more)');

/** The theme in force. */
export function themeOf(wish: Theme): Exclude<Theme, 'system'> {
  if (wish !== 'system') return wish;
  if (dark.matches) return 'night';
  return contrast.matches ? 'noon' : 'day';
}

function applyTheme(): void {
  const root = document.documentElement;
  root.dataset['theme'] = themeOf(kept.theme);
  const paper = getComputedStyle(root).getPropertyValue('--paper').trim();
  document.querySelector('meta[name="theme-color"]')?.setAttribute('content', paper);
}

/** Sets the theme and follows the system while that is wished. */
export function followTheme(): void {
  applyTheme();
  dark.addEventListener('change', applyTheme);
  contrast.addEventListener('change', applyTheme);
}
