// The one keep of this device, and documents that are shown from it until the server answers.

import { untrack } from 'svelte';

import { ask, askText, Refused, sentenceOf } from '../api/client';
import { openKeep } from '../offline/keep';

export const keep = openKeep();

/** A document of the server: the newest copy known, and whether it is the server's word of now. */
export class Kept<T> {
  value = $state.raw<T | null>(null);
  /** When the server gave it, ms since 1970. */
  at = $state<number | null>(null);
  /** Why it is not fresh, in a sentence; null: it is, or nobody asked yet. */
  problem = $state<string | null>(null);
  /** The server itself said no: there is no point in showing an old copy as if. */
  refused = $state(false);
  asking = $state(false);
  /** The address that `value` came from: with it, its unit. */
  source = $state('');
  private turn = 0;
  private edition = 0;

  /** `where`: the address; `text`: an answer that is not JSON. */
  constructor(
    private where: string,
    private readonly text = false,
  ) {}

  /** Takes another address; the old value stays until the new one is there. A newer `edition` asks
   *  again at the same address. An effect that calls this depends on its arguments alone: what is
   *  answered, or fails, must not ask again. */
  askAt(where: string, edition = 0): Promise<void> {
    return untrack(() => this.moveTo(where, edition));
  }

  private async moveTo(where: string, edition: number): Promise<void> {
    if (where === this.where && edition === this.edition && (this.asking || (this.source === where && this.problem === null))) return;
    this.where = where;
    this.edition = edition;
    await this.ask();
  }

  /** Shows the kept copy at once if there is none yet, then the server's. */
  async ask(): Promise<void> {
    const turn = ++this.turn;
    const where = this.where;
    this.asking = true;
    if (this.value === null) await this.showKept(where, turn);
    try {
      const value = (await (this.text ? askText(where) : ask<T>(where))) as T;
      if (turn === this.turn) await this.take(value, where);
    } catch (failure) {
      if (turn !== this.turn) return;
      this.problem = sentenceOf(failure);
      this.refused = failure instanceof Refused && !failure.passing;
      if (!this.refused) await this.showKept(where, turn);
    } finally {
      if (turn === this.turn) this.asking = false;
    }
  }

  /** A value that came another way (the live stream, the answer to a change). */
  async take(value: T, where = this.where): Promise<void> {
    this.value = value;
    this.source = where;
    this.at = Date.now();
    this.problem = null;
    this.refused = false;
    await (await keep).putDocument(where, { value, at: this.at });
  }

  private async showKept(where: string, turn: number): Promise<void> {
    const kept = await (await keep).document(where);
    if (kept === null || turn !== this.turn) return;
    this.value = kept.value as T;
    this.source = where;
    this.at = kept.at;
  }
}
