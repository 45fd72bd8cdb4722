// What was written down on this device and has not reached the server. Every entry is on disk
// before anything is sent, carries its own identifier, and goes in the order it was written; the
// server takes a repeat for what it is, so an answer lost on the way loses nothing.

import { Refused, Unreachable, type Method } from '../api/client';
import type { Keep, NewOutgoing, Outgoing } from './keep';

export type Sender = (method: Method, path: string, body: unknown) => Promise<unknown>;

export interface OutboxListener {
  /** The entries that wait or were refused, oldest first. */
  entries(entries: Outgoing[]): void;
  /** These went through, with the server's answer. */
  delivered(entries: Outgoing[], answer: unknown): void;
  /** The last attempt's end: null when all went through. */
  stopped(why: 'unreachable' | 'unknown person' | 'busy' | null): void;
}

const batch_size = 50;

export class Outbox {
  private rows: Outgoing[] = [];
  private flushing: Promise<void> | null = null;
  private again = false;

  constructor(
    private readonly keep: Keep,
    private readonly sender: Sender,
    private readonly listener: OutboxListener,
    /** False where the device itself knows that there is no network: then nothing is even tried. */
    private readonly connected: () => boolean = () => true,
  ) {}

  /** Reads what an earlier visit left behind. */
  async load(): Promise<void> {
    this.rows = await this.keep.outgoing();
    this.listener.entries([...this.rows]);
  }

  get entries(): readonly Outgoing[] {
    return this.rows;
  }

  /** On disk when this resolves; sending goes on by itself. */
  async add(entry: NewOutgoing): Promise<void> {
    this.rows.push(await this.keep.add(entry));
    this.listener.entries([...this.rows]);
    void this.flush();
  }

  /** Takes back what has surely not been sent. False: it may have been; undo it at the server instead. */
  async withdraw(id: string): Promise<boolean> {
    const row = this.rows.find((one) => one.id === id && one.kind !== 'undo');
    if (!row || (row.tries > 0 && row.refused === null)) return false;
    await this.drop([row]);
    return true;
  }

  /** Puts away what the server refused. */
  async forget(seq: number): Promise<void> {
    await this.drop(this.rows.filter((row) => row.seq === seq && row.refused !== null));
  }

  /** Sends what waits; several calls at once are one. */
  flush(): Promise<void> {
    if (this.flushing) {
      this.again = true;
      return this.flushing;
    }
    this.flushing = this.sendAll().finally(() => {
      this.flushing = null;
    });
    return this.flushing;
  }

  private async sendAll(): Promise<void> {
    if (!this.connected()) return this.listener.stopped('unreachable');
    do {
      this.again = false;
      let alone = 0; // how many of the next entries to send one by one, to find the one that is refused
      for (let batch = this.nextBatch(alone > 0); batch.length > 0; batch = this.nextBatch(alone > 0)) {
        const outcome = await this.sendBatch(batch);
        if (outcome === 'split') alone = batch.length;
        else if (outcome !== 'sent' && outcome !== 'refused') return this.listener.stopped(outcome);
        else alone = Math.max(0, alone - 1);
      }
    } while (this.again);
    this.listener.stopped(null);
  }

  /** The oldest entry that waits, with the taps of the same burn right behind it. */
  private nextBatch(alone: boolean): Outgoing[] {
    const waiting = this.rows.filter((row) => row.refused === null);
    const first = waiting[0];
    if (!first || alone || first.kind !== 'tap') return waiting.slice(0, 1);
    const end = waiting.findIndex((row) => row.kind !== 'tap' || row.path !== first.path);
    return waiting.slice(0, Math.min(end < 0 ? waiting.length : end, batch_size));
  }

  private async sendBatch(
    batch: Outgoing[],
  ): Promise<'sent' | 'refused' | 'split' | 'unreachable' | 'unknown person' | 'busy'> {
    const first = batch[0];
    if (!first) return 'sent';
    for (const row of batch) await this.change(row, { tries: row.tries + 1 });
    const body = first.kind === 'tap' ? batch.map((row) => row.body) : first.body;
    try {
      const answer = await this.sender(first.method, first.path, body);
      await this.drop(batch);
      this.listener.delivered(batch, answer);
      return 'sent';
    } catch (failure) {
      if (failure instanceof Unreachable) return 'unreachable';
      if (!(failure instanceof Refused)) throw failure;
      if (failure.unknownPerson) return 'unknown person';
      if (failure.passing) return 'busy';
      if (batch.length > 1) return 'split';
      await this.change(first, { refused: failure.message });
      return 'refused';
    }
  }

  private async change(row: Outgoing, to: Partial<Outgoing>): Promise<void> {
    Object.assign(row, to);
    await this.keep.update({ ...row });
    this.listener.entries([...this.rows]);
  }

  private async drop(rows: Outgoing[]): Promise<void> {
    for (const row of rows) await this.keep.remove(row.seq);
    this.rows = this.rows.filter((row) => !rows.includes(row));
    this.listener.entries([...this.rows]);
  }
}
