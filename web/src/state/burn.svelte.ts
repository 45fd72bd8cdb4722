// The burn that is open: its documents, its live stream, and the taps of this device laid over it.

import { address } from '../api/client';
import type { Burn, CallDocument, Fire, NewTap, Tap } from '../api/contract';
import { listen } from '../api/live';
import { newId } from '../offline/ids';
import type { Outgoing } from '../offline/keep';
import type { Unit } from '../units/degrees';
import { Kept } from './kept.svelte';
import { onDelivered, sending, withdraw, writeDown } from './sending.svelte';
import { settings } from './settings.svelte';

/** A tap as it is shown: with what became of it. */
export interface ShownTap extends Tap {
  /** here: only on this device yet; refused: the server said no, and why. */
  standing: 'kept' | 'here' | 'refused';
  refused: string | null;
}

/** How the live stream does. */
export type Stream = 'closed' | 'opening' | 'live' | 'lost';

export class OpenBurn {
  readonly burn: Kept<Burn>;
  readonly fire: Kept<Fire>;
  readonly call: Kept<CallDocument>;
  stream = $state<Stream>('closed');
  /** When the server was last heard, ms since 1970. */
  heard = $state<number | null>(null);
  /** Counts up when pictures and the lay are to be asked for again. */
  edition = $state(0);
  private stops: (() => void)[] = [];
  private callPause: ReturnType<typeof setTimeout> | undefined;

  constructor(readonly id: string) {
    this.burn = new Kept<Burn>(this.at(''));
    this.fire = new Kept<Fire>(this.at('/fire'));
    this.call = new Kept<CallDocument>(this.at('/call'));
  }

  /** The address of one of the burn's documents, in the unit this device prefers. */
  at(path: string, query: Record<string, string | number | null> = {}): string {
    return address(`burns/${this.id}${path}`, { unit: settings.unit, ...query });
  }

  /** The unit of the fire's numbers as they stand on the screen. */
  get unit(): Unit {
    return unitOf(this.fire.source) ?? this.burn.value?.unit ?? 'F';
  }

  /** Asks for everything and listens until close(). */
  async open(): Promise<void> {
    this.close();
    this.stops.push(onDelivered((entries) => this.afterDelivery(entries)));
    this.stops.push(listen(this.id, settings.unit, {
      fire: (fire) => void this.fire.take(fire, this.at('/fire')),
      latest: (latest) => this.fire.value && void this.fire.take({ ...this.fire.value, latest }, this.at('/fire')),
      changed: (documents) => this.changed(documents),
      heard: () => {
        this.stream = 'live';
        this.heard = Date.now();
      },
      lost: () => (this.stream = 'lost'),
    }));
    this.stream = 'opening';
    await this.askAll();
  }

  close(): void {
    this.stops.forEach((stop) => stop());
    this.stops = [];
    clearTimeout(this.callPause);
    this.stream = 'closed';
  }

  async askAll(): Promise<void> {
    await Promise.all([
      this.burn.askAt(this.at('')).then(() => this.burn.ask()),
      this.fire.askAt(this.at('/fire')),
      this.call.askAt(this.at('/call')),
    ]);
    if (this.burn.problem === null && this.burn.value !== null) this.heard = Date.now();
  }

  private changed(documents: string[]): void {
    const all = documents.length === 0;
    if (all || documents.includes('burn')) void this.burn.ask();
    if (all) void this.fire.ask();
    if (!all && !documents.some((one) => one === 'call' || one === 'lay' || one === 'pictures')) return;
    // The call takes the server seconds of work; a burst of changes is one question.
    clearTimeout(this.callPause);
    this.callPause = setTimeout(() => {
      void this.call.ask();
      this.edition += 1;
    }, 1500);
  }

  private afterDelivery(entries: Outgoing[]): void {
    if (entries.some((one) => one.burn === this.id)) {
      void this.burn.ask();
      void this.fire.ask();
    }
  }

  /** All taps, newest first: the server's, and those that only this device knows. */
  get taps(): ShownTap[] {
    const known = this.burn.value?.taps ?? [];
    const mine = sending.entries.filter((one) => one.burn === this.id);
    const undone = new Set(mine.filter((one) => one.kind === 'undo').map((one) => one.id));
    const kept: ShownTap[] = known.map((tap) => ({
      ...tap, undone: tap.undone || undone.has(tap.id), standing: 'kept', refused: null,
    }));
    const ids = new Set(known.map((tap) => tap.id));
    const here = mine
      .filter((one) => one.kind === 'tap' && !ids.has(one.id))
      .map((one) => shownTap(one, undone.has(one.id)));
    return [...kept, ...here].sort((one, other) => Date.parse(other.at) - Date.parse(one.at));
  }

  /** Writes a tap down on this device; sending goes on by itself. Gives its identifier. */
  async tap(what: NewTap['what'], more: Partial<Omit<NewTap, 'id' | 'what'>> = {}): Promise<string> {
    const tap: NewTap = { id: newId(), what, at: new Date().toISOString(), ...more };
    await writeDown({
      id: tap.id, kind: 'tap', burn: this.id, method: 'POST', path: `burns/${this.id}/taps`, body: tap,
    });
    return tap.id;
  }

  /** Says that the fire is out: the burn is closed for good. */
  async finish(): Promise<void> {
    await writeDown({
      id: this.id, kind: 'change', burn: this.id, method: 'PATCH', path: `burns/${this.id}`, body: { close: true },
    });
  }

  /** Takes a tap back, wherever it has got to. */
  async undo(id: string): Promise<void> {
    if (await withdraw(id)) return;
    await writeDown({
      id, kind: 'undo', burn: this.id, method: 'POST', path: `burns/${this.id}/taps/${id}/undo`, body: undefined,
    });
  }
}

function unitOf(where: string): Unit | null {
  const found = /[?&]unit=([FC])/.exec(where);
  return found ? (found[1] as Unit) : null;
}

function shownTap(entry: Outgoing, undone: boolean): ShownTap {
  const tap = entry.body as NewTap;
  return {
    id: tap.id, what: tap.what, at: tap.at, until: tap.until ?? null, setting: tap.setting ?? null,
    spot: tap.spot ?? null, text: tap.text ?? null, value: tap.value ?? null, by: 'this device', undone,
    standing: entry.refused === null ? 'here' : 'refused', refused: entry.refused,
  };
}
