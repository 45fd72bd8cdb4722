// The pits of the store, and those of this device that wait to be sent.

import { address } from '../api/client';
import type { Pit } from '../api/contract';
import { Kept } from './kept.svelte';
import { onDelivered, sending, writeDown } from './sending.svelte';

export const pits = new Kept<Pit[]>(address('pits'));

onDelivered((entries) => {
  if (entries.some((one) => one.kind === 'pit')) void pits.ask();
});

/** The server's pits with this device's own newer drawings laid over them. */
export function allPits(): Pit[] {
  const mine = new Map(
    sending.entries.filter((one) => one.kind === 'pit').map((one) => [one.id, one.body as Pit]),
  );
  const known = (pits.value ?? []).map((pit) => mine.get(pit.id) ?? pit);
  const ids = new Set(known.map((pit) => pit.id));
  return [...known, ...[...mine.values()].filter((pit) => !ids.has(pit.id))];
}

/** Keeps a pit on this device and sends it. */
export async function savePit(pit: Pit): Promise<void> {
  await writeDown({ id: pit.id, kind: 'pit', burn: null, method: 'PUT', path: `pits/${encodeURIComponent(pit.id)}`, body: pit });
}

/** A pit with nothing drawn in it. */
export function blankPit(): Pit {
  return {
    id: '', name: '', width_m: null, depth_m: null, height_m: null,
    grates: [{ name: 'main', height_m: 0.3 }], adjustments: [], set_point: null, spots: [],
  };
}
