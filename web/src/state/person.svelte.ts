// Who is asking, as the server knows them, and what they may do.

import { address, ask, Refused, send, sentenceOf } from '../api/client';
import type { Me } from '../api/contract';

type Standing = 'unknown' | 'entered' | 'must enter' | 'not reached';

const key = 'pitwright.me';

function lastKnown(): Me | null {
  try {
    return JSON.parse(localStorage.getItem(key) ?? 'null') as Me | null;
  } catch {
    return null;
  }
}

export const person = $state<{ me: Me | null; standing: Standing; problem: string | null }>({
  me: lastKnown(),
  standing: 'unknown',
  problem: null,
});

function enteredAs(me: Me | null): void {
  person.me = me;
  person.standing = 'entered';
  person.problem = null;
  try {
    localStorage.setItem(key, JSON.stringify(me));
  } catch {
    // Not kept: asked again next time.
  }
}

/** Asks the server who we are. */
export async function meet(): Promise<void> {
  try {
    enteredAs(await ask<Me>(address('me')));
  } catch (failure) {
    notMet(failure);
  }
}

/** Trades a token for the server's cookie. True: entered. */
export async function enter(token: string): Promise<boolean> {
  try {
    enteredAs(await send<Me>('POST', address('enter'), { token: token.trim() }));
    return true;
  } catch (failure) {
    person.problem =
      failure instanceof Refused && failure.unknownPerson
        ? 'The server does not know this token. Look for a missing or doubled sign.'
        : sentenceOf(failure);
    return false;
  }
}

/** Gives the cookie back. */
export async function leave(): Promise<void> {
  await send('POST', address('leave'));
  person.me = null;
  await meet();
}

/** The server answered that it does not know us. */
export function mustEnter(): void {
  person.standing = 'must enter';
}

function notMet(failure: unknown): void {
  if (failure instanceof Refused && failure.unknownPerson) mustEnter();
  else person.standing = 'not reached';
}

const rank = { look: 0, tap: 1, own: 2 } as const;

/** Whether this person may do what needs `role`. Unreached: yes, since taps are kept here first and
 *  the server has the last word when they arrive. */
export function may(role: Me['role']): boolean {
  return person.me === null ? person.standing !== 'must enter' : rank[person.me.role] >= rank[role];
}

/** Why a button is not there, in a sentence. */
export function whyNot(role: Me['role']): string {
  const who = person.me ? `You are here as ${person.me.name}, who may look` : 'You may look';
  return role === 'own' && person.me?.role === 'tap'
    ? `You are here as ${person.me.name}, who may write down taps and readings. This needs an owner's token.`
    : `${who}. Writing down needs another token.`;
}
