// Taps in words.

import type { NewTap } from '../api/contract';

const words: Record<NewTap['what'], string> = {
  lid: 'Lid opened',
  'lid closed': 'Lid closed',
  split: 'Split on',
  fuel: 'Fuel in',
  gust: 'Gust',
  rain: 'Rain',
  moved: 'Probe moved',
  note: 'Note',
  changed: 'Changed',
  reading: 'Reading',
};

export interface Told {
  what: string;
  setting?: string | null;
  spot?: string | null;
  text?: string | null;
  value?: string | null;
}

/** "Changed to B", "Left front: 263 F", "Note: ash out". */
export function tapWords(tap: Told): string {
  const plain = words[tap.what as NewTap['what']] ?? tap.what;
  if (tap.what === 'changed' && tap.setting) return `Changed to ${tap.setting}`;
  if (tap.what === 'reading' && tap.value) {
    const value = tap.value.replace(/\s*([FC])$/, ' °$1');
    return tap.spot ? `${tap.spot}: ${value}` : value;
  }
  const spot = tap.spot ? ` (${tap.spot})` : '';
  return tap.text ? `${plain}${spot}: ${tap.text}` : plain + spot;
}

export interface Timed {
  what: string;
  at: string;
  until?: string | null;
  undone: boolean;
}

/** When the lid was opened, if nobody closed it since; null: it is shut. */
export function lidOpenSince(taps: readonly Timed[]): string | null {
  const lids = taps
    .filter((tap) => !tap.undone && (tap.what === 'lid' || tap.what === 'lid closed'))
    .sort((one, other) => Date.parse(one.at) - Date.parse(other.at));
  const newest = lids.at(-1);
  // The server tells an opening and its closing as one tap with an end; a waiting tap has none yet.
  return newest?.what === 'lid' && !newest.until ? newest.at : null;
}
