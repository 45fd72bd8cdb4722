// What waits to be sent from this device, for all screens.

import { address, send } from '../api/client';
import type { NewOutgoing, Outgoing } from '../offline/keep';
import { Outbox } from '../offline/outbox';
import { keep } from './kept.svelte';
import { mustEnter } from './person.svelte';

export const sending = $state<{
  entries: Outgoing[];
  /** Why the last attempt ended before all was sent. */
  held: 'unreachable' | 'unknown person' | 'busy' | null;
  /** False: this browser forbids keeping, so what waits is lost when the page is closed. */
  lasting: boolean;
}>({ entries: [], held: null, lasting: true });

type Delivered = (entries: Outgoing[], answer: unknown) => void;
const deliveries = new Set<Delivered>();

const outbox = keep.then(async (opened) => {
  sending.lasting = opened.lasting;
  const made = new Outbox(opened, (method, path, body) => send(method, address(path), body), {
    entries: (entries) => (sending.entries = entries),
    delivered: (entries, answer) => deliveries.forEach((heard) => heard(entries, answer)),
    stopped,
  }, () => navigator.onLine);
  await made.load();
  return made;
});

let retry: ReturnType<typeof setTimeout> | undefined;
let pause_ms = 2_000;

function stopped(why: typeof sending.held): void {
  sending.held = why;
  clearTimeout(retry);
  if (why === null) pause_ms = 2_000;
  if (why === 'unknown person') mustEnter();
  if (why !== 'unreachable' && why !== 'busy') return;
  retry = setTimeout(() => void flush(), pause_ms);
  pause_ms = Math.min(pause_ms * 2, 60_000);
}

/** Kept on this device when this resolves. */
export async function writeDown(entry: NewOutgoing): Promise<void> {
  await (await outbox).add(entry);
}

/** True: it never left this device and is gone. */
export async function withdraw(id: string): Promise<boolean> {
  return (await outbox).withdraw(id);
}

/** Puts away what the server refused. */
export async function forget(seq: number): Promise<void> {
  await (await outbox).forget(seq);
}

export async function flush(): Promise<void> {
  await (await outbox).flush();
}

/** Hears of what went through until the returned function is called. */
export function onDelivered(heard: Delivered): () => void {
  deliveries.add(heard);
  return () => deliveries.delete(heard);
}

function soon() {
  pause_ms = 2_000;
  void flush();
}

addEventListener('online', soon);
document.addEventListener('visibilitychange', () => {
  if (document.visibilityState === 'visible') soon();
});
void flush();
