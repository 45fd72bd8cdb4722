// The stream of a live burn. EventSource comes back by itself; a stream that says nothing for
// `silence_ms` is opened anew, since a phone that slept keeps dead connections.

import { address } from './client';
import type { Fire, Latest } from './contract';

export interface Listener {
  fire(fire: Fire): void;
  latest(latest: Latest[]): void;
  /** Documents to ask for again; empty: all of them. */
  changed(documents: string[]): void;
  heard(): void;
  lost(): void;
}

const silence_ms = 45_000;
const pause_ms = 3_000;

/** Listens until the returned function is called. */
export function listen(burn: string, unit: string | null, listener: Listener): () => void {
  let source: EventSource | null = null;
  let watchdog: ReturnType<typeof setTimeout> | undefined;
  let reopen: ReturnType<typeof setTimeout> | undefined;
  let over = false;

  function heard() {
    listener.heard();
    clearTimeout(watchdog);
    watchdog = setTimeout(restart, silence_ms);
  }

  function restart() {
    source?.close();
    clearTimeout(reopen);
    if (over) return;
    listener.lost();
    reopen = setTimeout(open, pause_ms);
  }

  function on<T>(name: string, use: (data: T) => void) {
    source?.addEventListener(name, (event) => {
      heard();
      const data = parsed<T>((event as MessageEvent<string>).data);
      if (data !== null) use(data);
    });
  }

  function open() {
    source = new EventSource(address(`burns/${burn}/live`, { unit }));
    source.addEventListener('open', heard);
    source.addEventListener('error', restart);
    on<Fire>('fire', (fire) => listener.fire(fire));
    on<Latest[]>('latest', (latest) => listener.latest(latest));
    on<{ documents: string[] }>('changed', ({ documents }) => listener.changed(documents));
    on('lost', () => listener.changed([]));
  }

  open();
  return () => {
    over = true;
    clearTimeout(watchdog);
    clearTimeout(reopen);
    source?.close();
  };
}

function parsed<T>(text: string): T | null {
  if (text === '') return {} as T;
  try {
    return JSON.parse(text) as T;
  } catch {
    return null;
  }
}
